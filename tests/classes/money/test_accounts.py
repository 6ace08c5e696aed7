"""What a booking asked, brought in, gave back, and owes."""

from __future__ import annotations

import pytest

from classes.enrollment.models import Booking
from classes.models import ClassSession
from classes.money.accounts import account_of, accounts_of, booking_account
from classes.money.accounts_csv import COLUMNS, accounts_csv
from tests.classes.enrollment.booked import BOOKED_AT, book
from tests.factories import planned_class


@pytest.fixture
def session(instructor):
    return planned_class(instructor=instructor, students=0, seats=8, kitchen__stations=2)


def account(session, *, state="confirmed", due=0, payments=(), seats=1):
    booking = book(session, "Zoe", seats=seats)
    Booking.objects.filter(pk=booking.pk).update(state=state, refund_due_minor=due)
    for number, amount in enumerate(payments):
        booking.payments.create(
            amount_minor=amount,
            means="cash",
            paid_on=BOOKED_AT.date(),
            form_key=f"p{number}",
            noted_by=session.instructor,
        )
    booking.refresh_from_db()
    return booking_account(booking)


# state, refund due, payments -> asked, paid, given back, refund open, balance
@pytest.mark.parametrize(
    ("state", "due", "payments", "expected"),
    [
        ("confirmed", 0, (), (3800, 0, 0, 0, 3800)),
        ("confirmed", 0, (1000,), (3800, 1000, 0, 0, 2800)),
        ("confirmed", 0, (1000, 2800), (3800, 3800, 0, 0, 0)),
        ("confirmed", 0, (5000,), (3800, 5000, 0, 0, -1200)),
        ("confirmed", 0, (5000, -1200), (3800, 5000, 1200, 0, 0)),
        ("canceled", 0, (), (0, 0, 0, 0, 0)),
        ("canceled", 3800, (3800,), (0, 3800, 0, 3800, 0)),
        ("canceled", 3800, (3800, -3800), (0, 3800, 3800, 0, 0)),
        ("canceled", 1900, (3800, -1000), (1900, 3800, 1000, 900, 0)),
        ("canceled", 0, (3800,), (3800, 3800, 0, 0, 0)),
        ("canceled", 1900, (3800, -3000), (1900, 3800, 3000, 0, 1100)),
    ],
    ids=[
        "nothing paid",
        "deposit",
        "all paid",
        "too much",
        "too much, given back",
        "canceled unpaid",
        "refund due",
        "refund given",
        "half of a half refund",
        "kept by the rule",
        "too much given back",
    ],
)
def test_a_booking_adds_up(session, state, due, payments, expected):
    one = account(session, state=state, due=due, payments=payments)
    assert (
        one.asked.amount_minor,
        one.paid.amount_minor,
        one.given_back.amount_minor,
        one.refund_open.amount_minor,
        one.balance.amount_minor,
    ) == expected


def test_a_class_adds_up_its_bookings_without_held_ones(session):
    account(session, payments=(1000,))
    session.bookings.create(seats=1, form_key="h", held_until=BOOKED_AT, made_at=BOOKED_AT)
    total = account_of(session)
    assert len(total.bookings) == 1
    assert [str(one) for one in (total.asked, total.paid, total.outstanding)] == [
        "38.00 EUR",
        "10.00 EUR",
        "28.00 EUR",
    ]


def test_somebody_who_paid_too_much_does_not_pay_for_others(session):
    book(session, "Abe")
    account(session, payments=(5000,))
    assert str(account_of(session).outstanding) == "38.00 EUR"


def test_the_accounts_of_many_classes_are_those_of_each(session):
    account(session, payments=(1000,))
    fetched = ClassSession.objects.prefetch_related("bookings__payments")
    (total,) = accounts_of(fetched)
    assert total.outstanding == account_of(session).outstanding


def test_the_file_has_a_head_line_even_without_bookings(session):
    assert accounts_csv([account_of(session)]).strip() == ",".join(COLUMNS)
