"""A mass by US cups and spoons that exist, and how far off that is.

A cup is measured in quarters, thirds and eighths (an eighth is 2 tablespoons), a tablespoon in
halves, a teaspoon in quarters, and in eighths below one. The simplest that is right within 1 %
is taken, else the nearest; what is smaller than an eighth of a teaspoon has no spoon.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

from recipes.core.numbers import HUNDRED, ONE, not_negative, positive
from recipes.core.units import Measures, convert, parse_unit

# In eighths of a teaspoon: 3 teaspoons are a tablespoon, 16 tablespoons a US cup.
TEASPOON, TABLESPOON, CUP = 8, 24, 384
NAMES = {CUP: "cup", TABLESPOON: "tbsp", TEASPOON: "tsp"}
QUARTERS_AND_THIRDS = (0, 96, 128, 192, 256, 288)
CUP_STEPS = tuple(sorted({*QUARTERS_AND_THIRDS, 48, 144, 240, 336}))

# Common practice, from memory: wheat flour spooned loosely into the cup and leveled. A cup dipped
# into the bag holds more: that is what the densities of the ingredients were measured with.
SPOONED_FLOUR_CUP_G = Decimal(120)
SPOONED_FLOURS = frozenset({"bread-flour", "all-purpose-flour"})

SIMPLE_WITHIN_PERCENT = ONE
SHOWN_OVER_PERCENT = Decimal(5)


@dataclass(frozen=True, slots=True)
class Scoop:
    """So many eighths of a teaspoon, taken with the cup, tablespoon or teaspoon of `size`."""

    eighths: int
    size: int

    @property
    def unit(self) -> str:
        """`cup`, `tbsp` or `tsp`."""
        return NAMES[self.size]


@dataclass(frozen=True, slots=True)
class Scoops:
    """What to measure; `error_percent` is how much more (or, below zero, less) that is."""

    scoops: tuple[Scoop, ...]
    error_percent: Decimal

    @property
    def is_far_off(self) -> bool:
        """Whether the error is one to show: over 5 %."""
        return abs(self.error_percent) > SHOWN_OVER_PERCENT


def scoops_of(mass_g: Decimal, density_g_per_ml: Decimal) -> Scoops | None:
    """A mass in grams by cups and spoons; None where no spoon is small enough.

    Raises NotDecimal, and OutOfRange for a density that is not positive.
    """
    teaspoon_ml = convert(ONE, parse_unit("tsp"), Measures.VOLUME)
    volume_ml = not_negative("mass_g", mass_g) / positive("density_g_per_ml", density_g_per_ml)
    wanted = volume_ml / teaspoon_ml * TEASPOON
    found = [Scoops(way, _error(way, wanted)) for way in _ways(wanted)] if wanted else []
    if not found:
        return None
    simple = (one for one in found if abs(one.error_percent) <= SIMPLE_WITHIN_PERCENT)
    return next(simple, None) or min(found, key=lambda one: abs(one.error_percent))


def cup_density(cup_g: Decimal) -> Decimal:
    """Grams in a milliliter of what weighs so many grams a US cup."""
    return positive("cup_g", cup_g) / convert(ONE, parse_unit("cup"), Measures.VOLUME)


def teaspoon_density(teaspoon_g: Decimal) -> Decimal:
    """Grams in a milliliter of what weighs so many grams a US teaspoon."""
    return positive("teaspoon_g", teaspoon_g) / convert(ONE, parse_unit("tsp"), Measures.VOLUME)


def quarter_teaspoons(teaspoons: Decimal) -> Scoop:
    """Teaspoons to the nearest quarter, at least one quarter."""
    quarters = (teaspoons * 4).quantize(ONE, ROUND_HALF_UP)
    return Scoop(max(1, int(quarters)) * TEASPOON // 4, TEASPOON)


def _error(scoops: tuple[Scoop, ...], wanted: Decimal) -> Decimal:
    return (Decimal(sum(scoop.eighths for scoop in scoops)) / wanted - ONE) * HUNDRED


def _ways(wanted: Decimal) -> Iterator[tuple[Scoop, ...]]:
    """Ways to measure it, the simplest first."""
    if wanted >= CUP // 4:
        yield from _with_cups(wanted)
    elif wanted >= TABLESPOON:
        yield from _with_tablespoons(wanted)
    else:
        yield from _with_teaspoons(wanted)


def _with_cups(wanted: Decimal) -> Iterator[tuple[Scoop, ...]]:
    whole = _floor(wanted, CUP) * CUP
    for least in (whole, whole + CUP):
        yield from ((Scoop(least + step, CUP),) for step in CUP_STEPS if least + step)
    base = max(whole + step for step in QUARTERS_AND_THIRDS if whole + step <= wanted)
    half = TABLESPOON // 2
    for halves in range(1, CUP // 4 // half):
        yield (Scoop(base, CUP), Scoop(halves * half, TABLESPOON))


def _with_tablespoons(wanted: Decimal) -> Iterator[tuple[Scoop, ...]]:
    half, quarter = TABLESPOON // 2, TEASPOON // 4
    halves = _floor(wanted, half)
    yield from ((Scoop(n * half, TABLESPOON),) for n in (halves, halves + 1))
    whole = _floor(wanted, TABLESPOON) * TABLESPOON
    for quarters in range(1, TABLESPOON // quarter):
        yield (Scoop(whole, TABLESPOON), Scoop(quarters * quarter, TEASPOON))


def _with_teaspoons(wanted: Decimal) -> Iterator[tuple[Scoop, ...]]:
    step = 1 if wanted < TEASPOON else TEASPOON // 4
    steps = _floor(wanted, step)
    yield from ((Scoop(n * step, TEASPOON),) for n in (steps, steps + 1) if steps)


def _floor(wanted: Decimal, step: int) -> int:
    return int((wanted / step).to_integral_value(ROUND_FLOOR))
