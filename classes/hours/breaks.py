"""The break of a class whose times change."""

from __future__ import annotations

from datetime import datetime, timedelta

from classes.models import ClassSession, Kitchen


def lies_inside(session: ClassSession, at: datetime) -> bool:
    """Whether a break at that time is between the welcome and the end of the class."""
    earliest = session.starts_at + timedelta(minutes=session.welcome_min)
    return earliest <= at and at + timedelta(minutes=session.break_min) <= session.ends_at


def keep_break_inside(session: ClassSession, *, started_at: datetime, kitchen: Kitchen) -> str:
    """Move the break of a class that used to start at `started_at`, if needed, and say so.

    A break that is still within the class stays. Another keeps its elapsed time from the start, and
    one that does not fit even then is dropped. Nothing is saved; the text is empty if nothing
    changed.
    """
    at = session.break_at
    if at is None or lies_inside(session, at):
        return ""
    moved = at + (session.starts_at - started_at)
    if lies_inside(session, moved):
        session.break_at = moved
        return f"The break moves with the class, to {kitchen.moment(moved).clock}."
    session.break_at = None
    return "The break no longer fits into the class and is left out. Set it again with the hours."
