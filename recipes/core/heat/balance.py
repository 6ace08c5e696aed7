"""Heat balance from composition: the temperature of a mixture, and of the water a dough needs.

The model loses no heat to bowl, bench or air, and nothing evaporates or freezes, so a real mix of
something hot into something cold ends a little cooler. What mixing adds is measured as the rise of
a dough above the balance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from recipes.core.composition import Composition
from recipes.core.errors import BakingError
from recipes.core.heat.thermal import DEFAULT_WATER, NOTHING, Quadratic, WaterTerm, specific_heat_of
from recipes.core.heat.water import (
    YEAST_LIMIT_C,
    Friction,
    Model,
    TooHotForYeast,
    Water,
    degrees,
    thawed,
)
from recipes.core.numbers import ZERO, positive

CLOSE_C = Decimal("1e-15")
MOST_STEPS = 50

PURE_WATER = Composition(Decimal(100), ZERO, ZERO, ZERO, ZERO, ZERO)


@dataclass(eq=False)
class NothingToMix(BakingError):
    """A heat balance was asked for without any masses."""


@dataclass(frozen=True, slots=True)
class Portion:
    """A mass in grams at a temperature from 0 to 150 °C, and what it consists of."""

    mass_g: Decimal
    temperature_c: Decimal
    composition: Composition

    def __post_init__(self) -> None:
        positive("mass_g", self.mass_g)
        thawed("temperature_c", self.temperature_c)


@dataclass(frozen=True, slots=True)
class Mixture:
    """The mass and temperature of portions mixed together."""

    mass_g: Decimal
    temperature_c: Decimal
    model: Model = Model.HEAT_BALANCE


def mix(portions: Sequence[Portion], water: WaterTerm = DEFAULT_WATER) -> Mixture:
    """The temperature that portions reach together, by heat balance.

    A cooked roux is its flour and its liquid as two portions of the same temperature, the liquid
    less what evaporated. Raises NothingToMix or NoComposition.
    """
    if not portions:
        raise NothingToMix
    total, heat = NOTHING, ZERO
    for portion in portions:
        capacity = _capacity(portion, water)
        total += capacity
        heat += capacity.integral(portion.temperature_c)
    mass_g = sum((portion.mass_g for portion in portions), ZERO)
    return Mixture(mass_g, _temperature(total, heat))


def water_by_balance(
    wanted_c: Decimal,
    water_g: Decimal,
    others: Sequence[Portion],
    friction: Friction,
    water: WaterTerm = DEFAULT_WATER,
) -> Water:
    """The temperature of `water_g` grams of water that brings a dough to `wanted_c`.

    `others` is everything else in the dough; the friction must be of this model. An answer below
    zero is only a figure for calculating ice. Raises TooHotForYeast, ModelsMixed, NoComposition,
    NotDecimal or OutOfRange.
    """
    before_c = thawed("wanted_c", wanted_c) - friction.within(Model.HEAT_BALANCE)
    degrees("wanted_c", before_c)
    capacity = water.specific_heat.times(positive("water_g", water_g))
    heat = capacity.integral(before_c)
    for other in others:
        theirs = _capacity(other, water)
        heat += theirs.integral(before_c) - theirs.integral(other.temperature_c)
    water_c = _temperature(capacity, heat)
    if water_c > YEAST_LIMIT_C:
        raise TooHotForYeast(water_c)
    return Water(water_c, Model.HEAT_BALANCE)


def friction_by_balance(
    actual_c: Decimal, portions: Sequence[Portion], water: WaterTerm = DEFAULT_WATER
) -> Friction:
    """How far mixing warmed a dough above the temperature of its portions together."""
    rise_c = degrees("actual_c", actual_c) - mix(portions, water).temperature_c
    return Friction(rise_c, Model.HEAT_BALANCE)


def _capacity(portion: Portion, water: WaterTerm) -> Quadratic:
    """The heat in J that warms a portion by one degree, as a function of its temperature."""
    return specific_heat_of(portion.composition, water).times(portion.mass_g)


def _temperature(capacity: Quadratic, heat: Decimal) -> Decimal:
    """Where the integral of a heat capacity reaches `heat`, by Newton's steps.

    Below zero, where water only stands for cold, the capacity stays what it is at zero.
    """
    temperature_c = heat / capacity.a0
    if heat <= ZERO:
        return temperature_c
    for _ in range(MOST_STEPS):
        step = (capacity.integral(temperature_c) - heat) / capacity.at(temperature_c)
        temperature_c -= step
        if abs(step) < CLOSE_C:
            break
    return temperature_c
