"""The assistant's paper: what to buy, what to make ahead, and a page for each station."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from itertools import groupby
from typing import ClassVar

from classes.core.demand import TaughtAmounts, heads_in_words
from classes.core.money import Estimate
from classes.core.shopping import ShoppingLine, ShoppingList
from classes.hours.feedings import said_feedings
from classes.plan import ClassPlan
from handouts.kind import AHEAD, Leaves, Material, PaperKind, only
from handouts.kinds.allergen_sheet import IN_PRIVATE
from handouts.paper import Paper, paper_head
from handouts.recipe_card import RecipeStep, steps_of
from handouts.safety.heeds import conflicts_at
from handouts.safety.values import FOOD, Hazard
from handouts.station_tables import StationSheet
from handouts.stations import brought_sheet, demonstration_sheet, one_each, stations_of
from recipes.core.allergens import AllergensFound, found_in
from recipes.core.choices import StepKind
from recipes.core.scaling import ComponentAmounts, Division, Sheet

# What the assistant does: weigh, make ahead, cook.
PREPARING = FOOD | {Hazard.STOVE}


@dataclass(frozen=True, slots=True)
class Aisle:
    """The shopping lines of one aisle."""

    name: str
    lines: tuple[ShoppingLine, ...]


@dataclass(frozen=True, slots=True)
class Ahead:
    """A component that is made for everybody in one tub, and how the tub is divided."""

    amounts: ComponentAmounts
    division: Division


@dataclass(frozen=True, slots=True)
class PooledRecipe:
    """A recipe for the whole class, including handling loss, and what of it is made ahead.

    `heads` says in words whom it is for; `prepare` has the recipe's steps before the class.
    """

    title: str
    label: str
    sheet: Sheet
    heads: str
    ahead: tuple[Ahead, ...]
    prepare: tuple[RecipeStep, ...]

    @property
    def dough_parts(self) -> tuple[ComponentAmounts, ...]:
        """The parts that are mixed into the dough."""
        return tuple(part for part in self.sheet.components if part.kind.goes_into_dough)

    @property
    def other_parts(self) -> tuple[ComponentAmounts, ...]:
        """Filling, wash and topping."""
        return tuple(part for part in self.sheet.components if not part.kind.goes_into_dough)

    @property
    def has_parts(self) -> bool:
        """Whether the parts need their names."""
        return len(self.sheet.components) > 1

    @property
    def has_coarse(self) -> bool:
        parts = self.sheet.components
        return any(line.weighed.coarse for part in parts for line in part.lines)


@dataclass(frozen=True, kw_only=True)
class PreparationList(Paper):
    """The assistant's paper: shopping, what is made ahead, and a page for each station.

    `brought` is what the instructor makes at home and brings, `demonstration` what is shown.
    `feedings` say when starters are fed, and with how much.
    """

    template: ClassVar[str] = "handouts/preparation.html"
    style: ClassVar[str] = "preparation"

    aisles: tuple[Aisle, ...]
    tap: tuple[ShoppingLine, ...]
    cash_out: Estimate
    handling_loss_percent: Decimal
    allergens: AllergensFound
    pooled: tuple[PooledRecipe, ...]
    stations: tuple[StationSheet, ...]
    demonstration: StationSheet | None
    brought: StationSheet | None = None
    feedings: tuple[str, ...] = ()


def preparation_list(plan: ClassPlan, printed_at: datetime) -> PreparationList:
    """The assistant's list, with what people must not eat. Raises NothingTaught."""
    recipes, shopping = plan.amounts.recipes, plan.shopping
    told, head = plan.concerns, paper_head(plan, printed_at)
    return PreparationList(
        head=head,
        hazards=head.hazards & PREPARING,
        aisles=_aisles(shopping),
        tap=tuple(line for line in shopping.lines if line.supply.tap),
        cash_out=shopping.cash_out,
        handling_loss_percent=plan.handling_loss_percent,
        allergens=found_in(line.ingredient for line in shopping.lines),
        pooled=tuple(
            PooledRecipe(
                title=recipe.taught.formula.title,
                label=recipe.taught.label,
                sheet=recipe.amounts.pooled,
                heads=heads_in_words(recipe),
                ahead=tuple(_ahead(recipe)),
                prepare=steps_of(plan, plan.revisions[recipe.taught.revision], {StepKind.PREPARE}),
            )
            for recipe in recipes
        ),
        stations=tuple(
            replace(
                station,
                private=_must_not_eat(plan, station.name),
                conflicts=conflicts_at(told, station.name),
            )
            for station in stations_of(plan, one_each, on_wall=False)
        ),
        demonstration=demonstration_sheet(recipes),
        brought=brought_sheet(recipes),
        feedings=said_feedings(plan),
    )


def _aisles(shopping: ShoppingList) -> tuple[Aisle, ...]:
    bought = (line for line in shopping.lines if not line.supply.tap)
    by_aisle = groupby(bought, key=lambda line: line.supply.aisle)
    return tuple(Aisle(name, tuple(lines)) for name, lines in by_aisle)


def _ahead(recipe: TaughtAmounts) -> Iterator[Ahead]:
    bulk = (part for part in recipe.amounts.pooled.components if part.kind.made_in_bulk)
    for part, division in zip(bulk, recipe.amounts.divisions, strict=True):
        yield Ahead(part, division)


def _must_not_eat(plan: ClassPlan, station: str) -> tuple[tuple[str, str], ...]:
    return tuple(
        (student.name, student.told or IN_PRIVATE)
        for student in plan.students
        if (student.told or student.wants_privacy) and student.station == station
    )


def _leaves(material: Material) -> Leaves:
    return only([preparation_list(material.plan, material.at)])


KIND = PaperKind(
    "preparation",
    "Shopping and mise en place",
    "What to buy, what to make ahead, and a page for each station to check off.",
    AHEAD,
    _leaves,
    private=True,
)
