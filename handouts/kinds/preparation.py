"""The assistant's paper: the morning by the clock, and one list of shopping and mise en place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import ClassVar

from classes.core.diets.conflicts import Concerns
from classes.core.money import Estimate
from classes.hours.morning import MadeTub, Morning, morning_of, tubs_of
from classes.plan import ClassPlan
from handouts.kind import AHEAD, Leaves, Material, PaperKind, Phase, only
from handouts.kinds.allergen_sheet import IN_PRIVATE
from handouts.paper import Paper, paper_head
from handouts.preparing.arranged import ListBy
from handouts.preparing.listed import DOUGHS, Group, Item, listed
from handouts.preparing.placed import PlacedRecipe, placed, places_of, side_by_side
from handouts.safety.heeds import conflicts_in_words
from handouts.safety.values import FOOD, HEAT
from recipes.core.allergens import AllergensFound, found_in

PREPARING = FOOD | HEAT


@dataclass(frozen=True, slots=True)
class Bench:
    """Who stands at a station, and what they must not eat: names with words, and conflicts.

    Each conflict, in words, comes with whether it is still open.
    """

    name: str
    people: tuple[str, ...]
    private: tuple[tuple[str, str], ...]
    conflicts: tuple[tuple[str, bool], ...]


@dataclass(frozen=True, kw_only=True)
class PreparationList(Paper):
    """The assistant's paper. Only the tables of one arrangement are printed, with equal amounts.

    `tables` have every recipe with as many stations as fit side by side.
    """

    template: ClassVar[str] = "handouts/preparation.html"
    style: ClassVar[str] = "preparation"

    by: ListBy
    morning: Morning
    benches: tuple[Bench, ...]
    groups: tuple[Group, ...]
    cash_out: Estimate
    handling_loss_percent: Decimal
    allergens: AllergensFound
    tubs: tuple[MadeTub, ...]
    tables: tuple[PlacedRecipe, ...]

    @property
    def is_by_station(self) -> bool:
        return self.by is ListBy.STATION

    @property
    def doughs(self) -> tuple[Item, ...]:
        """Every dough, with the sum of its lines."""
        return tuple(one for group in self.groups if group.name == DOUGHS for one in group.items)

    @property
    def has_coarse(self) -> bool:
        """Whether anything is weighed in steps that are large for it."""
        return any(
            use.is_coarse for group in self.groups for one in group.items for use in one.uses
        )

    @property
    def is_told(self) -> bool:
        """Whether anybody told what they must not eat."""
        return any(bench.private or bench.conflicts for bench in self.benches)

    @property
    def has_together(self) -> bool:
        """Whether a station has amounts of several people together."""
        return any(place.together for table in self.tables for place in table.places)


def preparation_list(
    plan: ClassPlan, printed_at: datetime, by: ListBy = ListBy.STATION
) -> PreparationList:
    """The assistant's list, with what people must not eat. Raises NothingTaught."""
    head, shopping = paper_head(plan, printed_at), plan.shopping
    recipes = [(recipe, places_of(plan, recipe)) for recipe in plan.amounts.recipes]
    everywhere = [(recipe, placed(recipe, places)) for recipe, places in recipes]
    return PreparationList(
        head=head,
        hazards=head.hazards & PREPARING,
        by=by,
        morning=morning_of(plan),
        benches=tuple(_benches(plan)),
        groups=listed(shopping, everywhere),
        cash_out=shopping.cash_out,
        handling_loss_percent=plan.handling_loss_percent,
        allergens=found_in(line.ingredient for line in shopping.lines),
        tubs=tuple(tub for recipe in plan.amounts.recipes for tub in tubs_of(recipe)),
        tables=tuple(
            placed(recipe, some) for recipe, places in recipes for some in side_by_side(places)
        ),
    )


def _benches(plan: ClassPlan) -> Iterator[Bench]:
    """The stations with somebody at them, in the kitchen's order."""
    for station in plan.stations:
        told = [student for student in plan.students if student.station == station]
        here = [person for person in plan.concerns if person.eater.station == station]
        if people := tuple(person.name for person in plan.people if person.station == station):
            yield Bench(
                station,
                people,
                tuple(
                    (student.name, student.told or IN_PRIVATE)
                    for student in told
                    if student.told or student.wants_privacy
                ),
                tuple(one for person in here for one in _conflicts(person)),
            )


def _conflicts(person: Concerns) -> Iterator[tuple[str, bool]]:
    words = conflicts_in_words(person)
    for conflict, said in zip(person.conflicts, words, strict=True):
        yield f"{person.eater.name}, {said}", conflict.is_open


def _leaves(material: Material) -> Leaves:
    return only([preparation_list(material.plan, material.at, material.sheets.list_by)])


KIND = PaperKind(
    "preparation",
    "Shopping and mise en place",
    "The morning by the clock, what to buy, and what to weigh: by station or by ingredient.",
    AHEAD,
    _leaves,
    private=True,
    is_ordered=True,
    until=Phase.MORNING,
    usual_pages=2,
)
