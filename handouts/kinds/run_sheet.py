"""The run sheet of a class: its hours on one page, and what to do when they go another way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from enum import StrEnum
from functools import cached_property, partial
from typing import ClassVar

from classes.core.hours.advice.recovery import recovery_of
from classes.core.hours.ahead.everything import AheadTask
from classes.core.hours.ahead.starters import feedings_unsaid
from classes.core.hours.checking.verdict import Verdict
from classes.core.hours.drawing.spans import PLACES
from classes.hours.plan import ClassHours
from classes.hours.unsaid_words import unsaid_words
from classes.hours.words import shortage_words, slack_words
from classes.plan import ClassPlan
from handouts.kind import BENCH, Leaves, Material, PaperKind, only
from handouts.paper import Paper, paper_head
from handouts.run_sheet.course import ClassCourse, NoPlan, RunRow, cores_of, course_of
from handouts.run_sheet.fitting import LEADING, Fit, Setting, fit
from handouts.run_sheet.lines import AheadLine, DayLine, Telling, ahead_line, day_line
from handouts.run_sheet.machines import ovens_off
from handouts.run_sheet.recovery import RecoveryNotes, recovery_notes
from handouts.run_sheet.rows import course_rows
from handouts.safety.foot import FOOT_PT
from recipes.core.allergens import AllergensFound, found_in
from wording.moments import Moment, day_words

# What stands on the page besides the lines, in points: title, verdict and head of the table; a
# line about what is short, or the name of a day; and what is cleaned up.
PAGE_PT, LINE_PT, TIDY_PT = Decimal(105), Decimal(18), Decimal(95)
CABINET = PLACES["cabinet"]


class Edition(StrEnum):
    """Whose run sheet it is."""

    INSTRUCTOR = "instructor"
    ASSISTANT = "assistant"


@dataclass(frozen=True, slots=True)
class AheadDay:
    """What is done ahead on one day; `name` such as `Friday 3 May, the day before`."""

    name: str
    lines: tuple[AheadLine, ...]


@dataclass(frozen=True, kw_only=True)
class RunSheet(Paper):
    """The hours of a class on paper. It has no place for anything private.

    `slack_min` is negative if the last bread is late. `missing` is what keeps the plan from saying
    so; `ready` then covers only the rest. `ovens_off` pairs ovens with when their last load is out.
    """

    template: ClassVar[str] = "handouts/run_sheet.html"
    style: ClassVar[str] = "run-sheet"

    edition: Edition
    verdict: str
    ready: str
    ends: str
    slack_min: int
    short: tuple[str, ...]
    missing: tuple[str, ...]
    ahead: tuple[AheadDay, ...]
    unfed: tuple[str, ...]
    rows: tuple[RunRow, ...]
    recovery: RecoveryNotes
    ovens_off: tuple[tuple[str, str], ...]
    has_cabinet: bool
    allergens: AllergensFound

    @property
    def is_instructors(self) -> bool:
        return self.edition is Edition.INSTRUCTOR

    @property
    def spare(self) -> str:
        """Such as `5 min to spare`."""
        return slack_words(self.slack_min)

    @property
    def has_mixers(self) -> bool:
        """Whether dough is mixed in a machine."""
        return any(hand.mixer for row in self.rows for hand in row.hands)

    @cached_property
    def fit(self) -> Fit:
        """The sizes in which the sheet fits its pages."""
        heads = len(self.short) + len(self.missing) + len(self.unfed) + len(self.ahead)
        others_pt = PAGE_PT + heads * LINE_PT + (0 if self.is_instructors else TIDY_PT)
        others_pt += self.foot.line_count * FOOT_PT * LEADING
        return fit(self._lines, self.recovery, others_pt)

    @property
    def is_brief(self) -> bool:
        """Whether what is known before the class has no room in the recovery."""
        return self.fit.answers != self.recovery

    @property
    def ahead_set(self) -> Iterator[tuple[str, Sequence[DayLine]]]:
        """The lines of each day before the class, or of the hours before it."""
        done = 0
        for day in self.ahead:
            yield day.name, self.fit.lines[done : done + len(day.lines)]
            done += len(day.lines)

    @property
    def lines_set(self) -> Sequence[DayLine]:
        """The lines of the class."""
        return self.fit.lines[-len(self.rows) :]

    def _lines(self, setting: Setting) -> list[DayLine]:
        several = len({row.recipe for row in self.rows if row.recipe}) > 1
        tell = Telling(setting.words, self.writing, self.is_instructors, several)
        ahead = [ahead_line(line, tell) for day in self.ahead for line in day.lines]
        return [*ahead, *(day_line(row, tell) for row in self.rows)]


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
    head = paper_head(plan, printed_at)
    rows = course_rows(course)
    return RunSheet(
        head=head,
        hazards=head.hazards,
        edition=edition,
        verdict=verdict.kind.words,
        ready=course.label(hours.solved.ready),
        ends=course.label(ends),
        slack_min=ends - hours.solved.ready,
        short=tuple(shortage_words(shortage) for shortage in verdict.shortages),
        missing=tuple(unsaid_words(lack, plan.kitchen.writing) for lack in verdict.unsaid),
        ahead=tuple(_ahead_days(hours, course)),
        unfed=feedings_unsaid(hours.scheduled.work),
        rows=rows,
        recovery=recovery_notes(course, recovery_of(hours.scheduled, hours.solved)),
        ovens_off=tuple(ovens_off(course)),
        has_cabinet=any(rest.place == CABINET for row in rows for rest in row.rests),
        allergens=found_in(line.ingredient for line in plan.shopping.lines),
    )


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
    "The class by the clock: what to show, say and decide, and what to do when it goes another "
    "way.",
    BENCH,
    partial(_leaves, edition=Edition.INSTRUCTOR),
    usual_pages=2,
)

ASSISTANTS = PaperKind(
    "run-sheet-assistant",
    "Run sheet, assistant",
    "The same hours with what ovens, mixers and cabinet need, and cleaning up.",
    BENCH,
    partial(_leaves, edition=Edition.ASSISTANT),
    usual_pages=2,
)
