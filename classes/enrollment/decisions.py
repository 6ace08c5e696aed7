"""Whether enough people have booked for a class to take place, and by when that is decided."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from classes.models import ClassSession
from wording.moments import day_words


@dataclass(frozen=True, slots=True)
class Decision:
    """How many have booked, how many it takes, and the day of the decision, if there is one."""

    booked: int
    least: int
    on: date | None
    is_due: bool

    @property
    def on_words(self) -> str:
        """The day in words; empty where there is none."""
        return day_words(self.on) if self.on else ""

    @property
    def is_enough(self) -> bool:
        return self.booked >= self.least

    @property
    def missing(self) -> int:
        return max(0, self.least - self.booked)

    @property
    def too_few(self) -> bool:
        """Whether the day has come and people are missing."""
        return self.is_due and not self.is_enough


def decision_of(session: ClassSession, *, at: datetime) -> Decision | None:
    """The decision on a class; None where one person is enough. Seats only held do not count.

    The day begins at midnight on the kitchen's clock.
    """
    if session.least_people <= 1:
        return None
    today = session.kitchen.moment(at).date
    is_due = session.decide_on is not None and today >= session.decide_on
    booked = max(0, session.taken - session.seats_held())
    return Decision(booked, session.least_people, session.decide_on, is_due)
