"""The liquid of a final dough at a bench: how warm it must be, and how to come by it.

A formula scaled to a batch meets the temperatures of a kitchen here. Two models answer, each in
its own class and never mixed: `TradeSum` knows flour, room and preferment alone, `Balance`
counts every mass of the batch by its composition. Temperatures are °C, masses grams.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cached_property

from recipes.baking.composition import Composition
from recipes.baking.errors import BakingError
from recipes.baking.formula import ComponentKind, Ingredient
from recipes.baking.heat import (
    HOTTEST_C,
    YEAST_LIMIT_C,
    Friction,
    Model,
    Surroundings,
    TooHotForYeast,
    Water,
    dough_by_sum,
    friction_by_sum,
    ice_for,
    water_by_sum,
)
from recipes.baking.heat_balance import (
    PURE_WATER,
    Mixture,
    Portion,
    friction_by_balance,
    mix,
    water_by_balance,
)
from recipes.baking.numbers import ONE, ZERO
from recipes.baking.scaling import AmountLine, ComponentAmounts, Sheet
from recipes.baking.weighing import split

# A kitchen thermometer tells no less apart.
CLOSE_C = Decimal("0.5")

# What is not known of so little of a dough moves its temperature by less than a thermometer shows.
MOST_UNKNOWN = Decimal("0.05")

_HALVINGS = 30

NO_FRICTION = Friction(ZERO, Model.TRADE_SUM)
NO_RISE = Friction(ZERO, Model.HEAT_BALANCE)


@dataclass(eq=False)
class NotKnown(BakingError):
    """A heat balance of a dough too much of which is of unknown composition."""

    names: tuple[str, ...]


@dataclass(eq=False)
class NotColdEnough(BakingError):
    """A liquid that ice cannot replace: even at 0 °C the dough comes to `dough_c`."""

    dough_c: Decimal


@dataclass(frozen=True, slots=True)
class Temperatures:
    """What stands how warm; `milk_c` is for every liquid but water, `room_c` for all the rest."""

    flour_c: Decimal
    room_c: Decimal
    tap_c: Decimal
    preferment_c: Decimal | None = None
    roux_c: Decimal = Decimal(70)
    milk_c: Decimal = Decimal(4)
    egg_c: Decimal = Decimal(4)
    ice_c: Decimal = ZERO

    @property
    def around(self) -> Surroundings:
        """What the trade's sum knows of them."""
        return Surroundings(self.flour_c, self.room_c, self.preferment_c)


def is_water(ingredient: Ingredient) -> bool:
    """Whether it is water and nothing else, so that ice can stand in for it."""
    return ingredient.is_added_liquid and ingredient.water_share == ONE


@dataclass(frozen=True, slots=True)
class Liquid:
    """What is poured into the final dough: its water, or where it has none its other liquids."""

    lines: tuple[AmountLine, ...]

    @property
    def name(self) -> str:
        """Such as `water`, or `whole milk and beer`."""
        return " and ".join(dict.fromkeys(line.ingredient.name.lower() for line in self.lines))

    @property
    def mass_g(self) -> Decimal:
        """Grams of it."""
        return sum((line.exact_g for line in self.lines), ZERO)

    @property
    def is_water(self) -> bool:
        """Whether ice can stand in for part of it."""
        return all(is_water(line.ingredient) for line in self.lines)


def _dough_lines(sheet: Sheet) -> Iterator[AmountLine]:
    for part in sheet.components:
        if part.kind is ComponentKind.DOUGH:
            yield from part.lines


def liquid_of(sheet: Sheet) -> Liquid | None:
    """The liquid of the final dough; None where all of it is in a preferment or a roux."""
    poured = tuple(line for line in _dough_lines(sheet) if line.ingredient.is_added_liquid)
    water = tuple(line for line in poured if is_water(line.ingredient))
    return Liquid(water or poured) if poured else None


@dataclass(frozen=True)
class Batch:
    """A scaled formula, what its ingredients consist of by key, and which of them are eggs."""

    sheet: Sheet
    foods: Mapping[str, Composition]
    eggs: frozenset[str] = frozenset()

    @cached_property
    def unknown(self) -> tuple[AmountLine, ...]:
        """Lines that a heat balance leaves out, since what they consist of is not known."""
        return tuple(
            line
            for part in self.sheet.components
            if part.kind.goes_into_dough
            for line in part.lines
            if self.food(line.ingredient) is None
        )

    def food(self, ingredient: Ingredient) -> Composition | None:
        """Its composition where a heat balance can use it."""
        if is_water(ingredient):
            return PURE_WATER
        food = self.foods.get(ingredient.key, Composition())
        known = (food.water_g, food.protein_g, food.fat_g, food.carbohydrate_g, food.ash_g or ZERO)
        grams = [part for part in known if part is not None]
        return food if len(grams) == len(known) and sum(grams, ZERO) else None

    def portions(
        self, at: Temperatures, besides: Liquid | None = None, liquid_c: Decimal | None = None
    ) -> list[Portion]:
        """All that goes into the dough; `besides` at its own temperature, or left out."""
        self._known_enough()
        poured = besides.lines if besides else ()
        found: list[Portion] = []
        for part in self.sheet.components:
            if part.kind is ComponentKind.ROUX:
                found += self.roux(part, at)
            elif part.kind.goes_into_dough:
                lines = [line for line in part.lines if line not in poured]
                found += self._at(lines, part.kind, at)
        if liquid_c is not None:
            found += [self._portion(line, line.exact_g, liquid_c) for line in poured]
        return found

    def _known_enough(self) -> None:
        unknown_g = sum((line.exact_g for line in self.unknown), ZERO)
        if unknown_g > MOST_UNKNOWN * self.sheet.dough_g:
            raise NotKnown(tuple(dict.fromkeys(line.ingredient.name for line in self.unknown)))

    def _at(
        self, lines: list[AmountLine], kind: ComponentKind, at: Temperatures
    ) -> Iterator[Portion]:
        for line in lines:
            if self.food(line.ingredient) is None:
                continue
            degrees = self._temperature(line.ingredient, at)
            if kind is ComponentKind.PREFERMENT and at.preferment_c is not None:
                degrees = at.preferment_c
            yield self._portion(line, line.exact_g, degrees)

    def _temperature(self, ingredient: Ingredient, at: Temperatures) -> Decimal:
        if ingredient.is_flour:
            return at.flour_c
        if ingredient.key in self.eggs:
            return at.egg_c
        if ingredient.is_added_liquid:
            return at.tap_c if is_water(ingredient) else at.milk_c
        return at.room_c

    def _portion(self, line: AmountLine, mass_g: Decimal, temperature_c: Decimal) -> Portion:
        return Portion(mass_g, temperature_c, self.food(line.ingredient) or PURE_WATER)

    def roux(self, part: ComponentAmounts, at: Temperatures) -> Iterator[Portion]:
        """A hot roux: its lines less the steam, and the tap water that makes it up again."""
        steam_g = part.exact_g * part.cooking_loss
        liquid_g = sum((one.exact_g for one in part.lines if one.ingredient.is_added_liquid), ZERO)
        from_liquid = liquid_g > steam_g
        for line in part.lines:
            share = part.cooking_loss
            if from_liquid:
                share = steam_g / liquid_g if line.ingredient.is_added_liquid else ZERO
            if self.food(line.ingredient) is not None:
                yield self._portion(line, line.exact_g * (ONE - share), at.roux_c)
        if steam_g:
            yield Portion(steam_g, at.tap_c, PURE_WATER)

    def roux_in_cold(self, at: Temperatures) -> Mixture | None:
        """A hot roux with the dough's liquids and egg; None without a roux. Raises NotKnown."""
        self._known_enough()
        hot = [
            portion
            for part in self.sheet.components
            if part.kind is ComponentKind.ROUX
            for portion in self.roux(part, at)
        ]
        cold = [
            line
            for line in _dough_lines(self.sheet)
            if line.ingredient.is_added_liquid or line.ingredient.key in self.eggs
        ]
        return mix([*hot, *self._at(cold, ComponentKind.DOUGH, at)]) if hot else None


@dataclass(frozen=True)
class TradeSum:
    """The trade's sum of three terms, or four with a preferment."""

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
    batch: Batch
    liquid: Liquid
    friction: Friction = NO_RISE

    def wanted(self, dough_c: Decimal) -> Water:
        """The liquid's temperature. Raises TooHotForYeast, NotColdEnough or OutOfRange."""
        if self.liquid.is_water:
            others = self.batch.portions(self.at, self.liquid)
            return water_by_balance(dough_c, self.liquid.mass_g, others, self.friction)
        return Water(self._liquid_c(dough_c), Model.HEAT_BALANCE)

    def _liquid_c(self, dough_c: Decimal) -> Decimal:
        """By halving, since the warmer the liquid the warmer the dough."""
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
    """The temperature a model asks for, what to do, and whole grams that keep their sum."""

    wanted: Water
    means: Means
    liquid_g: Decimal
    ice_g: Decimal = ZERO
    water_g: Decimal = ZERO


def plan_liquid(
    model: TradeSum | Balance, dough_c: Decimal, liquid: Liquid, at: Temperatures
) -> LiquidPlan:
    """How to come by the liquid for a wanted dough.

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
