"""The staff's own calendar: each class, and what has to be done ahead of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime

from icalendar import Event

from classes.calendars.feeds import class_event, work_event
from classes.core.hours.ahead.everything import ahead_of
from classes.models import ClassSession
from classes.selectors import class_plan
from recipes.core.errors import NoGrowth

LEAST_MIN = 5


def staff_events(sessions: Iterable[ClassSession], *, at: datetime) -> Iterator[Event]:
    """Events for classes fetched `with_plan`; a class that cannot be planned has no tasks."""
    for session in sessions:
        yield class_event(session, at=at)
        yield from _tasks(session, at)


def _tasks(session: ClassSession, at: datetime) -> Iterator[Event]:
    try:
        hours = class_plan(session).hours
    except NoGrowth:
        return
    if hours.solved is None:
        return
    for task in ahead_of(hours.scheduled, hours.solved.plan):
        starts = hours.moment(task.starts)
        ends = starts.plus(max(LEAST_MIN, task.hands_min))
        title = f"{task.title} · {session.title}"
        yield work_event(
            f"ahead-{session.code}-{task.key}",
            title,
            starts.instant,
            ends.instant,
            f"{task.who}. {task.why}",
            at=at,
        )
