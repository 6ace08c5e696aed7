"""A mass measured with a region's cups and spoons, and how far off that is.

Only sizes that people own are used: quarters and thirds of a cup, halves of a tablespoon, quarters
of a teaspoon and the eighth. The simplest way within 1 % is taken, else the nearest; where that is
more than 10 % off there is none, and it has to be weighed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal
from functools import cache

from recipes.core.numbers import HUNDRED, ONE, not_negative, positive
from recipes.core.regions import HomeRegion, regional
from recipes.core.units import Measures, convert, parse_unit

# Everything is counted in 24ths of the region's teaspoon.
TEASPOON = 24

SIMPLE_WITHIN_PERCENT = ONE
SHOWN_OVER_PERCENT = Decimal(5)
MOST_PERCENT = Decimal(10)


@dataclass(frozen=True, slots=True)
class Scoop:
    """A number of 24ths of a teaspoon, measured with the `unit` of `size`: a cup, tbsp or tsp."""

    parts: int
    size: int
    unit: str


@dataclass(frozen=True, slots=True)
class SpoonSet:
    """A region's teaspoon in milliliters, and its tablespoon and cup in 24ths of that."""

    teaspoon_ml: Decimal
    tablespoon: int
    cup: int

    def cups(self, parts: int) -> Scoop:
        return Scoop(parts, self.cup, "cup")

    def tablespoons(self, parts: int) -> Scoop:
        return Scoop(parts, self.tablespoon, "tbsp")

    def teaspoons(self, parts: int) -> Scoop:
        return Scoop(parts, TEASPOON, "tsp")

    @property
    def quarters_and_thirds(self) -> tuple[int, ...]:
        quarter, third = self.cup // 4, self.cup // 3
        return 0, quarter, third, 2 * quarter, 2 * third, 3 * quarter


@cache
def spoon_set(region: HomeRegion | None) -> SpoonSet:
    """The cups and spoons of a region, the same that its recipes are read with."""
    cup, tablespoon, teaspoon = (
        convert(ONE, regional(parse_unit(name), region), Measures.VOLUME)
        for name in ("cup", "tbsp", "tsp")
    )
    return SpoonSet(
        teaspoon, round(tablespoon / teaspoon * TEASPOON), round(cup / teaspoon * TEASPOON)
    )


@dataclass(frozen=True, slots=True)
class Scoops:
    """What to measure; `error_percent` is how much more (below zero: less) that is."""

    scoops: tuple[Scoop, ...]
    error_percent: Decimal

    @property
    def is_far_off(self) -> bool:
        """Whether the error is large enough to show: over 5 %."""
        return abs(self.error_percent) > SHOWN_OVER_PERCENT


def scoops_of(
    mass_g: Decimal, density_g_per_ml: Decimal, region: HomeRegion | None = HomeRegion.US
) -> Scoops | None:
    """A mass in grams in a region's cups and spoons; None if those would be over 10 % off.

    Raises NotDecimal, and OutOfRange for a density that is not positive.
    """
    spoons = spoon_set(region)
    volume_ml = not_negative("mass_g", mass_g) / positive("density_g_per_ml", density_g_per_ml)
    wanted = volume_ml / spoons.teaspoon_ml * TEASPOON
    ways = _ways(wanted, spoons) if wanted else ()
    near = (Scoops(way, _error(way, wanted)) for way in ways)
    found = [scoops for scoops in near if abs(scoops.error_percent) <= MOST_PERCENT]
    if not found:
        return None
    simple = (spoon for spoon in found if abs(spoon.error_percent) <= SIMPLE_WITHIN_PERCENT)
    return next(simple, None) or min(found, key=lambda spoon: abs(spoon.error_percent))


def teaspoon_density(teaspoon_g: Decimal) -> Decimal:
    """The density, in grams per milliliter, of what weighs this many grams per US teaspoon."""
    return positive("teaspoon_g", teaspoon_g) / convert(ONE, parse_unit("tsp"), Measures.VOLUME)


def quarter_teaspoons(teaspoons: Decimal) -> Scoop:
    """Teaspoons to the nearest quarter, at least one quarter."""
    quarters = (teaspoons * 4).quantize(ONE, ROUND_HALF_UP)
    return Scoop(max(1, int(quarters)) * TEASPOON // 4, TEASPOON, "tsp")


def _error(scoops: tuple[Scoop, ...], wanted: Decimal) -> Decimal:
    return (Decimal(sum(scoop.parts for scoop in scoops)) / wanted - ONE) * HUNDRED


def _ways(wanted: Decimal, spoons: SpoonSet) -> Iterator[tuple[Scoop, ...]]:
    """Ways to measure it, the simplest first."""
    if wanted >= spoons.cup // 4:
        yield from _with_cups(wanted, spoons)
    elif wanted >= spoons.tablespoon:
        yield from _with_tablespoons(wanted, spoons)
    else:
        yield from _with_teaspoons(wanted, spoons)


def _with_cups(wanted: Decimal, spoons: SpoonSet) -> Iterator[tuple[Scoop, ...]]:
    whole = _floor(wanted, spoons.cup) * spoons.cup
    for least in (whole, whole + spoons.cup):
        yield from (
            (spoons.cups(least + step),) for step in spoons.quarters_and_thirds if least + step
        )
    base = max(whole + step for step in spoons.quarters_and_thirds if whole + step <= wanted)
    half = spoons.tablespoon // 2
    for halves in range(1, spoons.cup // 4 // half):
        yield (spoons.cups(base), spoons.tablespoons(halves * half))


def _with_tablespoons(wanted: Decimal, spoons: SpoonSet) -> Iterator[tuple[Scoop, ...]]:
    half, quarter = spoons.tablespoon // 2, TEASPOON // 4
    halves = _floor(wanted, half)
    yield from ((spoons.tablespoons(n * half),) for n in (halves, halves + 1))
    whole = _floor(wanted, spoons.tablespoon) * spoons.tablespoon
    for quarters in range(1, spoons.tablespoon // quarter):
        yield (spoons.tablespoons(whole), spoons.teaspoons(quarters * quarter))


def _with_teaspoons(wanted: Decimal, spoons: SpoonSet) -> Iterator[tuple[Scoop, ...]]:
    quarter = TEASPOON // 4
    quarters = _floor(wanted, quarter)
    sizes = (TEASPOON // 8, quarters * quarter, (quarters + 1) * quarter)
    yield from ((spoons.teaspoons(size),) for size in sizes if size)


def _floor(wanted: Decimal, step: int) -> int:
    return int((wanted / step).to_integral_value(ROUND_FLOOR))
