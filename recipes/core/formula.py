"""A formula: components and lines in grams, and baker's percentages over all of them.

Baker's percentage: an ingredient's mass over the mass of all flour, times 100, so that all flours
together are 100 %. Flour and water in a preferment, roux or soaker count toward the whole dough.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from recipes.core.choices import ComponentKind
from recipes.core.errors import EmptyComponent, NoFlour, OutOfRange
from recipes.core.numbers import HUNDRED, ONE, ZERO, not_negative, positive, whole


@dataclass(frozen=True, slots=True)
class Ingredient:
    """What the arithmetic must know of an ingredient. Shares are grams in one gram of it.

    Where `allergens_known` is False, the two lists are empty because nobody has filled them in.
    What `dissolves` can be weighed in a solution where it is too little for a scale.
    """

    key: str
    name: str
    is_flour: bool = False
    is_added_liquid: bool = False
    water_share: Decimal = ZERO
    each_g: Decimal | None = None
    each_name: str = ""
    allergens_us: tuple[str, ...] = ()
    allergens_eu: tuple[str, ...] = ()
    may_contain: str = ""
    allergens_known: bool = True
    dissolves: bool = False

    def __post_init__(self) -> None:
        share = not_negative("water_share", self.water_share)
        if share > ONE:
            raise OutOfRange("water_share", share, least=ZERO, most=ONE)
        if self.each_g is not None:
            positive("each_g", self.each_g)


@dataclass(frozen=True, slots=True)
class Line:
    """One ingredient's mass, in grams, within a component."""

    ingredient: Ingredient
    mass_g: Decimal
    note: str = ""

    def __post_init__(self) -> None:
        positive("mass_g", self.mass_g)


@dataclass(frozen=True)
class Component:
    """A part of the bread.

    Filling, wash and topping are for `for_pieces` pieces; what goes into the dough has none.
    `cooking_loss` is the share that steam carries off a roux before it is made up with water.
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
        """Mass of the flours in it, in grams."""
        return sum((line.mass_g for line in self.lines if line.ingredient.is_flour), ZERO)


@dataclass(frozen=True)
class Formula:
    """A bread as written down: `pieces` of `piece_g` grams of dough is its usual yield.

    The lines may be in any batch size; only their proportions matter to the scaling.
    Raises NoFlour when no line that goes into the dough is a flour, NotWhole for split pieces.
    """

    title: str
    components: tuple[Component, ...]
    piece_g: Decimal
    pieces: int = 1

    def __post_init__(self) -> None:
        positive("piece_g", self.piece_g)
        whole("pieces", self.pieces, least=1)
        if self.flour_g <= ZERO:
            raise NoFlour(self.title)

    @cached_property
    def dough_components(self) -> tuple[Component, ...]:
        """The components whose mass is divided into pieces."""
        return tuple(part for part in self.components if part.kind.goes_into_dough)

    @cached_property
    def dough_g(self) -> Decimal:
        """Mass of the dough as written, in grams."""
        return sum((part.mass_g for part in self.dough_components), ZERO)

    @cached_property
    def flour_g(self) -> Decimal:
        """Mass of all flour in the dough as written, in grams: the 100 %."""
        return sum((part.flour_g for part in self.dough_components), ZERO)

    def dough_lines(self) -> Iterator[Line]:
        """Every line that goes into the dough."""
        for part in self.dough_components:
            yield from part.lines

    def percent(self, mass_g: Decimal) -> Decimal:
        """Baker's percentage of a mass in the batch as written."""
        return mass_g * HUNDRED / self.flour_g

    def dough_g_for_flour(self, flour_g: Decimal) -> Decimal:
        """The dough, in grams, that a total flour mass makes."""
        return positive("flour_g", flour_g) * self.dough_g / self.flour_g


@dataclass(frozen=True, slots=True)
class PercentLine:
    """A line of the formula card; percentages are of all flour and of the component's own."""

    ingredient: Ingredient
    mass_g: Decimal
    percent: Decimal
    own_percent: Decimal | None


def merge_masses(lines: Iterable[Line]) -> dict[Ingredient, Decimal]:
    """Total mass by ingredient, in grams, in the order of first appearance.

    Ingredients are the same when their keys are.
    """
    first: dict[str, Ingredient] = {}
    totals: dict[str, Decimal] = {}
    for line in lines:
        key = first.setdefault(line.ingredient.key, line.ingredient).key
        totals[key] = totals.get(key, ZERO) + line.mass_g
    return {first[key]: mass_g for key, mass_g in totals.items()}


def overall(formula: Formula) -> tuple[PercentLine, ...]:
    """The overall formula: each ingredient once, over all components of the dough."""
    masses = merge_masses(formula.dough_lines())
    return tuple(
        PercentLine(ingredient, mass_g, formula.percent(mass_g), None)
        for ingredient, mass_g in masses.items()
    )


def component_percent(formula: Formula, component: Component, mass_g: Decimal) -> Decimal:
    """Baker's percentage of a mass that a component is written with.

    A wash for 12 pieces is set against the flour of 12 pieces, whatever batch the dough is
    written for.
    """
    percent = formula.percent(mass_g)
    if component.kind.goes_into_dough:
        return percent
    return percent * formula.dough_g / ((component.for_pieces or 1) * formula.piece_g)


def component_card(formula: Formula, component: Component) -> tuple[PercentLine, ...]:
    """A component's lines with percentages of all flour, and of its own flour if it has any."""
    own = component.flour_g
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
    """What bakers read first, in percent of all flour."""

    total: Decimal
    hydration: Decimal
    hydration_with_hidden_water: Decimal
    prefermented_flour: Decimal
    roux_flour: Decimal


def proportions(formula: Formula) -> Proportions:
    """Headline percentages; hydration both as liquid added and as all water in the dough.

    Hydration by added liquid counts milk and water by mass; the other counts the water
    inside every ingredient except flour.
    """
    liquid = water = ZERO
    for line in formula.dough_lines():
        if line.ingredient.is_added_liquid:
            liquid += line.mass_g
        if not line.ingredient.is_flour:
            water += line.mass_g * line.ingredient.water_share
    flour_in = {
        kind: sum((part.flour_g for part in formula.components if part.kind is kind), ZERO)
        for kind in (ComponentKind.PREFERMENT, ComponentKind.ROUX)
    }
    return Proportions(
        total=formula.percent(formula.dough_g),
        hydration=formula.percent(liquid),
        hydration_with_hidden_water=formula.percent(water),
        prefermented_flour=formula.percent(flour_in[ComponentKind.PREFERMENT]),
        roux_flour=formula.percent(flour_in[ComponentKind.ROUX]),
    )
