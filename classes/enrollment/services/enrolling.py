"""From a filled form to people in a class, with the letters that tell them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from django.db import IntegrityError, transaction

from classes.core.money import Money
from classes.enrollment.models import Booking, Waiting
from classes.enrollment.models.booking import new_link_nonce
from classes.enrollment.services.letters import (
    ERASED,
    erase_letters,
    write_confirmation,
    write_offer,
)
from classes.enrollment.services.seats import (
    Diner,
    cancel_booking,
    confirm_booking,
    offer_seats,
    take_back_offer,
)
from classes.models import ClassSession
from config.backup import erasures


@transaction.atomic
def enroll_people(
    *, booking: Booking, people: Sequence[Diner], email: str, phone: str, at: datetime
) -> bool:
    """Confirm held seats with the people who come, and write the confirmation.

    False if the booking was confirmed already. Raises TooLate.
    """
    confirmed = confirm_booking(
        booking=booking, people=people, name=people[0].name, email=email, phone=phone, at=at
    )
    if confirmed:
        write_confirmation(booking=booking, at=at)
    return confirmed


def join_waiting(
    *, session: ClassSession, name: str, email: str, seats: int, form_key: str, at: datetime
) -> Waiting:
    """Put somebody on the waiting list; the same form twice is one place."""
    try:
        with transaction.atomic():
            entry, _ = Waiting.objects.get_or_create(
                form_key=form_key,
                defaults={
                    "session": session,
                    "name": name,
                    "email": email,
                    "seats": seats,
                    "made_at": at,
                },
            )
    except IntegrityError:
        entry = Waiting.objects.get(form_key=form_key)
    pass_on_seats(session=session, at=at)
    entry.refresh_from_db()
    return entry


@transaction.atomic
def leave_waiting(*, entry: Waiting, at: datetime) -> None:
    """Take somebody off the list and erase who it was; an offer to them goes to the next."""
    still = Waiting.objects.filter(
        pk=entry.pk, state__in=(Waiting.State.WAITING, Waiting.State.OFFERED)
    )
    if not still.update(state=Waiting.State.LEFT):
        return
    if entry.booking:
        take_back_offer(booking=entry.booking, at=at)
        Booking.objects.filter(pk=entry.booking.pk, state=Booking.State.RUN_OUT).update(
            name=ERASED, email=""
        )
    entry.refresh_from_db()
    forget_waiting(entry=entry, close_link=False)
    pass_on_seats(session=entry.session, at=at)


def forget_waiting(*, entry: Waiting, close_link: bool = True) -> None:
    """Remove name and address from a place on the waiting list and from its letters."""
    erasures.wipe_when_saved()
    erasures.note(erasures.ErasedKind.WAITING, erasures.mark_of(entry.form_key))
    erase_letters(entry.letters.all())
    entry.name, entry.email = ERASED, ""
    if close_link:
        entry.link_nonce = new_link_nonce()
    entry.save()


@transaction.atomic
def pass_on_seats(*, session: ClassSession, at: datetime) -> tuple[Waiting, ...]:
    """Offer free seats to those who wait, with a letter to each who gets an offer."""
    offered = offer_seats(session=session, at=at)
    for entry in offered:
        write_offer(entry=entry, at=at)
    return offered


@transaction.atomic
def give_up_booking(*, booking: Booking, refund_due: Money, at: datetime) -> bool:
    """Cancel a booking and offer its seats to those who wait; False if it was done already."""
    canceled = cancel_booking(booking=booking, refund_due=refund_due, at=at)
    if canceled:
        pass_on_seats(session=booking.session, at=at)
    return canceled
