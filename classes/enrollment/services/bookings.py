"""What the instructor does at the desk: the public side of a class, payments, and letters."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from django.contrib.auth.models import User
from django.db import IntegrityError, transaction

from classes.core.money import Money
from classes.enrollment.models import Booking, Letter, Payment
from classes.enrollment.services.enrolling import pass_on_seats
from classes.enrollment.services.letters import send_again, write_changes
from classes.enrollment.services.seats import save_all_but_taken
from classes.models import ClassCost, ClassSession


@transaction.atomic
def save_public_side(*, session: ClassSession, at: datetime) -> ClassSession:
    """Save what the public page says; opening a class offers free seats to those who wait."""
    save_all_but_taken(session=session)
    if session.is_open:
        pass_on_seats(session=session, at=at)
    return session


@transaction.atomic
def save_costs(*, costs: Iterable[ClassCost], removed: Iterable[ClassCost]) -> None:
    """Save what a class costs besides its ingredients."""
    for cost in removed:
        cost.delete()
    for cost in costs:
        cost.save()


def note_payment(
    *,
    booking: Booking,
    amount: Money,
    means: str,
    paid_on: date,
    note: str,
    form_key: str,
    user: User,
) -> Payment:
    """Record money that changed hands; the same form twice is one payment.

    Raises TwoCurrencies if the class uses another currency.
    """
    booking.price + amount
    fields = {
        "booking": booking,
        "amount_minor": amount.amount_minor,
        "means": means,
        "paid_on": paid_on,
        "note": note,
        "noted_by": user,
    }
    try:
        with transaction.atomic():
            return Payment.objects.get_or_create(form_key=form_key, defaults=fields)[0]
    except IntegrityError:
        return Payment.objects.get(form_key=form_key)


def tell_of_change(*, session: ClassSession, at: datetime) -> int:
    """Write to everybody who has not been told of the last change; returns how many letters."""
    return len(write_changes(session=session, at=at))


def try_letters_again(*, session: ClassSession, at: datetime) -> int:
    """Queue the letters that could not be sent; returns how many."""
    failed = session.letters.filter(state=Letter.State.FAILED).exclude(to="")
    return send_again(letters=failed, at=at)
