"""Seats that are free or held for a few minutes, and whether enough are taken."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from classes.enrollment.models import Booking, Waiting
from classes.models import ClassSession
from wording.moments import Moment, day_words

A_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class Vacancy:
    """`held` seats come free if their forms are not sent, the first at `again_at`."""

    left: int
    held: int = 0
    again_at: Moment | None = None
    again_min: int = 0

    @property
    def is_held(self) -> bool:
        """Whether nothing is left now but something may come free within minutes."""
        return not self.left and self.held > 0

    @property
    def is_full(self) -> bool:
        """Whether every seat is booked, or kept for somebody who waits."""
        return not self.left and not self.held


def vacancy_of(session: ClassSession, at: datetime) -> Vacancy:
    """The vacancy of one class."""
    return vacancies([session], at)[session.pk]


def vacancies(sessions: Collection[ClassSession], at: datetime) -> dict[int, Vacancy]:
    """The vacancies of classes by primary key, in two queries at most."""
    forms: dict[int, list[Booking]] = {session.pk: [] for session in sessions}
    held = Booking.objects.filter(state=Booking.State.HELD, session__in=forms, waited=None)
    for booking in held.only("session_id", "seats", "held_until"):
        forms[booking.session_id].append(booking)
    over = {pk for pk, holds in forms.items() if any(_is_over(hold, at) for hold in holds)}
    waiting = Waiting.objects.filter(state=Waiting.State.WAITING, session__in=over)
    awaited = set(waiting.values_list("session_id", flat=True)) if over else set()
    return {
        session.pk: _vacancy(session, forms[session.pk], at, session.pk in awaited)
        for session in sessions
    }


def _is_over(booking: Booking, at: datetime) -> bool:
    return booking.held_until is not None and booking.held_until < at


def _vacancy(
    session: ClassSession, held: Collection[Booking], at: datetime, is_awaited: bool
) -> Vacancy:
    """Held seats whose time is over count as left, unless they go to those who wait."""
    live = [hold for hold in held if not _is_over(hold, at)]
    freed = sum(hold.seats for hold in held) - sum(hold.seats for hold in live)
    left = session.seats_left + (0 if is_awaited else freed)
    ends = min((hold.held_until for hold in live if hold.held_until), default=None)
    if ends is None:
        return Vacancy(left)
    minutes = -((at - ends) // A_MINUTE)
    whole = ends.replace(second=0, microsecond=0)
    shown = whole if whole == ends else whole + A_MINUTE
    seats = sum(hold.seats for hold in live)
    return Vacancy(left, seats, session.kitchen.moment(shown), max(1, minutes))


@dataclass(frozen=True, slots=True)
class Decision:
    """How many have booked, how many are needed, and the day of the decision, if there is one."""

    booked: int
    least: int
    on: date | None
    is_due: bool

    @property
    def on_words(self) -> str:
        """The day in words; empty if there is none."""
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
    """The decision on a class; None if one person is enough. Seats that are only held do not count.

    The day begins at midnight on the kitchen's clock.
    """
    if session.least_people <= 1:
        return None
    today = session.kitchen.moment(at).date
    is_due = session.decide_on is not None and today >= session.decide_on
    booked = max(0, session.taken - session.seats_held())
    return Decision(booked, session.least_people, session.decide_on, is_due)
