"""A formula: components and lines in grams, and baker's percentages over all of them.

Baker's percentage: an ingredient's mass over the mass of all flour, times 100, so that all flours
together are 100 %. Flour and water in a preferment, roux, soaker or starter count toward the whole
dough. If a starter's water is unknown, so is every percentage: None is "cannot say".
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from recipes.core.choices import ComponentKind
from recipes.core.errors import EmptyComponent, NoFlour, OutOfRange, StarterUnknown
from recipes.core.ingredients import WATER, FormulaIngredient, Line, Starter, opened
from recipes.core.numbers import HUNDRED, ONE, ZERO, not_negative, positive, whole

__all__ = [
    "WATER",
    "Formula",
    "FormulaComponent",
    "FormulaIngredient",
    "Line",
    "PercentLine",
    "Proportions",
    "Starter",
    "component_card",
    "component_percent",
    "merge_masses",
    "opened",
    "overall",
    "proportions",
]


@dataclass(frozen=True)
class FormulaComponent:
    """A part of the bread.

    Filling, wash and topping are for `for_pieces` pieces; parts of the dough have None.
    `cooking_loss` is the share a roux loses as steam before it is made up with water.
    """

    kind: ComponentKind
    name: str
    lines: tuple[Line, ...]
    for_pieces: int | None = None
    cooking_loss: Decimal = ZERO

    def __post_init__(self) -> None:
        if not self.lines:
            raise EmptyComponent(self.name)
        if not_negative("cooking_loss", self.cooking_loss) >= ONE:
            raise OutOfRange("cooking_loss", self.cooking_loss, least=ZERO, most=ONE)
        if not self.kind.goes_into_dough:
            whole("for_pieces", self.for_pieces, least=1)

    @cached_property
    def mass_g(self) -> Decimal:
        """Mass of all lines, before any cooking loss, in grams."""
        return sum((line.mass_g for line in self.lines), ZERO)

    @cached_property
    def flour_g(self) -> Decimal:
        """Mass of the flour in it, in grams, including that in starters as far as known."""
        return sum((line.flour_g for line in self.lines), ZERO)

    @cached_property
    def own_flour_g(self) -> Decimal:
        """Mass of the flours weighed into it, in grams.

        A levain's starter is a percentage of it: 20 g to 100 g of flour are 20 %.
        """
        return sum((line.mass_g for line in self.lines if line.ingredient.is_flour), ZERO)

    @property
    def prefermented_g(self) -> Decimal:
        """Prefermented flour: all flour of a preferment; elsewhere, the flour in starters."""
        return self.flour_g - (ZERO if self.kind is ComponentKind.PREFERMENT else self.own_flour_g)


@dataclass(frozen=True)
class Formula:
    """A bread as written: its usual yield is `pieces` of `piece_g` grams of dough.

    The lines may be for any batch size; scaling uses only their proportions. Raises NoFlour when no
    line that goes into the dough is a flour, NotWhole for a fraction of a piece.
    """

    title: str
    components: tuple[FormulaComponent, ...]
    piece_g: Decimal
    pieces: int = 1

    def __post_init__(self) -> None:
        positive("piece_g", self.piece_g)
        whole("pieces", self.pieces, least=1)
        if self.flour_g is not None and self.flour_g <= ZERO:
            raise NoFlour(self.title)

    @cached_property
    def dough_components(self) -> tuple[FormulaComponent, ...]:
        """The components whose mass is divided into pieces."""
        return tuple(part for part in self.components if part.kind.goes_into_dough)

    @cached_property
    def dough_g(self) -> Decimal:
        """Mass of the dough as written, in grams."""
        return sum((part.mass_g for part in self.dough_components), ZERO)

    @cached_property
    def unopened(self) -> tuple[str, ...]:
        """The starters in the dough whose water is not known, by name."""
        starters = (
            line.ingredient
            for line in self.dough_lines()
            if line.ingredient.starter and line.ingredient.starter.hydration is None
        )
        return tuple(dict.fromkeys(starter.name for starter in starters))

    @cached_property
    def has_starter(self) -> bool:
        return any(line.ingredient.starter for line in self.dough_lines())

    @cached_property
    def flour_g(self) -> Decimal | None:
        """Mass of all flour in the dough as written, in grams: the 100 %.

        None if there is a starter whose water is not known.
        """
        if self.unopened:
            return None
        return sum((part.flour_g for part in self.dough_components), ZERO)

    @property
    def all_flour_g(self) -> Decimal:
        """Mass of all flour in the dough. Raises StarterUnknown if it is not known."""
        if self.flour_g is None:
            raise StarterUnknown(self.unopened)
        return self.flour_g

    def dough_lines(self) -> Iterator[Line]:
        """Every line that goes into the dough."""
        for part in self.dough_components:
            yield from part.lines

    def percent(self, mass_g: Decimal) -> Decimal | None:
        """Baker's percentage of a mass in the batch as written; None if it is not known."""
        return None if self.flour_g is None else mass_g * HUNDRED / self.flour_g

    def dough_g_for_flour(self, flour_g: Decimal) -> Decimal:
        """The dough, in grams, that a total flour mass makes. Raises StarterUnknown."""
        return positive("flour_g", flour_g) * self.dough_g / self.all_flour_g


@dataclass(frozen=True, slots=True)
class PercentLine:
    """A line of the formula card; percentages are of all flour and of the component's own."""

    ingredient: FormulaIngredient
    mass_g: Decimal
    percent: Decimal | None
    own_percent: Decimal | None


def merge_masses(lines: Iterable[Line]) -> dict[FormulaIngredient, Decimal]:
    """Total mass by ingredient, in grams, in the order of first appearance.

    Ingredients with the same key are the same.
    """
    first: dict[str, FormulaIngredient] = {}
    totals: dict[str, Decimal] = {}
    for line in lines:
        key = first.setdefault(line.ingredient.key, line.ingredient).key
        totals[key] = totals.get(key, ZERO) + line.mass_g
    return {first[key]: mass_g for key, mass_g in totals.items()}


def overall(formula: Formula) -> tuple[PercentLine, ...]:
    """The overall formula: each ingredient once, over all components of the dough.

    A starter counts as its flour and water.
    """
    masses = merge_masses(opened(formula.dough_lines()))
    return tuple(
        PercentLine(ingredient, mass_g, formula.percent(mass_g), None)
        for ingredient, mass_g in masses.items()
    )


def component_percent(
    formula: Formula, component: FormulaComponent, mass_g: Decimal
) -> Decimal | None:
    """Baker's percentage of a mass as its component is written.

    A wash for 12 pieces is a percentage of the flour of 12 pieces, whatever batch the dough is
    written for.
    """
    percent = formula.percent(mass_g)
    if component.kind.goes_into_dough or percent is None:
        return percent
    return percent * formula.dough_g / ((component.for_pieces or 1) * formula.piece_g)


def component_card(formula: Formula, component: FormulaComponent) -> tuple[PercentLine, ...]:
    """A component's lines with percentages of all flour, and of its own flour if it has any."""
    own = component.own_flour_g
    return tuple(
        PercentLine(
            line.ingredient,
            line.mass_g,
            component_percent(formula, component, line.mass_g),
            line.mass_g * HUNDRED / own if own else None,
        )
        for line in component.lines
    )


@dataclass(frozen=True, slots=True)
class Proportions:
    """What bakers read first, in percent of all flour; None if it is not known."""

    total: Decimal | None
    hydration: Decimal | None
    hydration_with_hidden_water: Decimal | None
    prefermented_flour: Decimal | None
    roux_flour: Decimal | None


def proportions(formula: Formula) -> Proportions:
    """Headline percentages; hydration both by added liquid and by all water in the dough.

    Hydration by added liquid counts milk and water by mass; the other counts the water
    inside every ingredient except flour.
    """
    liquid = water = ZERO
    for line in opened(formula.dough_lines()):
        if line.ingredient.is_added_liquid:
            liquid += line.mass_g
        if not line.ingredient.is_flour:
            water += line.mass_g * line.ingredient.water_share
    parts = formula.dough_components
    roux_g = sum((part.own_flour_g for part in parts if part.kind is ComponentKind.ROUX), ZERO)
    return Proportions(
        total=formula.percent(formula.dough_g),
        hydration=formula.percent(liquid),
        hydration_with_hidden_water=formula.percent(water),
        prefermented_flour=formula.percent(sum((part.prefermented_g for part in parts), ZERO)),
        roux_flour=formula.percent(roux_g),
    )
