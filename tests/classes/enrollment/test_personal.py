"""What is held on a person: shown whole, kept from others, and forgotten when they ask."""

from __future__ import annotations

import json
import logging
import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from django.core import mail
from django.db import connection

from classes.enrollment.models import Booking, Enrollment, Letter, Waiting
from classes.enrollment.services.chores import do_chores
from classes.enrollment.services.enrolling import join_waiting
from classes.enrollment.services.leaving import cancel_all, erase_person
from classes.enrollment.services.letters import deliver_letters
from classes.enrollment.services.seats import Diner
from config.backup import erasures
from tests.classes.enrollment.enrolled import (
    CANARY,
    NOW,
    answers,
    enrolled,
    form_of,
    held,
    key,
    open_class,
    page_of,
)

NAME = "Quillon Canaryfeather"
EMAIL = "canary.quillon@example.org"
PHONE = "0999 424242"
SECRETS = (NAME, "Quillon", EMAIL, PHONE, CANARY)

pytestmark = pytest.mark.usefixtures("today")


def quillon(session, *others):
    diner = Diner(NAME, "told", ("sesame",), CANARY)
    return enrolled(session, diner, *others, email=EMAIL, phone=PHONE)


def pay(booking):
    return booking.payments.create(
        amount_minor=3800,
        means="cash",
        paid_on=NOW.date(),
        note="Quillon paid in coins",
        form_key=key(),
        noted_by=booking.session.instructor,
    )


class TestWhatIsHeld:
    @pytest.fixture
    def booking(self, db):
        booking = quillon(open_class(), Diner("Bo Vane", "told", ("milk",), "no butter"))
        pay(booking)
        return booking

    def held(self, client, person):
        response = client.get(page_of(person, "held") + "?format=json")
        assert response.headers["Content-Disposition"].startswith("attachment")
        return json.loads(response.content)

    def test_the_file_has_everything_on_the_one_who_booked(self, stranger, booking):
        found = self.held(stranger, booking.people.first())
        told = found["person"]["must_not_eat"]
        assert (told["answer"], told["allergens"], told["words"]) == (
            "As written",
            ["sesame"],
            CANARY,
        )
        mine = found["booking"]
        assert (mine["name"], mine["email"], mine["phone"]) == (NAME, EMAIL, PHONE)
        assert mine["payments"][0]["note"] == "Quillon paid in coins"
        assert mine["letters"][0]["to"] == EMAIL
        assert mine["people"] == [NAME, "Bo Vane"]

    def test_every_field_of_the_row_that_says_something_of_a_person_is_in_it(
        self, stranger, booking
    ):
        text = json.dumps(self.held(stranger, booking.people.first()), ensure_ascii=False)
        inner = {"id", "session", "booking", "position", "link_nonce", "mark", "blanked_at"}
        for row, left in (
            (booking.people.first(), inner),
            (booking, inner | {"form_key", "held_until", "told_of", "erased_at", "moved_to"}),
        ):
            for field in row._meta.concrete_fields:
                value = field.value_from_object(row)
                if field.name not in left and isinstance(value, str) and value:
                    shown = getattr(row, f"get_{field.name}_display", lambda v=value: v)()
                    assert shown in text, field.name

    def test_the_page_has_it_to_read(self, stranger, booking):
        text = stranger.get(page_of(booking.people.first(), "held")).content.decode()
        for fact in (NAME, EMAIL, PHONE, CANARY, "you are enrolled"):
            assert fact in text

    def test_who_comes_along_gets_only_what_is_their_own(self, stranger, booking):
        bo = booking.people.last()
        for address in (page_of(bo, "held"), page_of(bo, "held") + "?format=json"):
            text = stranger.get(address).content.decode()
            assert "no butter" in text
            for secret in SECRETS:
                assert secret not in text

    def test_a_place_on_the_waiting_list_is_in_it(self, stranger, db):
        session = open_class(seats=1)
        first = enrolled(session)
        join_waiting(session=session, name=NAME, email=EMAIL, seats=1, form_key=key(), at=NOW)
        cancel_all(booking=first, at=NOW)
        offer = Waiting.objects.get().booking
        stranger.post(form_of(offer), answers(NAME, email=EMAIL))
        found = self.held(stranger, offer.people.get())
        assert found["booking"]["waiting_list"]["email"] == EMAIL


class TestNobodyElseSees:
    def test_the_words_stand_on_no_public_page_and_no_page_of_others(self, stranger, db):
        session = open_class()
        mine = quillon(session, Diner("Bo Vane"))
        other = enrolled(session, Diner("Cy Tarn"), email="cy@example.org").people.get()
        bo = mine.people.last()
        addresses = [
            "/open/",
            f"/open/{session.code}/",
            "/open/calendar.ics",
            *(page_of(one, *more) for one in (other, bo) for more in ((), ("before",), ("held",))),
            page_of(other, "handout"),
            page_of(bo, "handout"),
        ]
        for address in addresses:
            response = stranger.get(address)
            assert response.status_code == 200
            assert CANARY not in response.content.decode() + str(response.headers), address

    def test_they_stand_in_no_letter_no_address_and_no_log(self, stranger, db, caplog):
        caplog.set_level(logging.DEBUG)
        logging.getLogger("django").propagate = True
        session = open_class()
        fields = answers(NAME, **{"person-0-must_not_eat": CANARY, "person-0-diet": "told"})
        response = stranger.post(form_of(held(session)), fields)
        person = session.enrollments.get()
        stranger.post(page_of(person, "eat"), {"diet": "told", "must_not_eat": f"{CANARY} too"})
        stranger.post(page_of(person, "eat"), {"diet": "nothing", "must_not_eat": CANARY})
        do_chores(at=NOW)
        assert mail.outbox
        for sent in mail.outbox:
            assert CANARY not in sent.message().as_string()
        assert CANARY not in response.headers["Location"] + page_of(person)
        assert CANARY not in "".join(
            str(record.__dict__) for record in caplog.records if record.name != "django.db.backends"
        )

    def test_a_page_that_refuses_answers_no_words(self, stranger, db):
        person = quillon(open_class()).people.get()
        for address in (page_of(person)[:-2] + "x/", page_of(person, "move")):
            assert CANARY not in stranger.get(address).content.decode()


class TestErasing:
    def test_it_is_asked_first_and_done_by_a_post(self, stranger, db):
        person = quillon(open_class()).people.get()
        text = stranger.get(page_of(person, "erase")).content.decode()
        assert "your seat is canceled" in text.replace("\n", " ")
        assert Enrollment.objects.exists()
        assert "You are erased" in stranger.post(page_of(person, "erase")).content.decode()
        assert stranger.get(page_of(person)).status_code == 404

    def test_before_the_class_the_seat_is_given_back(self, db):
        session = open_class()
        erase_person(enrollment=quillon(session).people.get(), at=NOW)
        session.refresh_from_db()
        assert session.taken == 0
        assert session.bookings.get().state == Booking.State.CANCELED

    def test_counts_and_money_stay(self, db):
        session = open_class()
        booking = quillon(session, Diner("Bo Vane"))
        pay(booking)
        erase_person(enrollment=booking.people.first(), at=session.ends_at + timedelta(days=1))
        booking.refresh_from_db()
        assert (booking.seats, booking.price_minor, booking.state) == (2, 7600, "confirmed")
        assert booking.payments.get().amount_minor == 3800
        assert [one.name for one in booking.people.all()] == ["Erased", "Erased"]

    def test_no_letter_goes_to_somebody_erased(self, db):
        session = open_class()
        erase_person(enrollment=quillon(session).people.get(), at=NOW)
        for days in (0, 1, 32, 34):
            do_chores(at=NOW + timedelta(days=days))
        assert mail.outbox == []

    def test_who_comes_along_leaves_the_others_letters_whole(self, db):
        session = open_class()
        booking = quillon(session, Diner("Bo Vane"))
        erase_person(enrollment=booking.people.last(), at=NOW)
        deliver_letters(at=NOW)
        (sent,) = mail.outbox
        assert "Bo Vane" not in sent.body
        assert f"{NAME}: http" in sent.body

    def test_who_has_canceled_can_still_be_forgotten(self, stranger, db):
        session = open_class()
        booking = quillon(session)
        page = stranger.post(page_of(booking.people.get(), "cancel"), {"one": "1"})
        assert form_of(booking) in page.content.decode()
        assert "Erase me" in stranger.get(form_of(booking)).content.decode()
        stranger.post(form_of(booking), {"forget": "1"})
        booking.refresh_from_db()
        assert (booking.name, booking.email, booking.phone) == ("Erased", "", "")
        assert not Letter.objects.exclude(text="").exists()
        assert session.bookings.get().state == Booking.State.CANCELED

    def test_a_booking_that_stands_is_not_forgotten_that_way(self, stranger, db):
        booking = quillon(open_class())
        stranger.post(form_of(booking), {"forget": "1"})
        booking.refresh_from_db()
        assert booking.email == EMAIL

    @pytest.mark.parametrize("after", [False, True], ids=["before the class", "after it"])
    def test_a_booker_without_their_companions_is_forgotten_too(self, db, after):
        session = open_class()
        booking = quillon(session, Diner("Bo Vane"))
        at = session.ends_at + timedelta(hours=3) if after else NOW
        erase_person(enrollment=booking.people.first(), at=at)
        booking.refresh_from_db()
        assert (booking.name, booking.email, booking.phone) == ("Erased", "", "")
        assert not Letter.objects.exclude(text="").exists()


@pytest.mark.skipif("connection.vendor != 'sqlite'", reason="reads SQLite's own file")
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("after", [False, True], ids=["before the class", "after it"])
@pytest.mark.parametrize("position", [0, 1], ids=["who booked", "who comes along"])
def test_once_erased_nothing_of_a_person_is_left_in_the_database_file(
    stranger, today, after, position
):
    session = open_class()
    people = [Diner("Bo Vane"), Diner("Bo Vane")]
    people[position] = Diner(NAME, "told", ("sesame",), CANARY)
    email = EMAIL if position == 0 else "bo@example.org"
    booking = enrolled(session, *people, email=email, phone=PHONE if position == 0 else "")
    do_chores(at=NOW)
    secrets = SECRETS if position == 0 else (NAME, "Quillon", CANARY)
    assert all(_in_file(secret) for secret in secrets)
    today(session.ends_at + timedelta(hours=3) if after else NOW)
    stranger.post(page_of(booking.people.order_by("position")[position], "erase"))
    assert [secret for secret in secrets if _in_file(secret)] == []


@pytest.mark.skipif("connection.vendor != 'sqlite'", reason="reads SQLite's own file")
@pytest.mark.django_db(transaction=True)
def test_words_blanked_after_the_class_leave_no_bytes_behind(today):
    session = open_class()
    quillon(session)
    assert _in_file(CANARY)
    do_chores(at=session.ends_at + timedelta(days=15))
    assert not _in_file(CANARY)


@pytest.mark.skipif("connection.vendor != 'sqlite'", reason="reads SQLite's own file")
@pytest.mark.django_db(transaction=True)
def test_who_reads_meanwhile_puts_the_wiping_off_and_does_not_hold_it_up(today):
    session = open_class()
    booking = quillon(session)
    with closing(sqlite3.connect(connection.settings_dict["NAME"], isolation_level=None)) as other:
        other.execute("BEGIN")
        other.execute("SELECT name FROM enrollment_booking").fetchall()
        erase_person(enrollment=booking.people.get(), at=NOW)
        assert not erasures.wipe()
        other.execute("COMMIT")
        do_chores(at=NOW)
    assert not _in_file(CANARY)


def _in_file(secret: str) -> bool:
    """Whether bytes are anywhere in the database as it lies there, its log included."""
    name = connection.settings_dict["NAME"]
    files = [Path(f"{name}{suffix}") for suffix in ("", "-wal", "-journal")]
    return any(secret.encode() in file.read_bytes() for file in files if file.exists())
