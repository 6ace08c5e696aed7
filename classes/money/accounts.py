"""The money of a class and of a period: what was charged, what came in, and what is owed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from classes.core.money import Money, nothing, total
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
        """What is still to be paid; negative if too much was paid."""
        return self.asked - (self.paid - self.given_back - self.refund_open)


@dataclass(frozen=True, slots=True)
class Account:
    """All bookings of a class that are or were confirmed."""

    session: ClassSession
    bookings: tuple[BookingAccount, ...]

    @property
    def asked(self) -> Money:
        return self._sum(booking.asked for booking in self.bookings)

    @property
    def paid(self) -> Money:
        """What came in, before refunds."""
        return self._sum(booking.paid for booking in self.bookings)

    @property
    def given_back(self) -> Money:
        return self._sum(booking.given_back for booking in self.bookings)

    @property
    def refund_open(self) -> Money:
        """What is still to be refunded."""
        return self._sum(booking.refund_open for booking in self.bookings)

    @property
    def outstanding(self) -> Money:
        """What people still have to pay."""
        return self._sum(booking.balance.at_least_nothing() for booking in self.bookings)

    def _sum(self, amounts: Iterable[Money]) -> Money:
        return total(amounts, self.session.currency)


def booking_account(booking: Booking) -> BookingAccount:
    """The account of a booking, fetched with its class and its payments."""
    currency = booking.session.currency
    payments = [payment.amount for payment in booking.payments.all()]
    paid = total((amount for amount in payments if not amount.is_negative), currency)
    back = -total((amount for amount in payments if amount.is_negative), currency)
    asked = booking.price if booking.state == Booking.State.CONFIRMED else nothing(currency)
    if booking.state == Booking.State.CANCELED:
        asked = paid - booking.refund_due
    owed = min(booking.refund_due - back, paid - back).at_least_nothing()
    return BookingAccount(booking, asked, paid, back, owed)


def account_of(session: ClassSession) -> Account:
    """The account of a class; three queries."""
    known = session.bookings.exclude(state__in=(Booking.State.HELD, Booking.State.RUN_OUT))
    found = known.prefetch_related("payments").select_related("session__kitchen")
    return Account(session, tuple(booking_account(booking) for booking in found))


def accounts_of(sessions: Iterable[ClassSession]) -> Iterator[Account]:
    """The accounts of classes fetched with `bookings__payments`."""
    for session in sessions:
        counted = [
            booking
            for booking in session.bookings.all()
            if booking.state in (Booking.State.CONFIRMED, Booking.State.CANCELED)
        ]
        yield Account(session, tuple(booking_account(booking) for booking in counted))
