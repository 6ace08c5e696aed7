"""Calendars after RFC 5545: a class for one person, the public classes, and the staff's own.

Times are written in UTC, so that no reader needs to know time zone rules.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime

from django.conf import settings
from django.urls import reverse
from icalendar import Calendar, Event

from classes.core.hours.ahead.everything import ahead_of
from classes.models import ClassSession
from classes.selectors import class_plan
from recipes.core.errors import NoGrowth

PRODUCT = "-//Bakebench//Bread classes//EN"


def class_ics(session: ClassSession, *, at: datetime) -> str:
    """A calendar with one class, for somebody who comes."""
    return _text([_event(session, at)])


def classes_ics(sessions: Iterable[ClassSession], *, at: datetime) -> str:
    """A calendar of several classes, as the public may see them."""
    return _text([_event(session, at) for session in sessions])


def work_ics(events: Iterable[Event]) -> str:
    """A calendar of events made by `work_event` and `class_event`, for the staff."""
    return _text(list(events))


def _text(events: list[Event]) -> str:
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    for event in events:
        calendar.add_component(event)
    written: bytes = calendar.to_ical()
    return written.decode()


def _event(session: ClassSession, at: datetime) -> Event:
    """A class as an event whose sequence number rises with every change of time or place."""
    event = Event()
    event.add("uid", f"class-{session.code}@{_host()}")
    event.add("dtstamp", at.astimezone(UTC))
    event.add("dtstart", session.starts_at.astimezone(UTC))
    event.add("dtend", session.ends_at.astimezone(UTC))
    event.add("summary", session.title)
    event.add("sequence", session.change_number)
    place = ", ".join(part for part in (session.kitchen.name, session.kitchen.place) if part)
    event.add("location", place)
    event.add(
        "url", settings.SITE_URL.rstrip("/") + reverse("classes:open_class", args=[session.code])
    )
    return event


def work_event(
    key: str, title: str, starts: datetime, ends: datetime, text: str, *, at: datetime
) -> Event:
    """A task of preparation, as an entry in the staff's own calendar."""
    event = Event()
    event.add("uid", f"{key}@{_host()}")
    event.add("dtstamp", at.astimezone(UTC))
    event.add("dtstart", starts.astimezone(UTC))
    event.add("dtend", ends.astimezone(UTC))
    event.add("summary", title)
    event.add("description", text)
    return event


def class_event(session: ClassSession, *, at: datetime) -> Event:
    """A class as an entry in the staff's own calendar."""
    return _event(session, at)


def _host() -> str:
    return settings.SITE_URL.partition("://")[2].partition("/")[0] or "bakebench"


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
