"""Seats: claimed, confirmed, given back and offered on, never more than a class has.

A seat is claimed by one UPDATE that only applies if there is room, inside a transaction, with a
database constraint as a backstop. Taken seats are those of held or confirmed bookings, and one for
everybody whom the instructor typed into the roster.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import F, Sum

from classes.core.money import Money
from classes.enrollment.models import Booking, Enrollment, Waiting
from classes.enrollment.services.telling import note_told
from classes.models import ClassSession

OFFER = timedelta(hours=24)
LAST_ANSWER = timedelta(hours=1)
COUNTED = (Booking.State.HELD, Booking.State.CONFIRMED)


@dataclass(frozen=True, slots=True)
class Diner:
    """A person of a booking: the name, and what they must not eat in their own words."""

    name: str
    diet: str = ""
    allergens: tuple[str, ...] = ()
    must_not_eat: str = ""


@dataclass(eq=False)
class NoSeats(Exception):
    """Fewer seats are left than were wanted."""

    left: int


class TooLate(Exception):
    """The seats were not taken up in time, or the class has begun or is closed."""


def seats_left(session: ClassSession) -> int:
    """Seats that nobody has taken or holds, as the database has it now."""
    fresh = ClassSession.objects.values("seats", "taken").get(pk=session.pk)
    return fresh["seats"] - fresh["taken"]


def _claim(session: ClassSession, seats: int) -> None:
    claimed = ClassSession.objects.filter(pk=session.pk, taken__lte=F("seats") - seats)
    if not claimed.update(taken=F("taken") + seats):
        raise NoSeats(max(0, seats_left(session)))


def claim_seats(*, session: ClassSession, seats: int) -> None:
    """Count seats as taken if there is room, inside the caller's transaction. Raises NoSeats."""
    _claim(session, seats)


def give_back_seats(*, session: ClassSession, seats: int) -> None:
    """Count seats as free again, inside the caller's transaction."""
    _give_back(session.pk, seats)


def _give_back(session_pk: int, seats: int) -> None:
    ClassSession.objects.filter(pk=session_pk).update(taken=F("taken") - seats)


@transaction.atomic(savepoint=False)
def let_go(*, session: ClassSession, at: datetime) -> int:
    """End the holds of a class whose time is over; returns how many seats came free."""
    return _let_go(session.pk, at)


def _let_go(session_pk: int, at: datetime) -> int:
    """End the holds whose time is over, each once; the seats that came free."""
    freed = 0
    for booking in Booking.objects.filter(session=session_pk).run_out(at):
        mine = Booking.objects.filter(pk=booking.pk, state=Booking.State.HELD)
        if mine.update(state=Booking.State.RUN_OUT, held_by="", held_place=None):
            freed += booking.seats
            # Nobody has booked: contact data given for the hold is erased, but not an offer's.
            Booking.objects.filter(pk=booking.pk, waited=None).update(email="", phone="")
            Waiting.objects.filter(booking=booking, state=Waiting.State.OFFERED).update(
                state=Waiting.State.PASSED
            )
    if freed:
        _give_back(session_pk, freed)
    return freed


@transaction.atomic
def confirm_booking(
    *,
    booking: Booking,
    people: Sequence[Diner],
    name: str,
    email: str,
    phone: str,
    at: datetime,
) -> bool:
    """Make held seats a confirmed booking with its people; False if it was confirmed already.

    Raises TooLate when the hold has run out.
    """
    held = Booking.objects.filter(pk=booking.pk, state=Booking.State.HELD, held_until__gte=at)
    if not held.update(
        state=Booking.State.CONFIRMED,
        confirmed_at=at,
        held_until=None,
        held_by="",
        held_place=None,
        name=name,
        email=email,
        phone=phone,
    ):
        booking.refresh_from_db()
        if booking.state == Booking.State.CONFIRMED:
            return False
        raise TooLate
    booking.refresh_from_db()
    after = _next_position(booking.session_id)
    for number, person in enumerate(people):
        one = Enrollment(
            session_id=booking.session_id,
            booking=booking,
            position=after + number,
            name=person.name,
            diet=person.diet,
            allergens=list(person.allergens),
            must_not_eat=person.must_not_eat,
        )
        note_told(enrollment=one, at=at)
        one.save()
    Waiting.objects.filter(booking=booking).update(state=Waiting.State.BOOKED)
    return True


def _next_position(session_pk: int) -> int:
    last = Enrollment.objects.filter(session=session_pk).order_by("-position").first()
    return last.position + 1 if last else 0


@transaction.atomic
def cancel_booking(*, booking: Booking, refund_due: Money, at: datetime) -> bool:
    """Give a booking's seats back and take its people off the roster; False if that was done."""
    counted = Booking.objects.filter(pk=booking.pk, state__in=COUNTED)
    if not counted.update(
        state=Booking.State.CANCELED,
        canceled_at=at,
        refund_due_minor=refund_due.amount_minor,
        held_by="",
        held_place=None,
    ):
        return False
    booking.refresh_from_db()
    taken = booking.seats - absent_people(booking=booking)
    booking.people.all().delete()
    _give_back(booking.session_id, taken)
    return True


def absent_people(*, booking: Booking) -> int:
    """How many in a booking were marked absent at the door; their seats are already given back."""
    return booking.people.filter(door=Enrollment.Door.ABSENT).count()


@transaction.atomic
def take_out(*, enrollment: Enrollment) -> bool:
    """Take one person off the roster and give the seat back; False if that was done already."""
    fresh = Enrollment.objects.select_for_update().filter(pk=enrollment.pk).first()
    if fresh is None:
        return False
    fresh.delete()
    if fresh.door != Enrollment.Door.ABSENT:
        _give_back(fresh.session_id, 1)
    return True


@transaction.atomic
def take_back_offer(*, booking: Booking, at: datetime) -> bool:
    """End a hold early, as when an offer is refused; False if it was not a hold."""
    held = Booking.objects.filter(pk=booking.pk, state=Booking.State.HELD)
    if not held.update(state=Booking.State.RUN_OUT, canceled_at=at):
        return False
    _give_back(booking.session_id, booking.seats)
    return True


@transaction.atomic
def offer_seats(*, session: ClassSession, at: datetime) -> tuple[Waiting, ...]:
    """Hold free seats for those who wait, the first who fit first; returns those with an offer.

    An offer ends after a day, and an hour before the class at the latest.
    """
    _let_go(session.pk, at)
    ends = min(at + OFFER, session.starts_at - LAST_ANSWER)
    offered: list[Waiting] = []
    if ends <= at:
        return ()
    for entry in session.waiting.filter(state=Waiting.State.WAITING):
        try:
            with transaction.atomic():
                _claim(session, entry.seats)
                entry.booking = Booking.objects.create(
                    session=session,
                    seats=entry.seats,
                    form_key=f"offer-{entry.pk}",
                    held_until=ends,
                    price_minor=entry.seats * session.price_minor,
                    told_of=session.change_number,
                    made_at=at,
                    name=entry.name,
                    email=entry.email,
                )
        except NoSeats:
            continue
        entry.state, entry.offered_at = Waiting.State.OFFERED, at
        entry.save(update_fields=["state", "offered_at", "booking"])
        offered.append(entry)
    return tuple(offered)


def save_all_but_taken(*, session: ClassSession) -> None:
    """Save a class, except the count of seats taken, which may have changed since."""
    if session.pk is None:
        session.save()
        return
    fields = [field.name for field in ClassSession._meta.concrete_fields if not field.primary_key]
    session.save(update_fields=[name for name in fields if name != "taken"])


def recount_seats(*, session: ClassSession) -> int:
    """Count the seats taken again after the roster was changed; call it in the same transaction.

    Somebody marked absent at the door takes no seat.
    """
    held = session.bookings.filter(state__in=COUNTED).aggregate(seats=Sum("seats"))["seats"] or 0
    typed = session.enrollments.filter(booking=None).count()
    taken = held + typed - session.enrollments.filter(door=Enrollment.Door.ABSENT).count()
    ClassSession.objects.filter(pk=session.pk).update(taken=taken)
    return taken
