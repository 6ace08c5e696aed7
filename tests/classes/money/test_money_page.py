"""What was asked, what came in and what is owed: of a class, and of a year."""

from __future__ import annotations

import csv
import io

import pytest
from django.urls import reverse

from classes.enrollment.models import Booking, Payment
from tests.classes.enrollment.booked import BOOKED_AT, book
from tests.factories import planned_class

KEY = "payment-key-000000000001"


@pytest.fixture
def session(instructor, assistant):
    return planned_class(
        instructor=instructor, assistants=[assistant], students=0, seats=8, kitchen__stations=2
    )


@pytest.fixture
def booking(session):
    return book(session, "Zoe Walker")


@pytest.fixture
def address(session):
    return reverse("classes:money", args=[session.code])


def paid(booking, **fields):
    return {
        "booking": booking.pk,
        "form_key": KEY,
        "direction": "in",
        "amount": "20.00",
        "means": "cash",
        "paid_on": "2030-05-01",
        "note": "at the door",
        **fields,
    }


def shown(client, address) -> str:
    return " ".join(client.get(address).content.decode().split())


def test_a_payment_is_written_down_and_shown(instructor_client, address, booking, instructor):
    page = instructor_client.post(address, paid(booking), follow=True).content.decode()
    (payment,) = booking.payments.all()
    assert (payment.amount_minor, payment.means, payment.noted_by) == (2000, "cash", instructor)
    assert "20.00 EUR" in page
    assert "18.00 EUR" in page  # still to be paid of 38.00


def test_money_given_back_is_negative(instructor_client, address, booking):
    instructor_client.post(address, paid(booking, direction="back", means="transfer"))
    assert booking.payments.get().amount_minor == -2000


def test_the_same_form_posted_twice_is_one_payment(instructor_client, address, booking):
    for _ in range(2):
        assert instructor_client.post(address, paid(booking)).status_code == 302
    assert Payment.objects.count() == 1


def test_the_form_opens_for_a_booking_with_a_fresh_key(instructor_client, address, booking):
    pages = [shown(instructor_client, f"{address}?booking={booking.pk}") for _ in range(2)]
    keys = {page.partition('name="form_key" value="')[2][:32] for page in pages}
    assert len(keys) == 2
    assert "Never write a card number here." in pages[0]


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"amount": "0"}, "Enter an amount above zero."),
        ({"amount": "much"}, "much"),
        ({"amount": "1e400"}, "1e400"),
        ({"amount": ""}, "This field is required."),
        ({"means": "seashells"}, "Select a valid choice."),
        ({"paid_on": "2030-02-30"}, "Enter a valid date."),
        ({"note": "x" * 121}, "at most 120 characters"),
        ({"direction": "sideways"}, "Select a valid choice."),
    ],
    ids=lambda value: (
        "-".join(value.items().__iter__().__next__())[:20] if isinstance(value, dict) else ""
    ),
)
def test_a_bad_payment_is_refused_by_the_field_and_nothing_is_lost(
    instructor_client, address, booking, fields, message
):
    page = instructor_client.post(address, paid(booking, **fields)).content.decode()
    (name,) = fields
    assert message in page
    assert f'id="id_{name}_error"' in page
    assert fields.get("note", "at the door") in page
    assert KEY in page
    assert not Payment.objects.exists()


@pytest.mark.parametrize("key", ["", "x", "²", "9" * 5000, "0"])
def test_a_payment_for_no_booking_is_not_found(instructor_client, address, booking, key):
    assert instructor_client.post(address, paid(booking) | {"booking": key}).status_code == 404
    assert instructor_client.get(address, {"booking": "x²"}).status_code == 404


def test_a_booking_of_another_class_takes_no_money_here(instructor_client, address):
    other = book(planned_class(students=0), "Otto")
    assert instructor_client.post(address, paid(other)).status_code == 404
    assert instructor_client.get(f"{address}?booking={other.pk}").status_code == 404
    assert not Payment.objects.exists()


def test_a_refund_that_is_due_stands_out(instructor_client, address, booking, instructor):
    instructor_client.post(address, paid(booking, amount="38"))
    Booking.objects.filter(pk=booking.pk).update(state="canceled", refund_due_minor=3800)
    assert "38.00 EUR due" in shown(instructor_client, address)


def test_only_the_instructor_of_the_class_sees_money(
    assistant_client, other_client, stranger, address, booking
):
    csv_address = address.removesuffix("/") + ".csv"
    for client, status in ((assistant_client, 404), (other_client, 404), (stranger, 302)):
        assert client.get(address).status_code == status
        assert client.post(address, paid(booking)).status_code == status
        assert client.get(csv_address).status_code == status
    assert not Payment.objects.exists()


@pytest.mark.parametrize("name", ["money_csv", "all_money"])
def test_a_wrong_method_is_refused(instructor_client, session, name):
    args = [] if name == "all_money" else [session.code]
    assert instructor_client.post(reverse(f"classes:{name}", args=args)).status_code == 405


def rows_of(response) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(response.content.decode())))


def test_the_file_holds_plain_amounts_and_harmless_names(instructor_client, session, instructor):
    booking = book(session, "=1+1", price_minor=3805)
    booking.payments.create(
        amount_minor=5000, means="cash", paid_on=BOOKED_AT.date(), form_key="p", noted_by=instructor
    )
    response = instructor_client.get(reverse("classes:money_csv", args=[session.code]))
    (row,) = (one for one in rows_of(response) if one["booked_by"])
    assert row["booked_by"] == "'=1+1"
    assert (row["asked"], row["paid"], row["balance"]) == ("38.05", "50.00", "-11.95")
    assert response.headers["Content-Type"] == "text/csv; charset=utf-8"


def test_a_year_lists_its_own_classes_and_nobody_elses(instructor_client, session, booking):
    book(planned_class(students=0), "Otto Other")
    page = shown(instructor_client, reverse("classes:all_money") + "?year=2030")
    assert session.title in page
    assert page.count("38.00 EUR") == 2  # asked and outstanding
    rows = rows_of(instructor_client.get(reverse("classes:all_money") + "?year=2030&format=csv"))
    assert [row["booked_by"] for row in rows] == ["Zoe Walker"]


@pytest.mark.parametrize("year", ["0", "x", "020000", "99999", "²", "9" * 5000, "-1", "2031"])
def test_any_year_opens(instructor_client, session, year):
    response = instructor_client.get(reverse("classes:all_money"), {"year": year})
    assert response.status_code == 200
    assert "You taught no class in" in response.content.decode()


def test_the_pages_take_the_same_queries_for_6_and_60_people(
    instructor_client, instructor, django_assert_max_num_queries
):
    counts = []
    for people in (6, 60):
        session = planned_class(instructor=instructor, students=0, seats=60, kitchen__stations=15)
        for n in range(people):
            book(session, f"P {n}")
        with django_assert_max_num_queries(60) as seen:
            instructor_client.get(reverse("classes:money", args=[session.code]))
            instructor_client.get(reverse("classes:all_money") + "?year=2030")
        counts.append(len(seen))
    assert counts[0] == counts[1]
