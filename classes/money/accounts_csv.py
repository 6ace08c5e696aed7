"""Accounts as CSV: one line for each booking, amounts in plain digits."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from classes.models import ClassSession
from classes.money.accounts import Account, BookingAccount
from classes.money.costs import CostLine, CostSheet
from classes.safe_csv import harmless

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


COST_COLUMNS = ("costs", "now", "full", "without_price")


def accounts_csv(accounts: Iterable[Account], costs: CostSheet | None = None) -> str:
    """CSV text with a header; cells that could be formulas are made harmless.

    With the costs of the class, a line for each follows the bookings, in columns of their own.
    """
    rows = [_row(account, booking) for account in accounts for booking in account.bookings]
    if costs:
        rows = [[*row, *[""] * len(COST_COLUMNS)] for row in rows]
        rows += [_cost_row(costs, line) for line in costs.all_lines]
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow((*COLUMNS, *COST_COLUMNS) if costs else COLUMNS)
    writer.writerows([harmless(cell) for cell in row] for row in rows)
    return out.getvalue()


def _class_cells(session: ClassSession) -> list[str]:
    return [session.title, session.code, session.when.starts.iso_date]


def _cost_row(costs: CostSheet, line: CostLine) -> list[str]:
    """A line of the costs: the known amount, empty if there is none, and what is not known."""
    amounts = ["" if cost.says_nothing else cost.known.plain for cost in (line.now, line.full)]
    cells = [*_class_cells(costs.session), "", "", "", costs.session.currency, *[""] * 5]
    return [*cells, line.name, *amounts, "; ".join(line.missing)]


def _row(account: Account, one: BookingAccount) -> list[str]:
    session, booking = account.session, one.booking
    amounts = (one.asked, one.paid, one.given_back, one.refund_open, one.balance)
    return [
        *_class_cells(session),
        booking.name,
        str(booking.seats),
        booking.get_state_display(),
        session.currency,
        *(amount.plain for amount in amounts),
    ]
