"""Accounts as CSV: one line for each booking, amounts in plain digits."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from classes.accounts import Account, BookingAccount
from classes.costs import CostLine, CostSheet
from classes.models import ClassSession
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


COST_COLUMNS = ("costs", "now", "full")


def accounts_csv(accounts: Iterable[Account], costs: CostSheet | None = None) -> str:
    """CSV text with a head line; cells that could be formulas are made harmless.

    With the costs of the class, a line for each follows the bookings, in columns of their own.
    """
    rows = [_row(account, one) for account in accounts for one in account.bookings]
    if costs:
        rows = [[*row, "", "", ""] for row in rows]
        rows += [_cost_row(costs, line) for line in costs.all_lines]
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow((*COLUMNS, *COST_COLUMNS) if costs else COLUMNS)
    writer.writerows([harmless(cell) for cell in row] for row in rows)
    return out.getvalue()


def _class_cells(session: ClassSession) -> list[str]:
    return [session.title, session.code, session.when.starts.iso_date]


def _cost_row(costs: CostSheet, line: CostLine) -> list[str]:
    currency = costs.session.kitchen.currency
    amounts = _plain(line.now_minor, currency), _plain(line.full_minor, currency)
    blanks = [""] * 5
    cells = _class_cells(costs.session)
    return [*cells, "", "", "", currency, *blanks, line.name, *amounts]


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
        *_class_cells(session),
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
