"""Leaving a class, moving to another, changing what was told, and being erased."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from django.db import transaction
from django.db.models import F, QuerySet, Sum

from classes.core.money import Money
from classes.core.terms import Canceling, canceling
from classes.enrollment.models import BakedVariant, Booking, DietDecision, Enrollment, Payment
from classes.enrollment.models.booking import new_link_nonce
from classes.enrollment.public import terms_of
from classes.enrollment.services.enrolling import forget_waiting, give_up_booking, pass_on_seats
from classes.enrollment.services.letters import (
    ERASED,
    erase_letters,
    forget_in_letters,
    write_canceled,
    write_confirmation,
)
from classes.enrollment.services.seats import (
    Diner,
    TooLate,
    absent_people,
    claim_seats,
    give_back_seats,
    take_out,
)
from classes.enrollment.services.telling import note_told
from classes.models import ClassSession
from classes.models.papers import forget_papers
from config.backup import erasures


def paid_so_far(booking: Booking) -> Money:
    """What was paid and not given back."""
    return _sum(booking, booking.payments.all())


def _sum(booking: Booking, payments: QuerySet[Payment]) -> Money:
    paid_minor = payments.aggregate(all=Sum("amount_minor"))["all"] or 0
    return Money(paid_minor, booking.session.currency)


def terms_now(booking: Booking, *, at: datetime) -> Canceling:
    """What canceling the whole booking at a moment leads to."""
    session = booking.session
    return canceling(
        terms_of(session),
        session.starts_at,
        session.kitchen.zone,
        at=at,
        paid=paid_so_far(booking),
    )


def change_diet(*, enrollment: Enrollment, diner: Diner, at: datetime) -> None:
    """Save what a person now says they must not eat."""
    enrollment.diet, enrollment.must_not_eat = diner.diet, diner.must_not_eat
    enrollment.allergens, enrollment.blanked_at = list(diner.allergens), None
    note_told(enrollment=enrollment, at=at)
    told = ["diet", "must_not_eat", "allergens", "told_since", "blanked_at"]
    enrollment.save(update_fields=told)


@transaction.atomic
def cancel_all(*, booking: Booking, at: datetime, tell: bool = True) -> bool:
    """Cancel a booking under its class's rule; False if that was done already.

    A letter says so, unless `tell` is False. Raises TooLate once the class has begun.
    """
    if booking.session.starts_at <= at:
        raise TooLate
    due = booking.refund_due + _more_due(booking, at)
    email = booking.email
    if not give_up_booking(booking=booking, refund_due=due, at=at):
        return False
    if email and tell:
        write_canceled(booking=booking, email=email, at=at)
    return True


@transaction.atomic
def cancel_one(*, enrollment: Enrollment, at: datetime) -> None:
    """Take one person out of the class; the last of a booking cancels it.

    While the class's rule gives money back, the booking's price falls by one seat; later it stays.
    Raises TooLate once the class has begun.
    """
    session, booking = enrollment.session, _held_fast(enrollment.booking)
    if session.starts_at <= at:
        raise TooLate
    if booking is not None and booking.seats == 1:
        cancel_all(booking=booking, at=at)
        return
    share = _more_due(booking, at).amount_minor // booking.seats if booking else 0
    if not take_out(enrollment=enrollment):
        return
    if booking is not None:
        given_up = terms_now(booking, at=at).in_time
        price = booking.price_minor // booking.seats if given_up else 0
        Booking.objects.filter(pk=booking.pk).update(
            seats=F("seats") - 1,
            price_minor=F("price_minor") - price,
            refund_due_minor=F("refund_due_minor") + share,
        )
    pass_on_seats(session=session, at=at)


def _held_fast(booking: Booking | None) -> Booking | None:
    """The booking as it is now, locked."""
    if booking is None:
        return None
    return Booking.objects.select_for_update().get(pk=booking.pk)


def _more_due(booking: Booking, at: datetime) -> Money:
    """What leaving now gives back, besides what is already due from those who left before."""
    given_back = -_sum(booking, booking.payments.filter(amount_minor__lt=0))
    still_due = (booking.refund_due - given_back).at_least_nothing()
    return (terms_now(booking, at=at).refund_due - still_due).at_least_nothing()


@transaction.atomic
def take_off_roster(*, enrollment: Enrollment, at: datetime) -> None:
    """Take a person off for the instructor: as if they had canceled, at any time."""
    if enrollment.session.starts_at > at:
        cancel_one(enrollment=enrollment, at=at)
        return
    booking = _held_fast(enrollment.booking)
    if take_out(enrollment=enrollment) and booking is not None:
        left = booking.people.count()
        state = Booking.State.CONFIRMED if left else Booking.State.CANCELED
        Booking.objects.filter(pk=booking.pk).update(seats=max(1, left), state=state)


@transaction.atomic
def move_booking(*, booking: Booking, to: ClassSession, at: datetime) -> Booking:
    """Move a confirmed booking with its people to another open class, at that class's price.

    Payments move along; the variants they would have baked and the decisions do not.

    Raises NoSeats, TooLate if the rule or the booking no longer allows it, or TwoCurrencies if the
    class uses another currency than was paid.
    """
    old = booking.session
    old.price + to.price
    if not terms_now(booking, at=at).may_move or not to.is_open or to.starts_at <= at:
        raise TooLate
    claim_seats(session=to, seats=booking.seats)
    moved = Booking.objects.filter(pk=booking.pk, state=Booking.State.CONFIRMED, session=old)
    price = booking.seats * to.price_minor
    if not moved.update(session=to, told_of=to.change_number, price_minor=price):
        raise TooLate
    absent = absent_people(booking=booking)
    BakedVariant.objects.filter(enrollment__booking=booking).delete()
    DietDecision.objects.filter(enrollment__booking=booking).delete()
    booking.people.update(session=to, station=None, door=Enrollment.Door.EXPECTED)
    _tell_anew(booking.people.all(), at)
    give_back_seats(session=old, seats=booking.seats - absent)
    booking.refresh_from_db()
    write_confirmation(booking=booking, at=at)
    pass_on_seats(session=old, at=at)
    return booking


def _tell_anew(people: Iterable[Enrollment], at: datetime) -> None:
    """Date what people told us as of now: another class's staff did not know it before."""
    for person in people:
        person.told_since = {}
        note_told(enrollment=person, at=at)
        person.save(update_fields=["told_since"])


@transaction.atomic
def erase_person(*, enrollment: Enrollment, at: datetime) -> None:
    """Erase who a person is; before the class this gives the seat back; counts and money stay.

    Erasing the contact of a booking erases all its people.
    """
    erasures.wipe_when_saved()
    erasures.note(erasures.ErasedKind.PERSON, erasures.mark_of(enrollment.mark))
    booking, made = enrollment.booking, booking_made_by(enrollment)
    forget_papers(enrollment.session)
    if booking is not None:
        forget_in_letters(booking=booking, name=enrollment.name)
    if enrollment.session.starts_at > at:
        if made:
            cancel_all(booking=made, at=at, tell=False)
        else:
            cancel_one(enrollment=enrollment, at=at)
    elif made:
        _forget(list(made.people.all()), at)
    else:
        _forget([enrollment], at)
    if booking is not None and (made or not booking.people.exists()):
        forget_booking(booking=booking, at=at)


def booking_made_by(enrollment: Enrollment) -> Booking | None:
    """The booking that a person made: they are its first, under the booking's name.

    If that person has left or somebody else comes in their place, nobody made it.
    """
    if (booking := enrollment.booking) is None:
        return None
    first = booking.people.order_by("position", "pk").first()
    is_theirs = first is not None and first.pk == enrollment.pk and first.name == booking.name
    return booking if is_theirs else None


def _forget(people: list[Enrollment], at: datetime) -> None:
    for person in people:
        person.name, person.must_not_eat = ERASED, ""
        person.diet, person.allergens, person.told_since, person.blanked_at = "", [], {}, at
        person.home = {}
        person.decisions.all().delete()
        person.link_nonce = new_link_nonce()
        person.save()


@transaction.atomic
def forget_booking(*, booking: Booking, at: datetime) -> None:
    """Erase names and addresses in the booking, its letters, payments and the waiting list."""
    erasures.wipe_when_saved()
    erasures.note(erasures.ErasedKind.BOOKING, erasures.mark_of(booking.form_key))
    Booking.objects.filter(pk=booking.pk).update(
        name=ERASED, email="", phone="", erased_at=at, link_nonce=new_link_nonce()
    )
    erase_letters(booking.letters.all())
    booking.payments.update(note="")
    waited = getattr(booking, "waited", None)
    if waited is not None:
        forget_waiting(entry=waited)


@transaction.atomic
def erase_booking(*, booking: Booking, at: datetime) -> None:
    """Erase a booking with all its people; before the class this gives its seats back."""
    standing = booking.state in (Booking.State.HELD, Booking.State.CONFIRMED)
    if standing and booking.session.starts_at > at:
        cancel_all(booking=booking, at=at, tell=False)
    _forget(list(booking.people.all()), at)
    forget_papers(booking.session)
    forget_booking(booking=booking, at=at)
