"""Dough that drifts toward the temperature around it, and how far it ferments meanwhile.

The temperature follows T(t) = Ta + (T0 - Ta) exp(-t / tau). The time constants are assumed, to be
set by the kitchen. Progress is the integral of the speed along that curve, by Simpson's rule in
panels of a twelfth of tau, over the time in which the rule allows growth; from 20 tau on the dough
counts as having arrived. The share is exact to 0.00001 for drifts of up to 20 degrees. Times are
minutes, temperatures Celsius.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal
from itertools import pairwise
from typing import NamedTuple

from recipes.core.errors import NoGrowth, OutOfRange
from recipes.core.numbers import ONE, ZERO, exact, not_negative, positive
from recipes.core.rise.fermentation import Fermentation, OutsideRange, RiseEstimate, Rule, between

BENCH_TAU_MIN = Decimal(180)
CABINET_TAU_MIN = Decimal(60)

COLDEST_C = Decimal(-30)
WARMEST_C = Decimal(80)
MOST_MIN = Decimal(30 * 24 * 60)

_PANELS_IN_TAU = 12
_ARRIVED_AFTER_TAU = 20
_NEAR_ENOUGH_MIN = Decimal("0.0001")

# At its very limits a rule gives zero; the ends of a period of growth are read just inside.
_JUST_INSIDE_C = Decimal("1e-12")


@dataclass(frozen=True, slots=True)
class DoughAt:
    """Where dough stands: its temperature, and the minutes in which a gap closes by 63 %."""

    name: str
    temperature_c: Decimal
    tau_min: Decimal

    def __post_init__(self) -> None:
        between("temperature_c", self.temperature_c, COLDEST_C, WARMEST_C)
        between("tau_min", self.tau_min, Decimal("0.1"), MOST_MIN)


def bench(temperature_c: Decimal, tau_min: Decimal = BENCH_TAU_MIN) -> DoughAt:
    """The bench of a room."""
    return DoughAt("bench", temperature_c, tau_min)


def warm_cabinet(temperature_c: Decimal, tau_min: Decimal = CABINET_TAU_MIN) -> DoughAt:
    """A proof cabinet, in which moist air warms the dough faster."""
    return DoughAt("warm cabinet", temperature_c, tau_min)


@dataclass(frozen=True, slots=True)
class Dough:
    """Dough at a temperature, with the share of its fermentation that is done (0.5 is half)."""

    temperature_c: Decimal
    done: Decimal = ZERO

    def __post_init__(self) -> None:
        between("temperature_c", self.temperature_c, COLDEST_C, WARMEST_C)
        not_negative("done", self.done)


def temperature_after(dough: Dough, place: DoughAt, minutes: Decimal) -> Decimal:
    """The dough's temperature after some time in a place."""
    gap = dough.temperature_c - place.temperature_c
    return place.temperature_c + gap * (-not_negative("minutes", minutes) / place.tau_min).exp()


def minutes_to_reach(dough: Dough, place: DoughAt, temperature_c: Decimal) -> Decimal | None:
    """When the dough reaches a temperature; None if it never does."""
    gap = dough.temperature_c - place.temperature_c
    left = exact("temperature_c", temperature_c) - place.temperature_c
    if temperature_c == dough.temperature_c:
        return ZERO
    if gap == ZERO or not ZERO < left / gap < ONE:
        return None
    return place.tau_min * (gap / left).ln()


def progress(fermentation: Fermentation, dough: Dough, place: DoughAt, minutes: Decimal) -> Decimal:
    """The share of the fermentation that is done while the dough is there."""
    start, end = _growing(fermentation, dough, place, not_negative("minutes", minutes))
    arrived = max(start, min(end, _ARRIVED_AFTER_TAU * place.tau_min))
    steady = (end - arrived) * fermentation.speed(place.temperature_c)
    return steady + _drifting(fermentation, dough, place, start, arrived)


def _drifting(
    fermentation: Fermentation, dough: Dough, place: DoughAt, start: Decimal, end: Decimal
) -> Decimal:
    """Simpson's rule over a period in which the dough grows."""
    panels = int((_PANELS_IN_TAU * (end - start) / place.tau_min).to_integral_value(ROUND_CEILING))
    if panels == 0:
        return ZERO
    half = (end - start) / panels / 2
    least = fermentation.rule.grows_from_c + _JUST_INSIDE_C
    most = fermentation.rule.grows_to_c - _JUST_INSIDE_C
    speeds = [
        fermentation.speed(min(max(temperature_after(dough, place, start + n * half), least), most))
        for n in range(2 * panels + 1)
    ]
    odd, even = sum(speeds[1::2], ZERO), sum(speeds[2:-1:2], ZERO)
    return (speeds[0] + 4 * odd + 2 * even + speeds[-1]) * half / 3


def _growing(
    fermentation: Fermentation, dough: Dough, place: DoughAt, minutes: Decimal
) -> tuple[Decimal, Decimal]:
    """From when to when, within `minutes`, the dough is at a temperature that lets it grow.

    The drift goes one way, so that is a single period; an empty one starts and ends at zero.
    """
    rule = fermentation.rule
    least, most = rule.grows_from_c, rule.grows_to_c
    crossings = [minutes_to_reach(dough, place, limit) for limit in (least, most)]
    marks = sorted({ZERO, minutes, *(at for at in crossings if at is not None and at < minutes)})
    for start, end in pairwise(marks):
        if rule.rate(temperature_after(dough, place, (start + end) / 2)) > ZERO:
            return start, end
    return ZERO, ZERO


def after(fermentation: Fermentation, dough: Dough, place: DoughAt, minutes: Decimal) -> Dough:
    """The dough as it is after some time in a place."""
    return Dough(
        temperature_after(dough, place, minutes),
        dough.done + progress(fermentation, dough, place, minutes),
    )


def minutes_until(
    fermentation: Fermentation, dough: Dough, place: DoughAt, share: Decimal = ONE
) -> RiseEstimate:
    """How long until `share` of the fermentation is done, to a ten-thousandth of a minute.

    Raises NoGrowth when it is not done after thirty days.
    """
    need = positive("share", share) - dough.done
    if need <= ZERO:
        return RiseEstimate(ZERO)
    minutes = _solve(fermentation, dough, place, need)
    last_c = temperature_after(dough, place, minutes)
    return RiseEstimate(minutes, fermentation.rule.warning(dough.temperature_c, last_c))


def _solve(fermentation: Fermentation, dough: Dough, place: DoughAt, need: Decimal) -> Decimal:
    """Newton's method on the progress, kept within bounds that are narrowed by bisection."""
    speeds = [fermentation.speed(at) for at in (dough.temperature_c, place.temperature_c)]
    low, high = ZERO, MOST_MIN
    if min(speeds) * MOST_MIN > need:
        high = need / min(speeds)
    elif progress(fermentation, dough, place, MOST_MIN) < need:
        raise NoGrowth(fermentation.rule.name, place.temperature_c)
    guess = high / 2
    while high - low > _NEAR_ENOUGH_MIN:
        gap = progress(fermentation, dough, place, guess) - need
        low, high = (low, guess) if gap > ZERO else (guess, high)
        speed = fermentation.speed(temperature_after(dough, place, guess))
        better = guess - gap / speed if speed else low
        if abs(better - guess) < _NEAR_ENOUGH_MIN:
            return better
        guess = better if low <= better <= high else (low + high) / 2
    return guess


def in_a_place(minutes: Decimal, dough: Dough, place: DoughAt, rule: Rule) -> Fermentation:
    """The fermentation of some minutes in a place, as minutes at that place's temperature.

    This is for a recipe that names the room's temperature and not the dough's. Raises NoGrowth.
    """
    steady = Fermentation(minutes, place.temperature_c, rule)
    share = progress(steady, Dough(dough.temperature_c), place, minutes)
    return replace(steady, minutes=share * minutes)


class RisePoint(NamedTuple):
    """A moment: the share of the fermentation that is done, not the height in the bowl."""

    minute: Decimal
    share: Decimal
    temperature_c: Decimal


@dataclass(frozen=True, slots=True)
class Leg:
    """A stay in a place for so many minutes, or until the fermentation is done."""

    place: DoughAt
    minutes: Decimal | None = None


@dataclass(frozen=True, slots=True)
class RiseCourse:
    """A dough's course over all its legs, for a chart, and the minutes they take."""

    points: tuple[RisePoint, ...]
    minutes: Decimal
    dough: Dough
    warning: OutsideRange | None


def course(
    fermentation: Fermentation,
    dough: Dough,
    legs: Sequence[Leg],
    *,
    step_min: Decimal = Decimal(5),
    share: Decimal = ONE,
) -> RiseCourse:
    """Follow a dough from place to place; a leg without minutes lasts until `share` is done.

    There is a point every `step_min` minutes of a leg and at its end. Raises NoGrowth like
    `minutes_until`, OutOfRange for more than 2000 points.
    """
    points = [RisePoint(ZERO, dough.done, dough.temperature_c)]
    for leg in legs:
        minutes = leg.minutes
        if minutes is None:
            minutes = minutes_until(fermentation, dough, leg.place, share).minutes
        for stay in _stays(not_negative("minutes", minutes), positive("step_min", step_min)):
            dough = after(fermentation, dough, leg.place, stay)
            points.append(RisePoint(points[-1].minute + stay, dough.done, dough.temperature_c))
    temperatures = [point.temperature_c for point in points]
    return RiseCourse(
        tuple(points), points[-1].minute, dough, fermentation.rule.warning(*temperatures)
    )


def _stays(minutes: Decimal, step_min: Decimal) -> list[Decimal]:
    """`minutes` in whole steps, with the remainder as the last one."""
    if minutes > 2000 * step_min:
        raise OutOfRange("step_min", step_min, least=minutes / 2000)
    steps, rest = divmod(minutes, step_min)
    return [step_min] * int(steps) + ([rest] if rest else [])
