"""The public side of a class, who booked, who waits, and whether it takes place."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from classes.enrollment.models import Booking, Enrollment
from classes.enrollment.vacancy import decision_of
from classes.models import ClassSession
from tests.classes.enrollment.booked import BOOKED_AT, book
from tests.classes.sessions.test_roster_page import rows
from tests.factories import planned_class
from tests.seen import seen_at


@pytest.fixture
def session(instructor, assistant):
    return planned_class(
        instructor=instructor, assistants=[assistant], students=0, seats=8, kitchen__stations=2
    )


@pytest.fixture
def address(session):
    return reverse("classes:enrollment", args=[session.code])


def shown(client, address) -> str:
    return client.get(address).content.decode()


def public(**fields):
    return {
        "is_open": "on",
        "about": "A loaf to take home.",
        "level": "first",
        "bring": "An apron.",
        "price": "38.00",
        "deposit": "10",
        "refund_days": "7",
        "transfer_days": "2",
        "least_people": "4",
        "decide_on": "2030-05-01",
        **fields,
    }


def test_what_the_public_page_says_is_saved(instructor_client, session, address):
    response = instructor_client.post(address, public(), follow=True)
    session.refresh_from_db()
    assert "The public page of the class is saved." in response.content.decode()
    assert (session.is_open, session.price_minor, session.deposit_minor) == (True, 3800, 1000)
    assert session.decide_on == date(2030, 5, 1)


def test_what_was_saved_stands_in_the_form(instructor_client, address):
    instructor_client.post(address, public())
    page = shown(instructor_client, address)
    for value in ('value="38.00"', 'value="10.00"', 'value="2030-05-01"', "An apron."):
        assert value in page


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"price": "lots"}, "lots"),
        ({"price": "-1"}, "-1"),
        ({"price": "1e400"}, "1e400"),
        ({"deposit": "50"}, "The deposit is more than the price."),
        ({"transfer_days": "9"}, "enter 7 days or fewer"),
        ({"least_people": "9"}, "The class has only 8 seats."),
        ({"decide_on": "2030-05-05"}, "Decide on the day of the class at the latest."),
        ({"decide_on": "yesterday"}, "Enter a valid date."),
        ({"about": "x" * 2001}, "at most 2000 characters"),
        ({"level": "wizard"}, "Select a valid choice."),
    ],
    ids=lambda value: next(iter(value)) if isinstance(value, dict) else "",
)
def test_a_bad_public_side_is_refused_by_the_field_and_nothing_is_lost(
    instructor_client, session, address, fields, message
):
    page = instructor_client.post(address, public(**fields)).content.decode()
    (name,) = fields
    assert message in page
    assert f'id="id_{name}_error"' in page
    assert fields[name][:40] in page or name == "level"
    assert "An apron." in page
    assert not ClassSession.objects.get(pk=session.pk).is_open


def test_fields_that_are_not_on_the_form_change_nothing(instructor_client, session, address):
    instructor_client.post(address, public(taken="0", seats="1", title="Mine", price_minor="1"))
    fresh = ClassSession.objects.get(pk=session.pk)
    assert (fresh.seats, fresh.title, fresh.price_minor) == (8, session.title, 3800)


def test_opening_a_class_offers_free_seats_to_those_who_wait(instructor_client, session, address):
    ClassSession.objects.filter(pk=session.pk).update(starts_at=timezone.now() + timedelta(days=9))
    session.refresh_from_db()
    ends = session.starts_at + timedelta(hours=4)
    ClassSession.objects.filter(pk=session.pk).update(ends_at=ends)
    entry = session.waiting.create(
        name="Wim", email="wim@example.org", form_key="w", made_at=BOOKED_AT
    )
    instructor_client.post(address, public(decide_on=""))
    entry.refresh_from_db()
    assert entry.state == "offered"
    assert "Wim" in shown(instructor_client, address)


def test_bookings_are_shown_with_their_contact(instructor_client, session, address):
    book(session, "Zoe Walker", seats=2)
    page = shown(instructor_client, address)
    for words in ("zoe.walker@example.org", "Zoe Walker’s guest 1", "2 of 8", "Confirmed"):
        assert words in page


def test_a_booking_is_canceled_once_with_one_letter(instructor_client, session):
    booking = book(session, "Zoe Walker", seats=2)
    address = reverse("classes:booking_cancel", args=[session.code, booking.pk])
    first = instructor_client.post(address, follow=True).content.decode()
    second = instructor_client.post(address, follow=True).content.decode()
    assert "its seats are free again" in first
    assert "already canceled" in second
    assert ClassSession.objects.get(pk=session.pk).taken == 0
    assert session.letters.count() == 1


def test_canceling_a_booking_with_somebody_absent_frees_each_seat_once(instructor_client, session):
    book(session, "Abe")
    booking = book(session, "Zoe Walker", seats=2)
    absent = booking.people.last()
    door = reverse("classes:door", args=[session.code])
    instructor_client.post(door, {"absent": absent.pk})
    instructor_client.post(reverse("classes:booking_cancel", args=[session.code, booking.pk]))
    assert ClassSession.objects.get(pk=session.pk).taken == 1


def test_once_the_class_has_begun_a_booking_is_not_canceled(instructor_client, session):
    begun = timezone.now() - timedelta(hours=1)
    ClassSession.objects.filter(pk=session.pk).update(
        starts_at=begun, ends_at=begun + timedelta(hours=4)
    )
    booking = book(session, "Zoe")
    address = reverse("classes:booking_cancel", args=[session.code, booking.pk])
    page = instructor_client.post(address, follow=True).content.decode()
    assert "The class has begun." in page
    booking.refresh_from_db()
    assert booking.state == Booking.State.CONFIRMED


def test_a_booking_of_another_class_is_not_found(instructor_client, session):
    booking = book(planned_class(students=0), "Zoe")
    address = reverse("classes:booking_cancel", args=[session.code, booking.pk])
    assert instructor_client.post(address).status_code == 404


def test_only_the_instructor_of_the_class_opens_it(
    assistant_client, other_client, stranger, address
):
    assert assistant_client.get(address).status_code == 404
    assert other_client.post(address, public()).status_code == 404
    assert stranger.get(address).status_code == 302


def test_a_wrong_method_is_refused(instructor_client, address):
    assert instructor_client.delete(address).status_code == 405


def test_the_page_takes_the_same_queries_for_6_and_60_people(
    instructor_client, instructor, django_assert_max_num_queries
):
    counts = []
    for students in (6, 60):
        session = planned_class(instructor=instructor, students=0, seats=60, kitchen__stations=15)
        for n in range(students):
            book(session, f"P {n}")
        with django_assert_max_num_queries(40) as seen:
            instructor_client.get(reverse("classes:enrollment", args=[session.code]))
        counts.append(len(seen))
    assert counts[0] == counts[1]


# Whether the class takes place


@pytest.mark.parametrize(
    ("taken", "at", "too_few", "is_enough"),
    [
        (3, datetime(2030, 4, 30, 22, 30, tzinfo=UTC), False, False),
        (3, datetime(2030, 4, 30, 23, 30, tzinfo=UTC), True, False),
        (4, datetime(2030, 5, 2, tzinfo=UTC), False, True),
    ],
    ids=["the evening before", "past midnight in Dublin", "enough"],
)
def test_the_decision_is_due_on_its_day_in_the_kitchens_zone(
    session, taken, at, too_few, is_enough
):
    session.kitchen.time_zone = "Europe/Dublin"
    session.least_people, session.decide_on, session.taken = 4, date(2030, 5, 1), taken
    decision = decision_of(session, at=at)
    assert (decision.too_few, decision.is_enough) == (too_few, is_enough)


def test_held_seats_are_not_booked_yet(session):
    session.bookings.create(seats=2, form_key="h", held_until=BOOKED_AT, made_at=BOOKED_AT)
    session.least_people, session.taken = 4, 5
    assert decision_of(session, at=BOOKED_AT).booked == 3


def test_without_a_least_number_nothing_is_decided(session):
    assert decision_of(session, at=BOOKED_AT) is None


@pytest.mark.parametrize("name", ["enrollment", "detail"])
@pytest.mark.parametrize(
    ("people", "words"), [(1, "✗ Too few people: 1 of at least 2."), (2, "✓ Enough people: 2")]
)
def test_both_pages_say_it_in_words_and_shape(instructor_client, session, name, people, words):
    for n in range(people):
        book(session, f"P {n}")
    ClassSession.objects.filter(pk=session.pk).update(
        least_people=2, decide_on=timezone.now().date() - timedelta(days=1)
    )
    assert words in shown(instructor_client, reverse(f"classes:{name}", args=[session.code]))


# The roster and people who booked


class TestRosterOfBooked:
    @pytest.fixture
    def booking(self, session):
        return book(session, "Zoe Walker", diet="told", allergens=["sesame"], must_not_eat="kiwi")

    @pytest.fixture
    def roster(self, session):
        return reverse("classes:roster", args=[session.code])

    def _removed(self, booking, **others):
        person = booking.people.get()
        row = {"id": person.pk, "name": person.name, "must_not_eat": "kiwi", "DELETE": "on"}
        return rows(row, existing=1) | others

    def test_marked_allergens_are_shown_as_words(
        self, instructor_client, assistant_client, booking, roster
    ):
        for client in (instructor_client, assistant_client):
            assert "sesame; kiwi" in shown(client, roster)

    def test_removing_says_what_happens_before_it_does(
        self, instructor_client, session, booking, roster
    ):
        assert "Remove and cancel their booking" in shown(instructor_client, roster)
        page = instructor_client.post(roster, self._removed(booking)).content.decode()
        assert "Zoe Walker booked. Taking them off cancels that" in page
        assert 'name="sure-cancel"' in page
        assert session.enrollments.count() == 1
        assert not session.letters.exists()

    def test_removing_with_the_box_marked_cancels_and_writes_a_letter(
        self, instructor_client, session, booking, roster
    ):
        fields = self._removed(booking, **{"sure-cancel": "1"})
        assert instructor_client.post(roster, fields).status_code == 302
        booking.refresh_from_db()
        assert booking.state == Booking.State.CANCELED
        assert not Enrollment.objects.filter(session=session).exists()
        assert session.letters.get().kind == "canceled"
        assert ClassSession.objects.get(pk=session.pk).taken == 0

    def test_saving_the_roster_keeps_what_was_marked(
        self, instructor_client, session, booking, roster
    ):
        person = booking.people.get()
        row = {"id": person.pk, "name": person.name, "must_not_eat": "kiwi, raw"}
        fields = rows(row, existing=1) | seen_at(instructor_client, roster)
        instructor_client.post(roster, fields)
        person.refresh_from_db()
        assert (person.allergens, person.must_not_eat) == (["sesame"], "kiwi, raw")
        assert person.booking == booking
