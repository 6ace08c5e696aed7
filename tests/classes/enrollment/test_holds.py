"""Seats that nobody takes up: a few forms an address, a few minutes, and never “full” for them."""

from __future__ import annotations

import json
import re
from datetime import timedelta

import pytest
from django.test import Client

from classes.enrollment.limits import mark_of_connection
from classes.enrollment.models import Booking
from classes.enrollment.services.chores import do_chores
from classes.enrollment.services.holds import TooManyHolds, change_hold, hold_seats
from classes.enrollment.services.seats import Diner, NoSeats
from tests.classes.enrollment.enrolled import NOW, answers, enrolled, form_of, held, key, open_class

MINUTE = timedelta(minutes=1)
OFFERED = re.compile(r'<option value="(\d+)"')

pytestmark = pytest.mark.usefixtures("today")


@pytest.fixture
def session(db):
    return open_class(seats=60, kitchen__stations=15)


@pytest.fixture
def small(db):
    return open_class(seats=6, kitchen__stations=2)


def ask(client, session, seats=1, *, address="198.51.100.7", form_key=None):
    """Ask for seats from an address, by the form of the class's page."""
    fields = {"seats": str(seats), "form_key": form_key or key()}
    return client.post(f"/open/{session.code}/hold/", fields, REMOTE_ADDR=address)


def page(client, session, query="") -> str:
    text = client.get(f"/open/{session.code}/{query}").content.decode()
    return " ".join(text.split())


def holds(session):
    return session.bookings.filter(state=Booking.State.HELD)


def taken(session):
    session.refresh_from_db()
    return session.taken


class TestOneAddress:
    def test_twelve_posts_hold_with_two_forms(self, session):
        answers = [ask(Client(), session, 5) for _ in range(12)]
        assert (holds(session).count(), taken(session)) == (2, 10)
        refused = {one.headers["Location"] for one in answers[2:]}
        assert refused == {f"/open/{session.code}/?refused=too-many-forms"}
        said = page(Client(), session, "?refused=too-many-forms")
        assert "held for other forms from your connection" in said
        assert "Nothing more was held" in said

    def test_another_address_holds_its_own(self, session):
        for address in ("198.51.100.7", "198.51.100.8", "203.0.113.9"):
            for _ in range(3):
                ask(Client(), session, address=address)
        assert holds(session).count() == 6

    def test_the_same_address_holds_seats_of_another_class(self, session, small):
        for where in (session, session, session, small):
            ask(Client(), where)
        assert (holds(session).count(), holds(small).count()) == (2, 1)

    def test_an_end_of_a_hold_makes_room_for_another(self, session, today):
        for _ in range(3):
            ask(Client(), session)
        today(NOW + 4 * MINUTE)
        ask(Client(), session)
        assert [one.held_until for one in holds(session)] == [NOW + 7 * MINUTE]

    def test_a_booking_makes_room_for_another(self, session):
        for _ in range(2):
            ask(Client(), session)
        Client().post(form_of(holds(session).first()), answers("Ada Lomax"))
        assert ask(Client(), session).headers["Location"].startswith("/enroll/")

    def test_a_connection_of_six_is_its_network(self, session):
        for address in ("2001:db8:1:2::1", "2001:db8:1:2:ffff::9", "2001:db8:1:2:a:b:c:d"):
            ask(Client(), session, address=address)
        assert holds(session).count() == 2
        ask(Client(), session, address="2001:db8:1:3::1")
        assert holds(session).count() == 3

    def test_an_old_address_in_new_clothes_is_the_old_one(self, session):
        for address in ("::ffff:198.51.100.7", "198.51.100.7", "::ffff:198.51.100.7"):
            ask(Client(), session, address=address)
        ask(Client(), session, address="::ffff:198.51.100.8")
        assert holds(session).count() == 3

    def test_behind_a_proxy_it_is_what_the_proxy_saw(self, session, settings):
        settings.TRUST_PROXY = True
        fields = {"seats": "1"}
        for made_up in range(3):
            headers = {"X-Forwarded-For": f"192.0.2.{made_up}, 198.51.100.7"}
            address = f"/open/{session.code}/hold/"
            Client().post(address, fields | {"form_key": key()}, headers=headers)
        assert holds(session).count() == 2

    def test_where_nobody_can_tell_them_apart_nobody_is_refused(self, session):
        for _ in range(4):
            ask(Client(), session, address="")
        assert holds(session).count() == 4

    def test_the_mark_names_nobody_and_goes_with_the_hold(self, session, rf, today):
        ask(Client(), session)
        mark = holds(session).get().held_by
        request = rf.get("/", REMOTE_ADDR="198.51.100.7")
        assert mark == mark_of_connection(request, session.code)
        assert "198" not in mark or "51.100" not in mark
        assert mark != mark_of_connection(request, "ANOTHR")
        do_chores(at=NOW + 4 * MINUTE)
        assert not Booking.objects.exclude(held_by="").exists()

    def test_the_database_itself_refuses_a_second_form_in_a_place(self, session):
        """As when two who counted at once came to the same answer."""
        first = hold_seats(session=session, seats=1, form_key=key(), at=NOW, holder="a")
        second = hold_seats(session=session, seats=1, form_key=key(), at=NOW, holder="a")
        assert (first.held_place, second.held_place) == (0, 1)
        with pytest.raises(TooManyHolds):
            hold_seats(session=session, seats=1, form_key=key(), at=NOW, holder="a")
        constraints = {one.name for one in Booking._meta.constraints}
        assert "booking_one_form_a_place" in constraints
        assert taken(session) == 2


class TestOnesOwnHold:
    def test_a_second_tab_and_the_way_back_find_the_same_seats(self, session, stranger):
        first = ask(stranger, session, 2)
        for _ in range(4):
            assert ask(stranger, session, 2).headers["Location"] == first.headers["Location"]
        assert (holds(session).count(), taken(session)) == (1, 2)

    @pytest.mark.parametrize("seats", [1, 6])
    def test_another_number_changes_the_same_hold(self, session, stranger, seats):
        first = ask(stranger, session, 3)
        second = ask(stranger, session, seats)
        assert second.headers["Location"] == first.headers["Location"]
        booking = holds(session).get()
        assert (booking.seats, booking.price_minor) == (seats, seats * 3800)
        assert booking.held_until == NOW + 3 * MINUTE
        assert taken(session) == seats

    def test_more_than_there_are_changes_nothing(self, small, stranger):
        held(small, 3)
        ask(stranger, small, 2)
        assert "refused=no-seats" in ask(stranger, small, 4).headers["Location"]
        assert taken(small) == 5
        with pytest.raises(NoSeats):
            change_hold(booking=holds(small).get(seats=2), seats=4, at=NOW)

    def test_the_page_leads_back_to_the_form(self, small, stranger):
        ask(stranger, small, 6)
        text = page(stranger, small)
        assert "You hold 6 seats until 09:03." in text
        assert "Continue with the form" in text
        assert "You hold" not in page(Client(), small)

    def test_after_its_time_a_new_one_begins(self, session, stranger, today):
        first = ask(stranger, session)
        today(NOW + 4 * MINUTE)
        second = ask(stranger, session)
        assert second.headers["Location"] != first.headers["Location"]
        assert taken(session) == 1

    def test_the_cookie_goes_to_the_class_alone_and_no_script_reads_it(self, session, stranger):
        ask(stranger, session)
        cookie = stranger.cookies[f"seats-{session.code}"]
        assert cookie["path"] == f"/open/{session.code}/"
        assert (cookie["httponly"], cookie["samesite"]) == (True, "Lax")

    def test_a_cookie_of_another_class_or_made_up_is_nothing(self, session, small, stranger):
        ask(stranger, session, 2)
        token = stranger.cookies[f"seats-{session.code}"].value
        for word in (token, "1-made-up:word", ""):
            stranger.cookies[f"seats-{small.code}"] = word
            assert "You hold" not in page(stranger, small)


class TestHeldIsNotFull:
    @pytest.fixture
    def six_abandoned(self, small):
        for number in range(6):
            ask(Client(), small, address=f"198.51.100.{number}")
        return small

    def test_the_next_visitor_reads_when_to_try_again(self, six_abandoned, stranger, today):
        today(NOW + timedelta(seconds=70))
        text = page(stranger, six_abandoned)
        assert "6 are held for a few minutes by people who are filling in the form." in text
        assert "Try again at 09:03 (UTC), in 2 minutes." in text
        assert "full" not in text.lower()
        listed = " ".join(stranger.get("/open/").content.decode().split())
        assert "all held for now, check again at 09:03" in listed

    def test_who_asks_reads_the_same(self, six_abandoned, stranger):
        answer = ask(stranger, six_abandoned, address="203.0.113.9")
        assert answer.headers["Location"].endswith("?refused=no-seats")
        text = page(stranger, six_abandoned, "?refused=no-seats")
        assert "All seats are taken or held right now." in text
        assert "Nothing was booked" in text
        assert "The class is full" not in text

    def test_after_three_minutes_the_seats_are_there(self, six_abandoned, stranger, today):
        """Nothing has tidied up yet: the page itself knows that their time is over."""
        today(NOW + 3 * MINUTE + timedelta(seconds=1))
        text = page(stranger, six_abandoned)
        assert "6 seats left: take one" in text
        answer = ask(stranger, six_abandoned, 6, address="203.0.113.9")
        assert answer.headers["Location"].startswith("/enroll/")
        assert taken(six_abandoned) == 6

    def test_a_class_that_is_booked_out_is_full(self, small, stranger):
        enrolled(small, *map(Diner, "abcdef"))
        text = page(stranger, small)
        assert "The class is full" in text
        assert "held for a few minutes" not in text

    def test_machines_are_not_told_that_it_is_sold_out(self, six_abandoned, stranger):
        text = stranger.get(f"/open/{six_abandoned.code}/").content.decode()
        found = json.loads(re.findall(r'ld\+json">(.*?)</script>', text, re.DOTALL)[0])
        assert found["offers"]["availability"].endswith("/LimitedAvailability")
        assert found["remainingAttendeeCapacity"] == 0

    def test_seats_over_time_that_others_wait_for_are_not_shown_as_left(
        self, six_abandoned, stranger, today
    ):
        fields = {"name": "Wim", "email": "wim@example.org", "seats": "1", "form_key": key()}
        stranger.post(f"/open/{six_abandoned.code}/wait/", fields)
        today(NOW + 4 * MINUTE)
        text = page(stranger, six_abandoned)
        assert "The class is full" in text


class TestWhatIsOffered:
    def test_no_more_seats_are_offered_than_are_left(self, small, stranger):
        held(small, 4)
        assert OFFERED.findall(page(stranger, small)) == ["1", "2"]

    def test_who_holds_some_may_have_those_and_what_is_left(self, small, stranger):
        held(small, 3)
        ask(stranger, small, 2)
        assert OFFERED.findall(page(stranger, small)) == ["1", "2", "3"]

    def test_nobody_waits_for_more_seats_than_a_class_has(self, stranger, db):
        session = open_class(seats=2)
        enrolled(session)
        enrolled(session)
        assert OFFERED.findall(page(stranger, session)) == ["1", "2"]
        fields = {"name": "Wim", "email": "wim@example.org", "seats": "3", "form_key": key()}
        answer = stranger.post(f"/open/{session.code}/wait/", fields)
        assert answer.status_code == 400
        assert not session.waiting.exists()
