"""The money of a class and of a period: what was asked, what came in, and what is owed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from classes.models import Booking, ClassSession


@dataclass(frozen=True, slots=True)
class BookingAccount:
    """One booking in minor units. A canceled one owes nothing and is owed its refund."""

    booking: Booking
    asked_minor: int
    paid_minor: int
    given_back_minor: int
    refund_open_minor: int

    @property
    def balance_minor(self) -> int:
        """What is still to be paid; negative when too much was paid."""
        return self.asked_minor - (self.paid_minor - self.given_back_minor - self.refund_open_minor)


@dataclass(frozen=True, slots=True)
class Account:
    """All bookings of a class that are or were confirmed."""

    session: ClassSession
    bookings: tuple[BookingAccount, ...]

    @property
    def asked_minor(self) -> int:
        return sum(one.asked_minor for one in self.bookings)

    @property
    def paid_minor(self) -> int:
        """What came in, before anything was given back."""
        return sum(one.paid_minor for one in self.bookings)

    @property
    def given_back_minor(self) -> int:
        return sum(one.given_back_minor for one in self.bookings)

    @property
    def refund_open_minor(self) -> int:
        """What is still to be given back."""
        return sum(one.refund_open_minor for one in self.bookings)

    @property
    def outstanding_minor(self) -> int:
        """What people still have to pay."""
        return sum(max(0, one.balance_minor) for one in self.bookings)


def booking_account(booking: Booking) -> BookingAccount:
    """The account of a booking fetched with its payments."""
    amounts = [payment.amount_minor for payment in booking.payments.all()]
    paid = sum(amount for amount in amounts if amount > 0)
    back = -sum(amount for amount in amounts if amount < 0)
    due = booking.refund_due_minor
    asked = booking.price_minor if booking.state == Booking.State.CONFIRMED else 0
    kept = booking.state == Booking.State.CANCELED
    refund_open = max(0, due - back)
    return BookingAccount(
        booking, (paid - due) if kept else asked, paid, back, min(refund_open, max(0, paid - back))
    )


def account_of(session: ClassSession) -> Account:
    """The account of a class; three queries."""
    known = session.bookings.exclude(state__in=(Booking.State.HELD, Booking.State.RUN_OUT))
    found = known.prefetch_related("payments").select_related("session__kitchen")
    return Account(session, tuple(booking_account(one) for one in found))


def accounts_of(sessions: Iterable[ClassSession]) -> Iterator[Account]:
    """The accounts of classes fetched with `bookings__payments`."""
    for session in sessions:
        counted = [
            one
            for one in session.bookings.all()
            if one.state in (Booking.State.CONFIRMED, Booking.State.CANCELED)
        ]
        yield Account(session, tuple(booking_account(one) for one in counted))
