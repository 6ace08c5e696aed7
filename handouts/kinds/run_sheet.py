"""The run sheet of a class: its hours by the clock, for the instructor and for the assistant."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from enum import StrEnum
from functools import partial
from typing import ClassVar

from classes.core.hours.advice.recovery import recovery_of
from classes.core.hours.ahead.everything import AheadTask
from classes.core.hours.ahead.starters import feedings_unsaid
from classes.core.hours.checking.verdict import Verdict
from classes.core.hours.drawing.edition import drawing_of
from classes.core.hours.drawing.values import DrawnEdition as DrawnEdition
from classes.hours.plan import ClassHours
from classes.hours.unsaid_words import unsaid_words
from classes.hours.words import shortage_words
from classes.plan import ClassPlan
from handouts.kind import BENCH, Leaves, Material, PaperKind, only
from handouts.paper import Paper, paper_head
from handouts.run_sheet.course import ClassCourse, NoPlan, RunRow, cores_of, course_of
from handouts.run_sheet.machines import (
    BenchCourse,
    MixerTurn,
    OvenCard,
    PlaceTurn,
    bench_courses,
    mixer_turns,
    oven_cards,
    place_turns,
)
from handouts.run_sheet.recovery import RecoveryNotes, recovery_notes
from handouts.run_sheet.rows import course_rows
from recipes.core.allergens import AllergensFound, found_in
from wording.moments import Moment, day_words

# Up to this height, in the drawing's units, its page is turned to make its letters larger.
TURNED_UP_TO = Decimal(560)


class Edition(StrEnum):
    """Whose run sheet it is."""

    INSTRUCTOR = "instructor"
    ASSISTANT = "assistant"


@dataclass(frozen=True, slots=True)
class AheadLine:
    """Something done before the class: work begins at `clock`, it is ready at `ready_by`."""

    clock: str
    ready_by: str
    hands_min: int
    who: str
    title: str
    why: str
    text: str
    temperature_c: Decimal | None
    temperature_of: str = ""


@dataclass(frozen=True, slots=True)
class AheadDay:
    """What is done ahead on one day; `name` such as `Friday 3 May, the day before`."""

    name: str
    lines: tuple[AheadLine, ...]


@dataclass(frozen=True, kw_only=True)
class RunSheet(Paper):
    """The hours of a class on paper. It has no place for anything private.

    `slack_min` is negative if the last bread is late. `missing` is what keeps the plan from saying
    so; `ready` then covers only the rest. The assistant's edition has machines, places and benches,
    the instructor's what is shown and said.
    """

    template: ClassVar[str] = "handouts/run_sheet.html"
    style: ClassVar[str] = "run-sheet"

    edition: Edition
    verdict: str
    ready: str
    ends: str
    slack_min: int
    ovens_on: str
    first_load: str
    short: tuple[str, ...]
    missing: tuple[str, ...]
    ahead: tuple[AheadDay, ...]
    unfed: tuple[str, ...]
    rows: tuple[RunRow, ...]
    drawing: DrawnEdition
    recovery: RecoveryNotes
    ovens: tuple[OvenCard, ...]
    mixers: tuple[MixerTurn, ...]
    places: tuple[PlaceTurn, ...]
    benches: tuple[BenchCourse, ...]
    allergens: AllergensFound

    @property
    def is_instructors(self) -> bool:
        return self.edition is Edition.INSTRUCTOR

    @property
    def over_min(self) -> int:
        """How late the last bread is; 0 if it is not."""
        return max(0, -self.slack_min)

    @property
    def is_turned(self) -> bool:
        """Whether the drawing is turned on its page."""
        return self.drawing.height <= TURNED_UP_TO

    @property
    def cleaning(self) -> tuple[RunRow, ...]:
        """When the benches clean up."""
        return tuple(row for row in self.rows if row.what == "Clean up")


def run_sheet_of(
    plan: ClassPlan,
    hours: ClassHours,
    verdict: Verdict,
    edition: Edition,
    printed_at: datetime,
) -> RunSheet:
    """The run sheet of a class by the plan of its hours and its verdict.

    Raises NoPlan and NothingTaught.
    """
    if hours.solved is None:
        raise NoPlan
    course = course_of(hours, cores_of(plan), verdict.critical)
    ends = hours.scheduled.work.hours.minutes
    drawing = drawing_of(hours.scheduled, hours.solved.plan, label=hours.on_axis, ends=ends)
    head = paper_head(plan, printed_at)
    return RunSheet(
        head=head,
        hazards=head.hazards,
        edition=edition,
        verdict=verdict.kind.words,
        ready=course.label(hours.solved.ready),
        ends=course.label(ends),
        slack_min=ends - hours.solved.ready,
        ovens_on=_first_on(course),
        first_load=_first_load(course),
        short=tuple(shortage_words(shortage) for shortage in verdict.shortages),
        missing=tuple(unsaid_words(lack, plan.kitchen.writing) for lack in verdict.unsaid),
        ahead=tuple(_ahead_days(hours, course)),
        unfed=feedings_unsaid(hours.scheduled.work),
        rows=course_rows(course),
        drawing=drawing.wide,
        recovery=recovery_notes(course, recovery_of(hours.scheduled, hours.solved)),
        ovens=tuple(oven_cards(course)),
        mixers=tuple(mixer_turns(course)),
        places=tuple(place_turns(course)),
        benches=tuple(bench_courses(course)),
        allergens=found_in(line.ingredient for line in plan.shopping.lines),
    )


def _first_on(course: ClassCourse) -> str:
    heats = {oven.key: oven.preheat_min for oven in course.scheduled.work.ovens}
    starts = [load.start - heats[load.oven] for load in course.plan.loads]
    return course.label(min(starts)) if starts else ""


def _first_load(course: ClassCourse) -> str:
    starts = [load.start for load in course.plan.loads]
    return course.label(min(starts)) if starts else ""


# Ahead


def _ahead_days(hours: ClassHours, course: ClassCourse) -> Iterator[AheadDay]:
    days: dict[date, list[AheadLine]] = {}
    for task in course.ahead:
        if task.starts < 0:
            at = hours.moment(task.starts)
            days.setdefault(at.date, []).append(_ahead_line(task, at, hours))
    for day, lines in days.items():
        yield AheadDay(_day_name(day, hours.moment(0).date), tuple(lines))


def _ahead_line(task: AheadTask, at: Moment, hours: ClassHours) -> AheadLine:
    return AheadLine(
        clock=at.clock,
        ready_by=hours.moment(task.ready_by).beside(at.date, short=True),
        hands_min=task.hands_min,
        who=task.who,
        title=task.title,
        why=task.why,
        text=task.text,
        temperature_c=task.temperature_c,
        temperature_of=task.temperature_of.label.lower() if task.temperature_of else "",
    )


def _day_name(day: date, of_class: date) -> str:
    said = day_words(day)
    if day == of_class:
        return f"{said}, before the class"
    if day == of_class - timedelta(days=1):
        return f"{said}, the day before"
    return f"{said}, {(of_class - day).days} days before"


def _usual(material: Material) -> RunSheet:
    """The instructor's edition; the editions differ in what they print."""
    return run_sheet_of(material.plan, *material.planned, Edition.INSTRUCTOR, material.at)


def _leaves(material: Material, edition: Edition) -> Leaves:
    return only([replace(material.once(_usual), edition=edition)])


INSTRUCTORS = PaperKind(
    "run-sheet-instructor",
    "Run sheet, instructor",
    "The class by the clock: what to show, say and decide.",
    BENCH,
    partial(_leaves, edition=Edition.INSTRUCTOR),
)

ASSISTANTS = PaperKind(
    "run-sheet-assistant",
    "Run sheet, assistant",
    "The same hours with ovens, mixers, cabinet, benches and cleaning up.",
    BENCH,
    partial(_leaves, edition=Edition.ASSISTANT),
)
