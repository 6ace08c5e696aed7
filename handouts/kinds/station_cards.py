"""Station cards: one wide side for each bench and each recipe that is made there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from functools import cached_property
from typing import ClassVar

from classes.core.demand import TaughtAmounts
from classes.core.diets.conflict_words import people_words
from classes.dough.in_class import Water, students_water
from classes.hours.plan import ClassHours
from classes.plan import ClassPlan
from handouts.kind import BENCH, Leaves, Material, NotPrinted, PaperKind, labeled
from handouts.paper import Paper, paper_head
from handouts.run_sheet.course import ClassCourse, course_of
from handouts.safety.hazards import hazards_of_recipe
from handouts.safety.heeds import card_heeds
from handouts.safety.values import CardHeed
from handouts.station_card.room import (
    COARSE,
    PAGE_WIDE_MM,
    CardLayout,
    CardRoom,
    CardTitle,
    laid_out,
    title_of,
)
from handouts.station_card.steps import CardStep, steps_as_written, steps_by_clock
from handouts.station_card.words import WaterLine, heed_lines, holds_words, water_line
from handouts.station_tables import StationRecipe
from handouts.stations import Column, Columns, one_a_dough, stations_of
from recipes.core.scaling import PersonAmounts

NO_PEOPLE = NotPrinted(
    409, "Nobody is at a station yet", "Add students to the roster, or plan for empty seats."
)
UNTIMED = "No times: the hours of the class have no plan."
CUT = "Some words are left out: they stand on the handout."


@dataclass(frozen=True, kw_only=True)
class StationCard(Paper):
    """What stands at one station for one recipe. It has no place for anything private.

    A card that says what its station avoids names nobody, only how many work there, so that it
    tells no passer-by whom that concerns. `heeds` say what of that its own recipe holds.
    """

    template: ClassVar[str] = "handouts/station_card.html"
    style: ClassVar[str] = "station-card"
    foot_wide_mm: ClassVar[Decimal] = PAGE_WIDE_MM

    station: str
    people: tuple[str, ...]
    recipe: StationRecipe
    steps: tuple[CardStep, ...] = ()
    is_timed: bool = False
    water: WaterLine | None = None
    holds: str = ""
    avoids: tuple[str, ...] = ()
    heeds: tuple[CardHeed, ...] = ()

    @property
    def who(self) -> str:
        """Whose card it is: the names, or the number of people if the station avoids something."""
        return people_words(len(self.people)) if self.avoids else ", ".join(self.people)

    @property
    def boxes(self) -> tuple[tuple[tuple[str, ...], CardHeed], ...]:
        """The conflicts, each with the words of its black box."""
        return tuple((heed_lines(heed, self.station, self.avoids), heed) for heed in self.heeds)

    @property
    def coarse(self) -> str:
        """What the mark of a coarse weighing means."""
        return COARSE

    @property
    def notes(self) -> tuple[str, ...]:
        """What is to be said of the steps."""
        said = ((not self.is_timed and bool(self.steps), UNTIMED), (self.layout.is_cut, CUT))
        return tuple(words for applies, words in said if applies)

    @cached_property
    def title(self) -> CardTitle:
        return title_of(self.station, self.recipe.label)

    @cached_property
    def layout(self) -> CardLayout:
        """How everything fits on one side."""
        lines = [line for words, heed in self.boxes for line in (*words, *heed.notes)]
        room = CardRoom(
            title=self.title,
            heeds=tuple(lines),
            holds=self.holds,
            water_more=self.water.more if self.water else "",
            has_avoids=bool(self.avoids),
            has_coarse=self.recipe.has_coarse,
            foot_lines=self.foot.line_count,
        )
        return laid_out(self.recipe.tables[0], self.steps, room)


def station_cards(
    plan: ClassPlan, printed_at: datetime, hours: ClassHours | None = None
) -> tuple[StationCard, ...]:
    """A card for each recipe at each station with somebody at it. Raises NothingTaught.

    Without `hours`, or a plan in them, the steps have no times.
    """
    head, avoided = paper_head(plan, printed_at), plan.avoided
    recipes = {recipe.taught.key: recipe for recipe in plan.amounts.recipes}
    course = course_of(hours, {}) if hours and hours.solved else None
    told = plan.concerns
    return tuple(
        StationCard(
            head=head,
            hazards=hazards_of_recipe(plan, recipes[recipe.taught].taught),
            station=station.name,
            people=recipe.people,
            recipe=recipe,
            steps=_steps(plan, course, recipes[recipe.taught], station.name),
            is_timed=course is not None,
            water=_water(plan, recipes[recipe.taught], recipe, station.name),
            holds=holds_words(
                recipes[recipe.taught].taught, eu_list_first=plan.kitchen.writing.eu_list_first
            ),
            avoids=avoided.get(station.name, ()),
            heeds=card_heeds(told, station.name, recipe.taught),
        )
        for station in stations_of(plan, _columns(avoided), on_wall=True)
        for recipe in station.recipes
    )


def _columns(avoided: Mapping[str, object]) -> Columns:
    """Columns that name nobody at a station that avoids something."""

    def columns(people: Sequence[PersonAmounts]) -> list[list[Column]]:
        return one_a_dough(people, named=people[0].baker.station not in avoided)

    return columns


def _steps(
    plan: ClassPlan, course: ClassCourse | None, recipe: TaughtAmounts, station: str
) -> tuple[CardStep, ...]:
    timed, writing = plan.revisions[recipe.taught.revision].timed, plan.kitchen.writing
    if course is None:
        return steps_as_written(timed, writing)
    return steps_by_clock(course, timed.key, station, writing)


def _water(
    plan: ClassPlan, amounts: TaughtAmounts, recipe: StationRecipe, station: str
) -> WaterLine | None:
    sheets = [one.sheet for one in amounts.amounts.persons if one.baker.station == station]
    water: Water | None = students_water(plan, amounts, sheets[0])
    alike = len(recipe.tables[0].columns) == 1
    return water_line(water, plan.kitchen, alike=alike) if water else None


def _leaves(material: Material) -> Leaves:
    try:
        hours = material.hours
    except NotPrinted:
        hours = None
    cards = station_cards(material.plan, material.at, hours)
    if not cards:
        raise NO_PEOPLE
    return labeled((f"{card.station}, {card.recipe.title}", card) for card in cards)


KIND = PaperKind(
    "station-cards",
    "Station cards",
    "A wide sheet to stand on each bench: grams, steps by the clock, water.",
    BENCH,
    _leaves,
)
