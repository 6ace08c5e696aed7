"""How long dough waits in a class: at the earliest, as aimed for, and at the latest, in minutes.

A rise aims at the share of fermentation that the recipe has in its own time and place. It may end
from 90 % of that on; a first rise goes up to 130 %, a proof up to 125 %: common practice, from
memory, and the dough has the last word. In a cabinet that is set to the recipe's temperature the
times are the recipe's own; elsewhere the dough drifts toward the place.

A step's temperature is the dough's, or that of the room or cabinet, toward which the recipe's own
dough drifts as well; that fermentation is converted. If the recipe does not say, it is taken as the
dough's, and `is_told_apart` says whether that matters.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from functools import lru_cache

from classes.core.hours.problem.values import RisesIn, Room
from recipes.core.choices import StepKind, TemperatureOf
from recipes.core.numbers import ONE
from recipes.core.rise.drift import (
    Dough,
    DoughAt,
    bench,
    in_a_place,
    minutes_until,
    temperature_after,
    warm_cabinet,
)
from recipes.core.rise.fermentation import Fermentation, time_at
from recipes.core.written import WrittenStep

EARLIEST_SHARE = Decimal("0.9")
LATEST_BULK_SHARE = Decimal("1.3")
LATEST_PROOF_SHARE = Decimal("1.25")
COLD_UP_TO_C = Decimal(8)
# A refrigerator's assumed temperature if a recipe does not say; the class is then told so.
COLD_C = Decimal(4)
# Outside these no dough rises, whatever a rule says: from memory, with a margin.
COLDEST_RISE_C, WARMEST_RISE_C = Decimal(-2), Decimal(45)
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
class RiseWindow:
    """A window, where the dough stands (`bench`, `cabinet`, `refrigerator`), and at what °C.

    At the end the dough is at `dough_c`; by the recipe it would be at `own_c`.
    """

    window: Window
    place: str
    temperature_c: Decimal
    dough_c: Decimal
    own_c: Decimal


def window_of(earliest: Decimal, target: Decimal, latest: Decimal) -> Window:
    """A window in whole minutes within the exact one."""
    aim = int(target.to_integral_value(ROUND_HALF_UP))
    first = int(earliest.to_integral_value(ROUND_CEILING))
    last = int(latest.to_integral_value(ROUND_FLOOR))
    return Window(min(first, aim), aim, max(last, aim))


def rest_window(minutes: int) -> Window:
    """A rest with negligible fermentation: as written, and up to half as long again."""
    return Window(minutes, minutes, minutes + max(REST_GRACE_MIN, minutes // 2))


@lru_cache(maxsize=KNOWN_RISES)
def rise_of(
    step: WrittenStep, room: Room, dough_c: Decimal, own_c: Decimal | None = None
) -> RiseWindow | None:
    """The window of a first rise or a proof for dough at a temperature.

    `own_c` is the dough's temperature by the recipe, if that is different. None if no dough rises
    at such a temperature. Raises NoGrowth if it does not rise.
    """
    own_c = dough_c if own_c is None else own_c
    written_c = written_temperature(step, own_c)
    if not all(
        can_rise(celsius) for celsius in (written_c, dough_c, own_c, _place(room).temperature_c)
    ):
        return None
    minutes = Decimal(step.minutes)
    if not minutes:
        return RiseWindow(rest_window(0), room.rises_in.value, written_c, dough_c, own_c)
    latest = LATEST_PROOF_SHARE if step.kind is StepKind.PROOF else LATEST_BULK_SHARE
    if is_cold(step, written_c):
        cold = window_of(minutes, minutes, minutes * LATEST_COLD_SHARE)
        return RiseWindow(cold, "refrigerator", written_c, written_c, written_c)
    place = _place(room)
    ends_own_c = _own_end_c(step, written_c, own_c, room)
    if room.rises_in is RisesIn.CABINET and room.cabinet_c is None:
        steady = window_of(minutes * EARLIEST_SHARE, minutes, minutes * latest)
        return RiseWindow(steady, "cabinet", written_c, written_c, ends_own_c)
    fermentation, dough = _written(step, written_c, own_c, room), Dough(dough_c)
    shares = (EARLIEST_SHARE, ONE, latest)
    until = [minutes_until(fermentation, dough, place, share).minutes for share in shares]
    ends_c = temperature_after(dough, place, until[1])
    window = window_of(*until)
    return RiseWindow(window, room.rises_in.value, place.temperature_c, ends_c, ends_own_c)


def can_rise(celsius: Decimal) -> bool:
    """Whether any dough rises at such a temperature, however slowly."""
    return COLDEST_RISE_C <= celsius <= WARMEST_RISE_C


def written_temperature(step: WrittenStep, own_c: Decimal) -> Decimal:
    """The temperature at which a step's dough rises; the dough's own if the step names none."""
    if step.temperature_c is not None:
        return step.temperature_c
    return COLD_C if step.temperature_of is TemperatureOf.REFRIGERATOR else own_c


def is_cold(step: WrittenStep, written_c: Decimal) -> bool:
    """Whether it rises in the refrigerator: the step says so, or is that cold."""
    return step.temperature_of is TemperatureOf.REFRIGERATOR or written_c <= COLD_UP_TO_C


def is_told_apart(step: WrittenStep, room: Room, dough_c: Decimal, own_c: Decimal) -> bool:
    """Whether it matters that a step's temperature may be the dough's or the room's."""
    if step.temperature_of is not None or step.temperature_c is None:
        return False
    found = [
        rise_of(replace(step, temperature_of=of), room, dough_c, own_c)
        for of in (TemperatureOf.DOUGH, TemperatureOf.ROOM)
    ]
    return len({rise.window for rise in found if rise}) > 1


def _as_written(written_c: Decimal, room: Room) -> DoughAt:
    """The recipe's room or cabinet: it warms dough as fast as the class's place."""
    return DoughAt("as written", written_c, _place(room).tau_min)


def _written(step: WrittenStep, written_c: Decimal, own_c: Decimal, room: Room) -> Fermentation:
    """The rise that the recipe asks for."""
    minutes = Decimal(step.minutes)
    if step.temperature_of is not TemperatureOf.ROOM:
        return Fermentation(minutes, written_c, room.rule)
    return in_a_place(minutes, Dough(own_c), _as_written(written_c, room), room.rule)


def _own_end_c(step: WrittenStep, written_c: Decimal, own_c: Decimal, room: Room) -> Decimal:
    """The temperature of the dough at the end, by the recipe."""
    if step.temperature_of is not TemperatureOf.ROOM:
        return written_c
    return temperature_after(Dough(own_c), _as_written(written_c, room), Decimal(step.minutes))


def _place(room: Room) -> DoughAt:
    if room.rises_in is RisesIn.CABINET and room.cabinet_c is not None:
        return warm_cabinet(room.cabinet_c)
    return bench(room.room_c)


def on_the_bench(dough_c: Decimal, room: Room, minutes: int) -> Decimal:
    """The temperature of dough after a while on the bench, in °C."""
    return temperature_after(Dough(dough_c), bench(room.room_c), Decimal(minutes))


def ripens(step: WrittenStep, room: Room) -> bool:
    """Whether it ferments in the room: it waits, neither in the cold nor at cooking heat."""
    degrees = step.temperature_c
    if degrees is None or not step.waiting_min or degrees <= COLD_UP_TO_C:
        return False
    return bool(room.rule.rate(degrees))


def overnight_min(step: WrittenStep, room: Room) -> int:
    """How long a preferment takes where it stands overnight.

    720 min at 20 °C are 967 at 16 °C by the doubling rule. What does not ferment takes as long as
    written. Raises NoGrowth.
    """
    if not ripens(step, room) or step.temperature_c is None:
        return step.waiting_min
    fermentation = Fermentation(Decimal(step.waiting_min), step.temperature_c, room.rule)
    return int(time_at(fermentation, room.night_c).minutes.to_integral_value(ROUND_HALF_UP))
