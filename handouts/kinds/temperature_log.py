"""The temperature log: what to measure and when, with room for the results.

Expected temperatures are those of the kitchen, the recipes and the plan; nothing is worked out
here. Without a plan of the hours the times are blank.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import ClassVar

from classes.core.demand import DEMONSTRATION
from classes.core.hours.drawing.spans import who_is
from classes.core.hours.problem.work import Load
from classes.hours.plan import ClassHours
from classes.plan import ClassPlan, TaughtRevision
from handouts.kind import BENCH, Leaves, Material, NotPrinted, PaperKind, only
from handouts.paper import Paper, paper_head
from handouts.run_sheet.course import ClassCourse, cores_of, course_of
from handouts.run_sheet.machines import place_turns
from handouts.safety.values import HEAT, Hazard
from recipes.core.heat.core_temperature import Core
from wording.lists import joined

# The colder of the limits in the cautions, commonly used to log a refrigerator.
COLD_C = Decimal(5)
ICE_WATER_C = Decimal(0)
SPARE_ROWS = 2
MEASURED = HEAT | {Hazard.COOLED}
AT_MOST, AT_LEAST = "at most", "at least"


@dataclass(frozen=True, slots=True)
class LogRow:
    """One measurement: what, when by the plan, and what to expect, in °C; None is not known.

    `bound` is empty, `at most` or `at least`; a range goes up to `most_c`.
    """

    what: str
    clock: str = ""
    expected_c: Decimal | None = None
    most_c: Decimal | None = None
    bound: str = ""


OF_DOUGH, OF_BREAD = "Dough after mixing", "Middle of the bread"


@dataclass(frozen=True, slots=True)
class LogPart:
    """Rows under a heading."""

    heading: str
    rows: tuple[LogRow, ...]

    @property
    def has_clock(self) -> bool:
        """Whether the plan says when any of it is measured."""
        return any(row.clock for row in self.rows)


@dataclass(frozen=True, kw_only=True)
class TemperatureLog(Paper):
    """Expected temperatures with room for the measured ones. It has no place for names."""

    template: ClassVar[str] = "handouts/temperature_log.html"
    style: ClassVar[str] = "temperature-log"

    parts: tuple[LogPart, ...]
    is_planned: bool

    @property
    def spare_rows(self) -> range:
        """Empty rows for what else is measured."""
        return range(SPARE_ROWS)


def temperature_log(
    plan: ClassPlan, hours: ClassHours | None, printed_at: datetime
) -> tuple[TemperatureLog, ...]:
    """The log of a class; without hours, or a plan of them, it has no times.

    It always says how cold food must be kept. Raises NothingTaught.
    """
    head = paper_head(plan, printed_at)
    hazards = head.hazards & MEASURED | {Hazard.CHILLED}
    course = course_of(hours, cores_of(plan)) if hours and hours.solved else None
    parts = (
        LogPart("Before the dough", tuple(_before(plan))),
        LogPart(OF_DOUGH, tuple(_doughs(plan, course))),
        LogPart("Where dough rises", tuple(_places(course)) if course else ()),
        LogPart(OF_BREAD, tuple(_breads(plan, course))),
    )
    kept = tuple(part for part in parts if part.rows)
    return (TemperatureLog(head=head, hazards=hazards, parts=kept, is_planned=course is not None),)


def _before(plan: ClassPlan) -> Iterator[LogRow]:
    kitchen = plan.kitchen
    yield LogRow("Thermometer, in ice and water", expected_c=ICE_WATER_C)
    yield LogRow("Room", expected_c=kitchen.room_c)
    yield LogRow("Flour", expected_c=kitchen.flour_c)
    yield LogRow("Tap water", expected_c=kitchen.tap_c)
    for taught in plan.taught:
        yield LogRow(f"Water as poured, {taught.title}")
    cold = LogRow("", expected_c=COLD_C, bound=AT_MOST)
    for when in ("before the class", "in the middle", "at the end"):
        yield replace(cold, what=f"Refrigerator, {when}")
    for line in plan.shopping.lines:
        if plan.ingredients[line.ingredient.key].is_kept_cold:
            yield replace(cold, what=f"{line.ingredient.name}, when taken out")


def _doughs(plan: ClassPlan, course: ClassCourse | None) -> Iterator[LogRow]:
    mixed = _mixed_at(course) if course else {}
    for taught in plan.taught:
        for who in _bakers(plan, taught):
            yield LogRow(
                what=f"{who_is(who)}, {taught.title}",
                clock=mixed.get((taught.key, who), ""),
                expected_c=taught.dough_temperature_c,
            )


def _bakers(plan: ClassPlan, row: TaughtRevision) -> list[str]:
    """The demonstration and the stations that mix a recipe, in any variant."""
    own = [recipe for recipe in plan.amounts.recipes if recipe.taught.revision == row.key]
    stations = dict.fromkeys(at.station for recipe in own for at in recipe.amounts.stations)
    return [*([DEMONSTRATION] if row.usual.demonstration_batches else []), *stations]


def _mixed_at(course: ClassCourse) -> dict[tuple[str, str], str]:
    """When each dough is mixed, by recipe and whose it is."""
    scheduled, plan = course.scheduled, course.plan
    ends: dict[tuple[str, str], int] = {}
    for task in scheduled.problem.tasks:
        note = scheduled.notes[task.key]
        if note.mixes_dough:
            ends[note.recipe, note.who] = plan.end(scheduled.problem, task.key)
    return {at: course.label(minute) for at, minute in ends.items()}


def _places(course: ClassCourse) -> Iterator[LogRow]:
    for turn in place_turns(course):
        what = f"{turn.place.capitalize()}: {turn.who}, {turn.recipe}, {turn.what.lower()}"
        yield LogRow(what, turn.clock, turn.temperature_c)


def _breads(plan: ClassPlan, course: ClassCourse | None) -> Iterator[LogRow]:
    if course is None:
        for taught in plan.taught:
            yield _bread(f"{taught.title}, each load", "", taught.core)
        return
    ovens = {oven.key: oven.name for oven in course.scheduled.work.ovens}
    for load in sorted(course.plan.loads, key=lambda load: (load.end, ovens[load.oven])):
        yield from _out(course, load, ovens[load.oven])


def _out(course: ClassCourse, load: Load, oven: str) -> Iterator[LogRow]:
    """A load that comes out, a row for each of its recipes."""
    notes = course.scheduled.notes
    for recipe in course.recipes_of(key for key, _ in load.pieces):
        keys = [key for key, _ in load.pieces if notes[key].recipe == recipe.key]
        whose = joined(dict.fromkeys(who_is(notes[key].who) for key in keys))
        what = f"{oven}: {recipe.title}, {whose}"
        yield _bread(what, course.label(load.end), course.cores.get(recipe.key))


def _bread(what: str, clock: str, core: Core | None) -> LogRow:
    if core is None:
        return LogRow(what, clock)
    bound = "" if core.most_c else AT_LEAST
    return LogRow(what, clock, core.least_c, core.most_c, bound)


def _leaves(material: Material) -> Leaves:
    return only(temperature_log(material.plan, _hours_if_any(material), material.at))


def _hours_if_any(material: Material) -> ClassHours | None:
    try:
        return material.hours
    except NotPrinted:
        return None


KIND = PaperKind(
    "temperature-log",
    "Temperature log",
    "What to measure and what to expect, with room to write.",
    BENCH,
    _leaves,
)
