"""The money of a class and of a period: what was asked, what came in, and what is owed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from classes.core.money import Money, total
from classes.enrollment.models import Booking
from classes.models import ClassSession


@dataclass(frozen=True, slots=True)
class BookingAccount:
    """One booking. A canceled one owes nothing and is owed its refund."""

    booking: Booking
    asked: Money
    paid: Money
    given_back: Money
    refund_open: Money

    @property
    def balance(self) -> Money:
        """What is still to be paid; negative when too much was paid."""
        return self.asked - (self.paid - self.given_back - self.refund_open)


@dataclass(frozen=True, slots=True)
class Account:
    """All bookings of a class that are or were confirmed."""

    session: ClassSession
    bookings: tuple[BookingAccount, ...]

    @property
    def asked(self) -> Money:
        return self._sum(one.asked for one in self.bookings)

    @property
    def paid(self) -> Money:
        """What came in, before anything was given back."""
        return self._sum(one.paid for one in self.bookings)

    @property
    def given_back(self) -> Money:
        return self._sum(one.given_back for one in self.bookings)

    @property
    def refund_open(self) -> Money:
        """What is still to be given back."""
        return self._sum(one.refund_open for one in self.bookings)

    @property
    def outstanding(self) -> Money:
        """What people still have to pay."""
        return self._sum(one.balance.at_least_nothing() for one in self.bookings)

    def _sum(self, amounts: Iterable[Money]) -> Money:
        return total(amounts, self.session.currency)


def booking_account(booking: Booking, currency: str) -> BookingAccount:
    """The account of a booking of a class in this currency, fetched with its payments."""
    amounts = [payment.amount_minor for payment in booking.payments.all()]
    paid = sum(amount for amount in amounts if amount > 0)
    back = -sum(amount for amount in amounts if amount < 0)
    due = booking.refund_due_minor
    asked = booking.price_minor if booking.state == Booking.State.CONFIRMED else 0
    kept = booking.state == Booking.State.CANCELED
    refund_open = min(max(0, due - back), max(0, paid - back))
    figures = ((paid - due) if kept else asked, paid, back, refund_open)
    return BookingAccount(booking, *(Money(minor, currency) for minor in figures))


def account_of(session: ClassSession) -> Account:
    """The account of a class; three queries."""
    known = session.bookings.exclude(state__in=(Booking.State.HELD, Booking.State.RUN_OUT))
    found = known.prefetch_related("payments").select_related("session__kitchen")
    return Account(session, tuple(booking_account(one, session.currency) for one in found))


def accounts_of(sessions: Iterable[ClassSession]) -> Iterator[Account]:
    """The accounts of classes fetched with `bookings__payments`."""
    for session in sessions:
        counted = [
            one
            for one in session.bookings.all()
            if one.state in (Booking.State.CONFIRMED, Booking.State.CANCELED)
        ]
        yield Account(session, tuple(booking_account(one, session.currency) for one in counted))
