"""Specific heat of food from its composition.

Each part of a food has a specific heat a0 + a1 t + a2 t^2 in kJ/(kg K), t in °C from -40 to 150;
that of a food is their mean by mass. Source: refrigeration handbook of 2006, chapter 9, table 1,
after a proceedings chapter of 1986, read in independent copies that agree. One copy in circulation
has the fat's slope ten times too small and the signs of water reversed; this one does not.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from recipes.core.composition import Composition
from recipes.core.errors import BakingError
from recipes.core.heat.water import thawed
from recipes.core.numbers import ZERO


@dataclass(eq=False)
class NoComposition(BakingError):
    """A specific heat was asked for without a known water, protein, fat or carbohydrate."""

    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Quadratic:
    """A quantity a0 + a1 t + a2 t^2 of a temperature t in °C."""

    a0: Decimal
    a1: Decimal
    a2: Decimal = ZERO

    def at(self, t: Decimal) -> Decimal:
        """Its value."""
        return self.a0 + t * (self.a1 + t * self.a2)

    def integral(self, t: Decimal) -> Decimal:
        """Its integral from zero."""
        return t * (self.a0 + t * (self.a1 / 2 + t * self.a2 / 3))

    def __add__(self, other: Quadratic) -> Quadratic:
        return Quadratic(self.a0 + other.a0, self.a1 + other.a1, self.a2 + other.a2)

    def times(self, factor: Decimal) -> Quadratic:
        """The quantity multiplied."""
        return Quadratic(self.a0 * factor, self.a1 * factor, self.a2 * factor)


def _quadratic(a0: str, a1: str, a2: str = "0") -> Quadratic:
    return Quadratic(Decimal(a0), Decimal(a1), Decimal(a2))


NOTHING = Quadratic(ZERO, ZERO)

SOLIDS = {
    "protein": _quadratic("2.0082", "1.2089e-3", "-1.3129e-6"),
    "fat": _quadratic("1.9842", "1.4733e-3", "-4.8008e-6"),
    "carbohydrate": _quadratic("1.5488", "1.9625e-3", "-5.9399e-6"),
    "fiber": _quadratic("1.8459", "1.8306e-3", "-4.6509e-6"),
    "ash": _quadratic("1.0926", "1.8896e-3", "-3.6817e-6"),
}


class WaterTerm(StrEnum):
    """Which constant is used for water above freezing.

    Real water takes 4.184 at 20 °C. The original is 0.2 % under it and our default; the handbook
    is 1.3 % under it.
    """

    ORIGINAL_1986 = "4.1762"
    HANDBOOK_2006 = "4.1289"

    @property
    def specific_heat(self) -> Quadratic:
        """Of water from 0 to 150 °C."""
        return _quadratic(self.value, "-9.0864e-5", "5.4731e-6")


DEFAULT_WATER = WaterTerm.ORIGINAL_1986


def _parts(food: Composition) -> dict[str, Decimal]:
    """Grams of each part in 100 g; unknown fiber and ash count as zero."""
    known = {
        "water": food.water_g,
        "protein": food.protein_g,
        "fat": food.fat_g,
        "carbohydrate": food.carbohydrate_g,
    }
    missing = tuple(part for part, grams in known.items() if grams is None)
    parts = {part: grams for part, grams in known.items() if grams is not None}
    if missing or not sum(parts.values()) + (food.ash_g or ZERO):
        raise NoComposition(missing)
    fiber = min(food.fiber_g or ZERO, parts["carbohydrate"])
    parts["carbohydrate"] -= fiber
    return parts | {"fiber": fiber, "ash": food.ash_g or ZERO}


def specific_heat_of(food: Composition, water: WaterTerm = DEFAULT_WATER) -> Quadratic:
    """A thawed food's specific heat in kJ/(kg K) as a function of its temperature.

    What belongs to no part, such as the gas of baking soda, counts as the mean of the others.
    Raises NoComposition.
    """
    terms = SOLIDS | {"water": water.specific_heat}
    parts = _parts(food)
    total_g = sum(parts.values(), ZERO)
    mean = NOTHING
    for part, grams in parts.items():
        mean += terms[part].times(grams / total_g)
    return mean


def specific_heat(
    food: Composition, temperature_c: Decimal, water: WaterTerm = DEFAULT_WATER
) -> Decimal:
    """A food's specific heat in kJ/(kg K) at 0 to 150 °C. Raises NoComposition, OutOfRange."""
    return specific_heat_of(food, water).at(thawed("temperature_c", temperature_c))
