"""A recipe's rises converted to another kitchen, as times and as curves.

A recipe says how long its dough rests at a steady temperature. In a kitchen the dough starts at its
own temperature and drifts to that of the place; the same share of fermentation is the same rise.
Times are minutes, temperatures °C; all models are estimates and state their range.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from recipes.core.errors import NoGrowth
from recipes.core.heat.altitude import CORE_MARGIN_C, boiling_point_c
from recipes.core.numbers import ONE, ZERO, positive
from recipes.core.rise.chart import Curve
from recipes.core.rise.drift import (
    Dough,
    DoughAt,
    Leg,
    bench,
    course,
    in_a_place,
    minutes_until,
    temperature_after,
)
from recipes.core.rise.fermentation import Fermentation, OutsideRange, Rule

POINTS = 48
FINEST_STEP_MIN = Decimal(5)


@dataclass(frozen=True, slots=True)
class Written:
    """A rise as the recipe has it: so many minutes at a steady temperature.

    `of` says in words what has it. If that is the room, the recipe's dough drifts toward it from
    `room_from_c`.
    """

    name: str
    minutes: Decimal
    temperature_c: Decimal
    of: str = ""
    room_from_c: Decimal | None = None

    def __post_init__(self) -> None:
        positive("minutes", self.minutes)

    def by(self, rule: Rule) -> Fermentation:
        """This rise as a fermentation, by a rule. Raises NoGrowth."""
        if self.room_from_c is None:
            return Fermentation(self.minutes, self.temperature_c, rule)
        room = bench(self.temperature_c)
        return in_a_place(self.minutes, Dough(self.room_from_c), room, rule)

    @property
    def ends_c(self) -> Decimal:
        """The temperature of the recipe's dough at the end."""
        if self.room_from_c is None:
            return self.temperature_c
        room = bench(self.temperature_c)
        return temperature_after(Dough(self.room_from_c), room, self.minutes)


@dataclass(frozen=True, slots=True)
class Rise:
    """The same rise in a place; `minutes` is None if it never finishes.

    The warning covers the recipe's temperature and all of the dough's until the end.
    """

    written: Written
    minutes: Decimal | None
    starts_c: Decimal
    ends_c: Decimal
    warning: OutsideRange | None


@dataclass(frozen=True, slots=True)
class Rises:
    """A recipe's rises in a place by a rule, one after the other."""

    place: DoughAt
    rule: Rule
    rises: tuple[Rise, ...]

    @property
    def warning(self) -> OutsideRange | None:
        """One warning that covers all rises."""
        found = [rise.warning for rise in self.rises if rise.warning]
        if not found:
            return None
        coldest_c = min(rise.coldest_c for rise in found)
        return self.rule.warning(coldest_c, max(rise.warmest_c for rise in found))


def rise_in(written: Written, rule: Rule, dough_c: Decimal, place: DoughAt) -> Rise:
    """How long a dough at a temperature takes in a place.

    Raises NoGrowth if, by the rule, nothing grows at the recipe's own temperature.
    """
    fermentation, dough = written.by(rule), Dough(dough_c)
    try:
        minutes = minutes_until(fermentation, dough, place).minutes
    except NoGrowth:
        warning = rule.warning(written.temperature_c, dough_c, place.temperature_c)
        return Rise(written, None, dough_c, place.temperature_c, warning)
    ends_c = temperature_after(dough, place, minutes)
    warning = rule.warning(written.temperature_c, dough_c, ends_c)
    return Rise(written, minutes, dough_c, ends_c, warning)


def rises_in(
    writtens: Sequence[Written],
    rule: Rule,
    dough_c: Decimal,
    place: DoughAt,
    *,
    bench: DoughAt,
    between_min: Decimal = ZERO,
) -> Rises:
    """All rises in a place; between two of them the dough is on the bench for a while.

    Fermentation on the bench is left out, as the recipe leaves it out. Raises NoGrowth.
    """
    found: list[Rise] = []
    for written in writtens:
        rise = rise_in(written, rule, dough_c, place)
        found.append(rise)
        dough_c = temperature_after(Dough(rise.ends_c), bench, between_min)
    return Rises(place, rule, tuple(found))


def written_curve(written: Written, label: str) -> Curve:
    """The rise at the recipe's steady temperature: a straight line to the whole."""
    return Curve(label, ((ZERO, ZERO), (written.minutes, ONE)))


def curve_in(rise: Rise, rule: Rule, place: DoughAt, label: str) -> Curve | None:
    """The share done against minutes in a place; None if the rise never finishes."""
    if rise.minutes is None:
        return None
    step_min = max(FINEST_STEP_MIN, rise.minutes / POINTS)
    legs = [Leg(place, rise.minutes)]
    followed = course(rise.written.by(rule), Dough(rise.starts_c), legs, step_min=step_min)
    points = [(point.minute, point.share) for point in followed.points]
    return Curve(label, (*points[:-1], (points[-1][0], ONE)))


@dataclass(frozen=True, slots=True)
class CoreAt:
    """A core temperature at an altitude: `aim_c` is what can be reached below boiling."""

    wanted_c: Decimal
    boiling_c: Decimal
    aim_c: Decimal

    @property
    def capped(self) -> bool:
        """Whether water boils at too low a temperature for it."""
        return self.aim_c < self.wanted_c


def core_at(wanted_c: Decimal, altitude_m: Decimal, *, margin_c: Decimal = CORE_MARGIN_C) -> CoreAt:
    """A recipe's own core temperature at an altitude in meters. Raises OutOfRange."""
    boiling_c = boiling_point_c(altitude_m)
    return CoreAt(wanted_c, boiling_c, min(wanted_c, boiling_c - margin_c))
