"""How long dough waits in a class: at the earliest, as aimed for, and at the latest, in minutes.

A rise is aimed at the share of fermentation that the recipe has in its own time and place. It may
end from 90 % of it on; a first rise is kept up to 130 %, a proof up to 125 %: common practice as
we know it, from memory, with the dough having the last word. In a cabinet that is set to the
recipe's temperature the times are the recipe's own; elsewhere the dough drifts toward the place.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from functools import lru_cache

from classes.planning.hours.class_values import RisesIn, Room, StepKind, TimedStep
from recipes.baking.drift import (
    Dough,
    Place,
    bench,
    minutes_until,
    temperature_after,
    warm_cabinet,
)
from recipes.baking.fermentation import Fermentation, time_at
from recipes.baking.numbers import ONE

EARLIEST_SHARE = Decimal("0.9")
LATEST_BULK_SHARE = Decimal("1.3")
LATEST_PROOF_SHARE = Decimal("1.25")
COLD_UP_TO_C = Decimal(8)
LATEST_COLD_SHARE = Decimal("1.5")
REST_GRACE_MIN = 10
KNOWN_RISES = 512


@dataclass(frozen=True, slots=True)
class Window:
    """Minutes of waiting: from `earliest` to `latest`, best at `target`."""

    earliest: int
    target: int
    latest: int


@dataclass(frozen=True, slots=True)
class Rise:
    """A window, where the dough stands (`bench`, `cabinet`, `refrigerator`), and at what °C."""

    window: Window
    place: str
    temperature_c: Decimal
    dough_c: Decimal


def window_of(earliest: Decimal, target: Decimal, latest: Decimal) -> Window:
    """Whole minutes that lie within the exact ones."""
    aim = int(target.to_integral_value(ROUND_HALF_UP))
    first = int(earliest.to_integral_value(ROUND_CEILING))
    last = int(latest.to_integral_value(ROUND_FLOOR))
    return Window(min(first, aim), aim, max(last, aim))


def rest_window(minutes: int) -> Window:
    """A rest that is no fermentation to speak of: as written, and up to half as long again."""
    return Window(minutes, minutes, minutes + max(REST_GRACE_MIN, minutes // 2))


@lru_cache(maxsize=KNOWN_RISES)
def rise_of(step: TimedStep, room: Room, dough_c: Decimal) -> Rise:
    """The window of a first rise or a proof for dough of a temperature.

    Raises NoGrowth where the dough does not rise.
    """
    minutes = Decimal(step.hands_on_min + step.waiting_min)
    written_c = step.temperature_c if step.temperature_c is not None else dough_c
    if not minutes:
        return Rise(rest_window(0), room.rises_in.value, written_c, dough_c)
    latest = LATEST_PROOF_SHARE if step.kind is StepKind.PROOF else LATEST_BULK_SHARE
    if written_c <= COLD_UP_TO_C:
        cold = window_of(minutes, minutes, minutes * LATEST_COLD_SHARE)
        return Rise(cold, "refrigerator", written_c, written_c)
    if room.rises_in is RisesIn.CABINET and room.cabinet_c is None:
        steady = window_of(minutes * EARLIEST_SHARE, minutes, minutes * latest)
        return Rise(steady, "cabinet", written_c, written_c)
    place = _place(room)
    fermentation = Fermentation(minutes, written_c, room.rule)
    dough = Dough(dough_c)
    shares = (EARLIEST_SHARE, ONE, latest)
    until = [minutes_until(fermentation, dough, place, share).minutes for share in shares]
    ends_c = temperature_after(dough, place, until[1])
    return Rise(window_of(*until), room.rises_in.value, place.temperature_c, ends_c)


def _place(room: Room) -> Place:
    if room.rises_in is RisesIn.CABINET and room.cabinet_c is not None:
        return warm_cabinet(room.cabinet_c)
    return bench(room.room_c)


def on_the_bench(dough_c: Decimal, room: Room, minutes: int) -> Decimal:
    """The temperature of dough after it lay on the bench for a while, in °C."""
    return temperature_after(Dough(dough_c), bench(room.room_c), Decimal(minutes))


def ripens(step: TimedStep, room: Room) -> bool:
    """Whether it ferments in the room: it waits, neither in the cold nor at a cooking heat."""
    degrees = step.temperature_c
    if degrees is None or not step.waiting_min or degrees <= COLD_UP_TO_C:
        return False
    return bool(room.rule.rate(degrees))


def overnight_min(step: TimedStep, room: Room) -> int:
    """How long what is prepared takes where it stands overnight.

    720 min at 20 °C are 967 at 16 °C by the doubling rule. What does not ferment takes as long as
    written. Raises NoGrowth.
    """
    if not ripens(step, room) or step.temperature_c is None:
        return step.waiting_min
    fermentation = Fermentation(Decimal(step.waiting_min), step.temperature_c, room.rule)
    return int(time_at(fermentation, room.night_c).minutes.to_integral_value(ROUND_HALF_UP))
