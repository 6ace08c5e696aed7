"""The plan of a class's hours on the clock of its kitchen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from classes.core.hours.greedy.keeping import fingerprint, from_document
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.values import ClassWork
from classes.core.hours.problem.work import Solved
from wording.moments import Moment


@dataclass(frozen=True, slots=True)
class KeptHours:
    """A plan that was searched for and kept, and the mark of the work that it was made for."""

    made_for: str
    document: Mapping[str, Any]
    made_at: datetime


@dataclass(frozen=True)
class ClassHours:
    """The hours of a class from `starts`; without a plan, `obstacle` says what cannot be placed.

    `kept_at` is when the plan was searched for and kept; None for a greedy one.
    """

    starts: Moment
    scheduled: Scheduled
    solved: Solved | None
    obstacle: CannotPlace | None = None
    kept_at: datetime | None = None

    def at(self, minute: int) -> datetime:
        """The clock in the kitchen at a minute of the plan; elapsed time, whatever clocks do."""
        elapsed = self.starts.instant.astimezone(UTC) + timedelta(minutes=minute)
        return elapsed.astimezone(self.starts.zone)

    def moment(self, minute: int) -> Moment:
        """The same as a Moment, for wordings."""
        return self.starts.plus(minute)

    def on_axis(self, minute: int) -> str:
        """The same as on the axis of a drawing."""
        return self.moment(minute).on_axis(self.moment(0).date)

    @property
    def slack_min(self) -> int | None:
        """Minutes between the last bread and the end of the class; negative if late."""
        return (
            None if self.solved is None else self.scheduled.work.hours.minutes - self.solved.ready
        )


def hours_of(starts: Moment, work: ClassWork, kept: KeptHours | None = None) -> ClassHours:
    """The hours for some work: the kept plan if it was made for it, or a greedy one.

    Raises NoGrowth if a dough does not rise at all.
    """
    scheduled = schedule_of(work)
    if kept is not None and kept.made_for == fingerprint(scheduled.problem):
        solved = from_document(kept.document)
        return ClassHours(starts, scheduled, solved, kept_at=kept.made_at)
    try:
        return ClassHours(starts, scheduled, plan_greedily(scheduled.problem))
    except CannotPlace as obstacle:
        return ClassHours(starts, scheduled, None, obstacle)
