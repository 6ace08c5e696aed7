"""The liquid of a final dough at a bench: how warm it must be, and how to get it there.

This is where a scaled formula meets the temperatures of a kitchen. Two models answer, each in its
own class and never mixed: `TradeSum` knows only flour, room and preferment, `Balance` counts every
mass of the batch by its composition. Temperatures are °C, masses grams.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from recipes.core.errors import BakingError
from recipes.core.heat.balance import Portion, friction_by_balance, mix, water_by_balance
from recipes.core.heat.dough_batch import DoughBatch, Liquid, Temperatures
from recipes.core.heat.water import (
    HOTTEST_C,
    YEAST_LIMIT_C,
    Friction,
    Model,
    TooHotForYeast,
    Water,
    dough_by_sum,
    friction_by_sum,
    ice_for,
    water_by_sum,
)
from recipes.core.numbers import ONE, ZERO
from recipes.core.weighing import split

# A kitchen thermometer shows no smaller difference.
CLOSE_C = Decimal("0.5")

_HALVINGS = 30

NO_FRICTION = Friction(ZERO, Model.TRADE_SUM)
NO_RISE = Friction(ZERO, Model.HEAT_BALANCE)


@dataclass(eq=False)
class NotColdEnough(BakingError):
    """A liquid that ice cannot replace: even at 0 °C it brings the dough to `dough_c`."""

    dough_c: Decimal


@dataclass(frozen=True)
class TradeSum:
    """The bakers' formula of three terms, or four with a preferment."""

    at: Temperatures
    friction: Friction = NO_FRICTION

    def wanted(self, dough_c: Decimal) -> Water:
        """The liquid's temperature for a wanted dough. Raises TooHotForYeast or OutOfRange."""
        return water_by_sum(dough_c, self.at.around, self.friction)

    def dough_c(self, liquid_c: Decimal) -> Decimal:
        """What the dough comes to with the liquid at a temperature."""
        return dough_by_sum(self.at.around, liquid_c, self.friction)

    def measured(self, dough_c: Decimal, liquid_c: Decimal) -> Friction:
        """The friction of a dough just mixed."""
        return friction_by_sum(dough_c, self.at.around, liquid_c)


@dataclass(frozen=True)
class Balance:
    """The heat balance of a batch; its friction is the rise of the dough itself.

    Raises NotKnown, and OutOfRange for anything frozen.
    """

    at: Temperatures
    batch: DoughBatch
    liquid: Liquid
    friction: Friction = NO_RISE

    def wanted(self, dough_c: Decimal) -> Water:
        """The liquid's temperature. Raises TooHotForYeast, NotColdEnough or OutOfRange."""
        if self.liquid.is_water:
            others = self.batch.portions(self.at, self.liquid)
            return water_by_balance(dough_c, self.liquid.mass_g, others, self.friction)
        return Water(self._liquid_c(dough_c), Model.HEAT_BALANCE)

    def _liquid_c(self, dough_c: Decimal) -> Decimal:
        """By bisection, since a warmer liquid makes a warmer dough."""
        low, high = ZERO, HOTTEST_C
        if (coldest_c := self.dough_c(low)) > dough_c:
            raise NotColdEnough(coldest_c)
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            low, high = (low, middle) if self.dough_c(middle) > dough_c else (middle, high)
        if high > YEAST_LIMIT_C:
            raise TooHotForYeast(high)
        return high

    def _portions(self, liquid_c: Decimal) -> list[Portion]:
        return self.batch.portions(self.at, self.liquid, liquid_c)

    def dough_c(self, liquid_c: Decimal) -> Decimal:
        """What the dough comes to with the liquid at a temperature."""
        rise_c = self.friction.within(Model.HEAT_BALANCE)
        return mix(self._portions(liquid_c)).temperature_c + rise_c

    def measured(self, dough_c: Decimal, liquid_c: Decimal) -> Friction:
        """The rise of a dough just mixed."""
        return friction_by_balance(dough_c, self._portions(liquid_c))


class Means(StrEnum):
    """What to do with the liquid at hand."""

    AS_IT_IS = "as it is"
    WARM = "warm"
    ICE = "ice"
    CHILL = "chill"


@dataclass(frozen=True, slots=True)
class LiquidPlan:
    """The temperature a model asks for, what to do, and whole grams that keep the total."""

    wanted: Water
    means: Means
    liquid_g: Decimal
    ice_g: Decimal = ZERO
    water_g: Decimal = ZERO


def plan_liquid(
    model: TradeSum | Balance, dough_c: Decimal, liquid: Liquid, at: Temperatures
) -> LiquidPlan:
    """How to get the liquid for a wanted dough temperature.

    Raises TooHotForYeast, IceNotEnough, NotColdEnough, NotKnown or OutOfRange.
    """
    wanted = model.wanted(dough_c)
    (liquid_g,) = split(liquid.mass_g, (ONE,), ONE)
    over_c = wanted.temperature_c - (at.tap_c if liquid.is_water else at.milk_c)
    if abs(over_c) <= CLOSE_C:
        return LiquidPlan(wanted, Means.AS_IT_IS, liquid_g)
    if over_c > ZERO:
        return LiquidPlan(wanted, Means.WARM, liquid_g)
    if not liquid.is_water:
        if wanted.wants_ice:
            raise NotColdEnough(model.dough_c(ZERO))
        return LiquidPlan(wanted, Means.CHILL, liquid_g)
    iced = ice_for(liquid.mass_g, at.tap_c, wanted.temperature_c, at.ice_c)
    ice_g, water_g = split(liquid.mass_g, (iced.ice_g, iced.water_g), ONE)
    return LiquidPlan(wanted, Means.ICE, liquid_g, ice_g, water_g)
