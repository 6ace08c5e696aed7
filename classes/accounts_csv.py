"""Accounts as CSV: one line for each booking, amounts in plain digits."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from classes.accounts import Account, BookingAccount
from classes.safe_csv import harmless
from classes.templatetags.classes_money import places_of

COLUMNS = (
    "class",
    "code",
    "date",
    "booked_by",
    "seats",
    "state",
    "currency",
    "asked",
    "paid",
    "given_back",
    "refund_open",
    "balance",
)


def accounts_csv(accounts: Iterable[Account]) -> str:
    """CSV text with a head line; cells that could be formulas are made harmless."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for account in accounts:
        for one in account.bookings:
            writer.writerow([harmless(cell) for cell in _row(account, one)])
    return out.getvalue()


def _row(account: Account, one: BookingAccount) -> list[str]:
    session, booking = account.session, one.booking
    kitchen = session.kitchen
    amounts = (
        one.asked_minor,
        one.paid_minor,
        one.given_back_minor,
        one.refund_open_minor,
        one.balance_minor,
    )
    return [
        session.title,
        session.code,
        session.starts_at.astimezone(kitchen.zone).date().isoformat(),
        booking.name,
        str(booking.seats),
        booking.get_state_display(),
        kitchen.currency,
        *(_plain(amount, kitchen.currency) for amount in amounts),
    ]


def _plain(minor: int, currency: str) -> str:
    places = places_of(currency)
    sign, amount = ("-" if minor < 0 else ""), abs(minor)
    whole, part = divmod(amount, 10**places)
    return f"{sign}{whole}.{part:0{places}d}" if places else f"{sign}{whole}"
