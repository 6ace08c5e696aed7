"""A scaled formula at a bench: how warm each part of it is, for a heat balance.

Temperatures are °C, masses grams. The composition of each ingredient comes with it, by key.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from recipes.core.choices import ComponentKind
from recipes.core.composition import Composition
from recipes.core.errors import BakingError
from recipes.core.formula import FormulaIngredient
from recipes.core.heat.balance import PURE_WATER, Mixture, Portion, mix
from recipes.core.heat.part_heat import HOT_ROUX_C
from recipes.core.heat.water import Surroundings
from recipes.core.numbers import ONE, ZERO
from recipes.core.scaling import ComponentAmounts, Sheet
from recipes.core.scaling.amount_lines import AmountLine

# Unknowns in so small a share of a dough change its temperature by less than a thermometer shows.
MOST_UNKNOWN = Decimal("0.05")


@dataclass(eq=False)
class NotKnown(BakingError):
    """A heat balance is not possible: too much of the dough has an unknown composition."""

    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Temperatures:
    """How warm things are; `milk_c` is for liquids other than water, `room_c` for all the rest.

    A soaker, and a preferment without a temperature, is as warm as the room.
    """

    flour_c: Decimal
    room_c: Decimal
    tap_c: Decimal
    preferment_c: Decimal | None = None
    roux_c: Decimal = HOT_ROUX_C
    soaker_c: Decimal | None = None
    milk_c: Decimal = Decimal(4)
    egg_c: Decimal = Decimal(4)
    ice_c: Decimal = ZERO

    @property
    def around(self) -> Surroundings:
        """The ones that the bakers' formula uses."""
        return Surroundings(self.flour_c, self.room_c, self.preferment_c)


def is_water(ingredient: FormulaIngredient) -> bool:
    """Whether it is only water, so that ice can replace it."""
    return ingredient.is_added_liquid and ingredient.water_share == ONE


@dataclass(frozen=True, slots=True)
class Liquid:
    """The liquid of the final dough: its water, or if it has none, its other liquids.

    `is_rest`: some of it is already in a roux.
    """

    lines: tuple[AmountLine, ...]
    is_rest: bool = False

    @property
    def name(self) -> str:
        """Such as `water`, `whole milk and beer` or `remaining whole milk`."""
        names = " and ".join(dict.fromkeys(line.ingredient.name.lower() for line in self.lines))
        return f"remaining {names}" if self.is_rest else names

    @property
    def mass_g(self) -> Decimal:
        """Grams of it."""
        return sum((line.exact_g for line in self.lines), ZERO)

    @property
    def is_water(self) -> bool:
        """Whether ice can replace part of it."""
        return all(is_water(line.ingredient) for line in self.lines)


def _dough_lines(sheet: Sheet) -> Iterator[AmountLine]:
    for part in sheet.components:
        if part.kind is ComponentKind.DOUGH:
            yield from part.lines


def liquid_of(sheet: Sheet) -> Liquid | None:
    """The liquid of the final dough; None if all of it is in a preferment or a roux."""
    poured = tuple(line for line in _dough_lines(sheet) if line.ingredient.is_added_liquid)
    water = tuple(line for line in poured if is_water(line.ingredient))
    if not poured:
        return None
    cooked = {
        line.ingredient.key
        for part in sheet.components
        if part.kind is ComponentKind.ROUX
        for line in part.lines
    }
    lines = water or poured
    return Liquid(lines, any(line.ingredient.key in cooked for line in lines))


@dataclass(frozen=True)
class DoughBatch:
    """A scaled formula, its ingredients' composition by key, and which of them are eggs."""

    sheet: Sheet
    foods: Mapping[str, Composition]
    eggs: frozenset[str] = frozenset()

    @cached_property
    def unknown(self) -> tuple[AmountLine, ...]:
        """Lines that a heat balance leaves out because their composition is not known."""
        return tuple(
            line
            for part in self.sheet.components
            if part.kind.goes_into_dough
            for line in part.lines
            if self.food(line.ingredient) is None
        )

    def food(self, ingredient: FormulaIngredient) -> Composition | None:
        """Its composition if a heat balance can use it."""
        if is_water(ingredient):
            return PURE_WATER
        food = self.foods.get(ingredient.key, Composition())
        known = (food.water_g, food.protein_g, food.fat_g, food.carbohydrate_g, food.ash_g or ZERO)
        grams = [part for part in known if part is not None]
        return food if len(grams) == len(known) and sum(grams, ZERO) else None

    def portions(
        self, at: Temperatures, besides: Liquid | None = None, liquid_c: Decimal | None = None
    ) -> list[Portion]:
        """Everything that goes into the dough; `besides` at its own temperature, or left out."""
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
            if kind is ComponentKind.PREFERMENT:
                degrees = at.room_c if at.preferment_c is None else at.preferment_c
            elif kind is ComponentKind.SOAKER:
                degrees = at.room_c if at.soaker_c is None else at.soaker_c
            yield self._portion(line, line.exact_g, degrees)

    def _temperature(self, ingredient: FormulaIngredient, at: Temperatures) -> Decimal:
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
        """A hot roux: its lines minus the steam, and the tap water that replaces the steam."""
        steam_g = part.exact_g * part.cooking_loss
        liquid_g = sum(
            (line.exact_g for line in part.lines if line.ingredient.is_added_liquid), ZERO
        )
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
