"""Starters that a class uses: what each is fed with, for the whole class.

The grams are the preparation list's for the tub, including the handling loss.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from classes.core.demand import ClassAmounts, TaughtAmounts
from recipes.core.choices import ComponentKind
from recipes.core.formula import FormulaIngredient
from recipes.core.numbers import ONE, ZERO
from recipes.core.scaling import ComponentAmounts
from recipes.core.scaling.amount_lines import AmountLine
from wording.figures import plain, short
from wording.lists import listed
from wording.masses import grams

TENTH = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class Refreshed:
    """A feeding of the mother in whole grams: mother, flour and water."""

    seed_g: Decimal
    flour_g: Decimal
    water_g: Decimal

    @property
    def makes_g(self) -> Decimal:
        return self.seed_g + self.flour_g + self.water_g


@dataclass(frozen=True, slots=True)
class Feeding:
    """A starter in a part of a recipe, whose `taught` is its key; a levain is a preferment.

    `hydration` is grams of water to a gram of flour in the starter, None if unknown; `flours` are
    what it is fed with. `flour_g` and `water_g` are what `starter_g` grams of it are fed with.
    """

    taught: str
    label: str
    part: str
    is_levain: bool
    starter: str
    starter_g: Decimal
    hydration: Decimal | None
    flours: tuple[str, ...]
    flour_g: Decimal
    water_g: Decimal
    lines: tuple[str, ...]

    @property
    def has_ratio(self) -> bool:
        """Whether it says what the starter is fed with."""
        return self.is_levain and self.flour_g > ZERO

    @property
    def times(self) -> Decimal:
        """The total mass as a multiple of the starter in it."""
        return (self.starter_g + self.flour_g + self.water_g) / self.starter_g

    @property
    def ratio(self) -> str:
        """Starter to flour to water: `1 : 5 : 5`."""
        parts = (self.flour_g / self.starter_g, self.water_g / self.starter_g)
        return " : ".join(["1", *(short(TENTH, part) for part in parts)])

    @property
    def amounts(self) -> str:
        """What goes into the tub, in words."""
        return f"{self.part}, for the whole class with the handling loss: {listed(self.lines)}."


def feedings_of(amounts: ClassAmounts) -> tuple[Feeding, ...]:
    """Every starter of a class, in the order of its recipes."""
    return tuple(feeding for recipe in amounts.recipes for feeding in _feedings(recipe))


def _feedings(recipe: TaughtAmounts) -> Iterator[Feeding]:
    for part in recipe.amounts.pooled.components:
        for line in part.lines:
            if line.ingredient.starter and part.kind.goes_into_dough:
                yield _feeding(recipe, part, line, line.ingredient)


def _feeding(
    recipe: TaughtAmounts, part: ComponentAmounts, line: AmountLine, starter: FormulaIngredient
) -> Feeding:
    fed_with = starter.starter
    return Feeding(
        taught=recipe.taught.revision,
        label=recipe.taught.label,
        part=part.name,
        is_levain=part.kind is ComponentKind.PREFERMENT,
        starter=starter.name,
        starter_g=line.exact_g,
        hydration=fed_with.hydration if fed_with else None,
        flours=tuple(flour.name for flour, _ in fed_with.flours) if fed_with else (),
        flour_g=_sum(line.exact_g for line in part.lines if line.ingredient.is_flour),
        water_g=_sum(line.exact_g for line in part.lines if line.ingredient.is_added_liquid),
        lines=tuple(f"{grams(line.weighed)} g {line.name}" for line in part.lines),
    )


def _sum(masses: Iterable[Decimal]) -> Decimal:
    return sum(masses, ZERO)


def refreshed(wanted_g: Decimal, hydration: Decimal) -> Refreshed:
    """One feeding that makes this much starter: as much flour as mother, and water to match."""
    seed_g = (wanted_g / (2 + hydration)).to_integral_value(ROUND_CEILING)
    water_g = (seed_g * hydration).to_integral_value(ROUND_CEILING)
    return Refreshed(seed_g, seed_g, max(ONE, water_g))


def refreshed_in_words(one: Refreshed, feeding: Feeding) -> str:
    """Such as `44 g Rye starter, 44 g Rye flour and 44 g Water make 132 g`."""
    flour = listed(feeding.flours) or "flour"
    lines = (f"{plain(one.seed_g)} g {feeding.starter}", f"{plain(one.flour_g)} g {flour}")
    return f"{listed([*lines, f'{plain(one.water_g)} g water'])} make {plain(one.makes_g)} g"
