"""Seats held while somebody fills in the form: a few minutes, a few forms per address.

A hold is short until somebody has said how to reach them. One connection holds seats of a class
with only so many forms at once; a database constraint enforces that.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.conf import settings
from django.db import IntegrityError, connection, transaction
from django.db.models import QuerySet

from classes.enrollment.models import Booking, Waiting
from classes.enrollment.services.seats import (
    NoSeats,
    TooLate,
    claim_seats,
    give_back_seats,
    let_go,
    seats_left,
)
from classes.models import ClassSession

HOLD = timedelta(minutes=3)
HOLD_WITH_CONTACT = timedelta(minutes=15)


@dataclass(eq=False)
class TooManyHolds(Exception):
    """A connection already holds seats of a class with as many forms as it may."""


# Written as SQL for when hundreds ask for a full class at once: composing the same with the ORM
# takes several times as long as the database takes to answer.
_SURELY_FULL = """
SELECT 1 FROM classes_classsession AS c
WHERE c.code = %s AND c.is_open AND c.taken + %s > c.seats
AND NOT EXISTS (SELECT 1 FROM enrollment_booking WHERE form_key = %s)
AND NOT EXISTS (
    SELECT 1 FROM enrollment_booking AS b
    WHERE b.session_id = c.id AND b.state = 'held' AND b.held_until < %s
)
"""


def surely_full(*, code: str, seats: int, form_key: str, at: datetime) -> bool:
    """Whether a class has no room, no seats are coming free now, and the form holds none yet.

    A quick refusal in a rush; False promises nothing, `hold_seats` decides.
    """
    moment = connection.ops.adapt_datetimefield_value(at)
    with connection.cursor() as cursor:
        cursor.execute(_SURELY_FULL, [code, seats, form_key, moment])
        return cursor.fetchone() is not None


def hold_seats(
    *, session: ClassSession, seats: int, form_key: str, at: datetime, holder: str = ""
) -> Booking:
    """Hold seats for as long as the form may take; the same form twice is one booking.

    `holder` marks the connection that asks; without one, no limit applies. Raises NoSeats, TooLate
    or TooManyHolds.
    """
    known = Booking.objects.filter(form_key=form_key, session=session).first()
    if known is not None:
        return known
    if not session.is_open or session.starts_at <= at:
        raise TooLate
    _refuse_at_once(session, seats, at)
    for _ in range(1 + settings.HOLDS_AN_ADDRESS):
        try:
            return _hold(session, seats, form_key, at, holder)
        except IntegrityError:
            if not holder or Booking.objects.filter(form_key=form_key).exists():
                return Booking.objects.get(form_key=form_key, session=session)
    raise TooManyHolds


@transaction.atomic
def _hold(session: ClassSession, seats: int, form_key: str, at: datetime, holder: str) -> Booking:
    if let_go(session=session, at=at):
        _let_waiting_first(session)
    booking = Booking.objects.create(
        session=session,
        seats=seats,
        form_key=form_key,
        held_by=holder,
        held_place=_free_place(session, holder) if holder else None,
        held_until=at + HOLD,
        price_minor=seats * session.price_minor,
        told_of=session.change_number,
        made_at=at,
    )
    # Last, because whoever claims next waits from here until this is on disk.
    claim_seats(session=session, seats=seats)
    return booking


def _free_place(session: ClassSession, holder: str) -> int:
    """Which of a connection's few forms this is; two at the same place are refused."""
    held = session.bookings.filter(state=Booking.State.HELD, held_by=holder)
    taken = set(held.values_list("held_place", flat=True))
    for place in range(settings.HOLDS_AN_ADDRESS):
        if place not in taken:
            return place
    raise TooManyHolds


def _refuse_at_once(session: ClassSession, seats: int, at: datetime) -> None:
    """Refuse without a lock if no seat can come free now. Raises NoSeats."""
    left = seats_left(session)
    if left < seats and not session.bookings.run_out(at).exists():
        raise NoSeats(max(0, left))
    _let_waiting_first(session)


def _let_waiting_first(session: ClassSession) -> None:
    """Keep free seats for those who wait, if they are enough for one of them. Raises NoSeats."""
    waiting = session.waiting.filter(state=Waiting.State.WAITING, seats__lte=seats_left(session))
    if waiting.exists():
        raise NoSeats(0)


@transaction.atomic
def change_hold(*, booking: Booking, seats: int, at: datetime) -> None:
    """Hold another number of seats with the same form, until the same time.

    Raises NoSeats, without changing anything, or TooLate.
    """
    more = seats - booking.seats
    mine = _live(booking, at).filter(seats=booking.seats)
    if not mine.update(seats=seats, price_minor=seats * booking.session.price_minor):
        raise TooLate
    if more > 0:
        _let_waiting_first(booking.session)
        claim_seats(session=booking.session, seats=more)
    elif more < 0:
        give_back_seats(session=booking.session, seats=-more)
    booking.refresh_from_db()


def keep_hold(*, booking: Booking, email: str, phone: str, at: datetime) -> bool:
    """Hold seats longer, now that somebody has said how to reach them; False if it is over.

    However often that is called, the time counts from when the seats were first held.
    """
    until = longer_hold(booking) or booking.held_until
    kept = _live(booking, at).update(email=email, phone=phone, held_until=until)
    booking.refresh_from_db()
    return bool(kept)


def longer_hold(booking: Booking) -> datetime | None:
    """Until when seats would be held with a contact, if that is longer; an offer's is not."""
    until = booking.made_at + HOLD_WITH_CONTACT
    return until if booking.held_until is not None and until > booking.held_until else None


def _live(booking: Booking, at: datetime) -> QuerySet[Booking]:
    """The booking, as long as its seats are held."""
    return Booking.objects.filter(pk=booking.pk, state=Booking.State.HELD, held_until__gte=at)


@transaction.atomic
def hold_anew(*, booking: Booking, at: datetime) -> None:
    """Hold the seats of a form that was sent too late again, if they are still free.

    An offer that was not answered in time stays passed on. Raises NoSeats or TooLate.
    """
    session = ClassSession.objects.get(pk=booking.session_id)
    if not session.is_open or session.starts_at <= at:
        raise TooLate
    let_go(session=session, at=at)
    _let_waiting_first(session)
    over = Booking.objects.filter(
        pk=booking.pk, state=Booking.State.RUN_OUT, canceled_at=None, waited=None, erased_at=None
    )
    if not over.update(state=Booking.State.HELD, held_until=at + HOLD, made_at=at):
        raise TooLate
    claim_seats(session=session, seats=booking.seats)
    booking.refresh_from_db()
