"""The short form for seats that are held: filled, mended, sent twice, run out."""

from __future__ import annotations

from datetime import timedelta

import pytest

from classes.enrollment.models import Booking, Letter
from classes.enrollment.services.chores import do_chores
from classes.enrollment.services.enrolling import join_waiting
from classes.enrollment.services.seats import Diner, take_back_offer
from classes.sessions.services import renew_link
from tests.classes.enrollment.enrolled import (
    CANARY,
    NOW,
    answers,
    enrolled,
    form_of,
    held,
    key,
    open_class,
)

pytestmark = pytest.mark.usefixtures("today")


@pytest.fixture
def session(db):
    return open_class()


def test_a_filled_form_enrolls_everybody_and_leads_to_their_page(stranger, session):
    booking = held(session, 2)
    fields = answers("Ada Lomax", "Bo Lomax", **{"person-1-allergens": ["sesame"]})
    fields |= {"person-1-diet": "told", "person-1-must_not_eat": "no traces"}
    response = stranger.post(form_of(booking), fields, follow=True)
    assert "Your place in" in response.content.decode()
    ada, bo = session.enrollments.order_by("position")
    assert (ada.name, ada.diet) == ("Ada Lomax", "nothing")
    assert (bo.name, bo.diet, bo.allergens, bo.must_not_eat) == (
        "Bo Lomax",
        "told",
        ["sesame"],
        "no traces",
    )
    booking.refresh_from_db()
    assert (booking.state, booking.name, booking.email) == (
        "confirmed",
        "Ada Lomax",
        "ada@example.org",
    )
    assert Letter.objects.get().kind == Letter.Kind.CONFIRMATION


def test_sent_twice_it_is_one_enrollment(stranger, session):
    booking = held(session)
    first = stranger.post(form_of(booking), answers("Ada Lomax"))
    again = stranger.post(form_of(booking), answers("Somebody else"))
    assert again.headers["Location"] == first.headers["Location"]
    assert [one.name for one in session.enrollments.all()] == ["Ada Lomax"]
    assert Letter.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"person-0-name": ""}, "This field is required."),
        ({"person-0-name": "A" * 81}, "at most 80 characters"),
        ({"person-0-name": "Ada\r\nBcc: x@example.org"}, "Enter it on one line."),
        ({"person-0-name": "See https://example.org"}, "Enter a name, not an address."),
        ({"contact-email": "nobody"}, "Enter a valid email address."),
        ({"contact-email": "a@example.org\nBcc: b@example.org"}, "Enter a valid email address."),
        ({"contact-phone": "call me"}, "Enter a phone number"),
        ({"person-0-diet": "told"}, "Mark an allergen or write what it is."),
        ({"person-0-must_not_eat": "rye"}, "Something is marked or written below."),
        ({"person-0-allergens": ["plutonium"]}, "Select a valid choice."),
        ({"person-0-must_not_eat": "x" * 301, "person-0-diet": "told"}, "at most 300 characters"),
    ],
)
def test_a_bad_answer_is_named_and_nothing_is_lost(stranger, session, wrong, message):
    booking = held(session)
    fields = answers("Ada Lomax", **{"contact-phone": "+353 1 555"}) | wrong
    response = stranger.post(form_of(booking), fields)
    text = " ".join(response.content.decode().split())
    assert message in text
    assert "everything you typed is still here" in text
    assert 'aria-invalid="true"' in text
    for name in ("person-0-name", "contact-phone", "contact-email"):
        if name not in wrong:
            assert f'value="{fields[name]}"' in text
    booking.refresh_from_db()
    session.refresh_from_db()
    assert (booking.state, session.taken) == (Booking.State.HELD, 1)
    assert not session.enrollments.exists()


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        ({}, ("", [], "")),
        ({"diet": "silent"}, ("silent", [], "")),
        ({"diet": "private"}, ("private", [], "")),
        ({"diet": "private", "must_not_eat": "ask me"}, ("private", [], "ask me")),
        ({"allergens": ["milk", "eggs"]}, ("told", ["milk", "eggs"], "")),
        ({"must_not_eat": "rye"}, ("told", [], "rye")),
    ],
)
def test_what_must_not_be_eaten_is_optional(stranger, session, given, kept):
    fields = answers("Ada Lomax")
    del fields["person-0-diet"]
    fields |= {f"person-0-{name}": value for name, value in given.items()}
    stranger.post(form_of(held(session)), fields)
    person = session.enrollments.get()
    assert (person.diet, person.allergens, person.must_not_eat) == kept


def test_the_form_says_why_it_asks_and_who_sees_the_answer(stranger, session):
    text = stranger.get(form_of(held(session))).content.decode()
    assert "Only the instructor and the assistant see the answer" in text
    assert "You do not have to answer." in text


@pytest.fixture
def gone(session, today):
    """Seats that were held and have gone to others: six booked, two held by another form."""
    booking, later = held(session), NOW + timedelta(minutes=16)
    today(later)
    enrolled(session, *map(Diner, "abcdef"), at=later)
    return booking, held(session, 2, at=later)


def test_the_form_of_seats_that_ran_out_does_not_open(stranger, gone):
    response = stranger.get(form_of(gone[0]))
    assert response.status_code == 410
    assert "no longer held" in response.content.decode()


def test_seats_that_went_to_others_take_no_words_with_them(stranger, session, gone):
    fields = answers("Ada Lomax", **{"person-0-must_not_eat": "rye"})
    response = stranger.post(form_of(gone[0]), fields)
    text = response.content.decode()
    assert response.status_code == 410
    assert "The time ran out, and the seats went to others." in text
    assert "Held until" not in text
    for words in ("Ada Lomax", "ada@example.org", "rye"):
        assert f'value="{words}"' in text
    assert session.enrollments.count() == 6


def test_sent_again_when_somebody_gave_up_it_enrolls(stranger, gone):
    booking, others = gone
    assert stranger.post(form_of(booking), answers("Ada Lomax")).status_code == 410
    take_back_offer(booking=others, at=NOW + timedelta(minutes=16))
    response = stranger.post(form_of(booking), answers("Ada Lomax"), follow=True)
    assert "You have a seat." in response.content.decode()


def test_a_form_sent_late_still_enrolls_while_its_seats_are_free(stranger, session, today):
    booking = held(session)
    today(NOW + timedelta(minutes=16))
    response = stranger.post(form_of(booking), answers("Ada Lomax"), follow=True)
    assert "Your place in" in response.content.decode()
    session.refresh_from_db()
    assert (session.taken, session.enrollments.get().name) == (1, "Ada Lomax")


def test_a_form_sent_late_does_not_pass_those_who_wait(stranger, today, db):
    session = open_class(seats=2)
    booking = held(session, 2)
    join_waiting(
        session=session, name="Wim", email="wim@example.org", seats=1, form_key=key(), at=NOW
    )
    today(NOW + timedelta(minutes=16))
    assert stranger.post(form_of(booking), answers("Ada", "Bo")).status_code == 410
    assert not session.enrollments.exists()


def test_a_late_form_with_a_mistake_keeps_seats_and_words(stranger, session, today):
    booking = held(session)
    today(NOW + timedelta(minutes=16))
    fields = answers("Ada Lomax", email="nobody")
    response = stranger.post(form_of(booking), fields)
    assert response.status_code == 200
    assert 'value="Ada Lomax"' in response.content.decode()
    booking.refresh_from_db()
    assert booking.is_held_at(NOW + timedelta(minutes=16))


class TestHoldingLonger:
    """Three minutes at first; with a contact a quarter of an hour from the beginning."""

    def keep(self, client, booking, **more):
        fields = answers("Ada Lomax", **{"keep": "1", "person-0-must_not_eat": "rye"}) | more
        del fields["person-0-diet"]
        return client.post(form_of(booking), fields)

    def until(self, booking):
        booking.refresh_from_db()
        return (booking.held_until - NOW) // timedelta(minutes=1)

    def test_the_button_holds_the_seats_and_keeps_what_is_typed(self, stranger, session):
        booking = held(session)
        assert self.until(booking) == 3
        text = self.keep(stranger, booking).content.decode()
        assert self.until(booking) == 15
        assert "Held until 09:15 ·" in " ".join(text.split())
        assert 'value="Ada Lomax"' in text
        assert 'value="rye"' in text
        assert 'aria-invalid="true"' not in text
        assert not session.enrollments.exists()

    def test_without_an_address_it_holds_no_longer_and_says_so(self, stranger, session):
        booking = held(session)
        text = self.keep(stranger, booking, **{"contact-email": ""}).content.decode()
        assert self.until(booking) == 3
        assert "This field is required." in text

    def test_a_script_gets_the_new_time_alone(self, stranger, session, htmx):
        booking = held(session)
        fields = answers("", keep="1")
        response = stranger.post(form_of(booking), fields, headers=htmx)
        assert response.content.decode().strip().startswith('<p class="lead" id="held">')
        assert self.until(booking) == 15

    def test_a_mistake_elsewhere_in_the_form_holds_them_too(self, stranger, session):
        booking = held(session)
        stranger.post(form_of(booking), answers(""))
        assert self.until(booking) == 15

    def test_asking_again_and_again_is_no_longer_than_once(self, stranger, session, today):
        booking = held(session)
        for minute in (2, 9, 14):
            today(NOW + timedelta(minutes=minute))
            self.keep(stranger, booking)
        assert self.until(booking) == 15

    def test_a_contact_of_seats_that_ran_out_is_not_kept(self, stranger, session, today):
        booking = held(session)
        self.keep(stranger, booking)
        booking.refresh_from_db()
        assert booking.email == "ada@example.org"
        do_chores(at=NOW + timedelta(minutes=16))
        booking.refresh_from_db()
        assert (booking.state, booking.email, booking.phone) == ("run out", "", "")

    def test_an_offer_is_held_as_long_as_it_says(self, stranger, db, today):
        session = open_class(seats=1)
        entry = join_waiting(
            session=session, name="Wim", email="wim@example.org", seats=1, form_key=key(), at=NOW
        )
        self.keep(stranger, entry.booking)
        assert self.until(entry.booking) == 24 * 60


def test_fields_that_are_not_asked_change_nothing(stranger, session):
    booking = held(session)
    fields = answers("Ada Lomax") | {"price_minor": "0", "seats": "6", "person-1-name": "Bo"}
    stranger.post(form_of(booking), fields | {"person-0-door": "came", "state": "canceled"})
    booking.refresh_from_db()
    assert (booking.price_minor, booking.seats) == (3800, 1)
    assert session.enrollments.get().door == ""


def test_the_words_stand_in_no_address_and_no_letter(stranger, session):
    fields = answers("Ada Lomax", **{"person-0-must_not_eat": CANARY, "person-0-diet": "told"})
    response = stranger.post(form_of(held(session)), fields)
    letter = Letter.objects.get()
    for text in (response.headers["Location"], letter.text, letter.html, letter.calendar):
        assert CANARY not in text


def test_a_renewed_link_closes_the_address_of_the_form(stranger, session):
    booking = enrolled(session)
    assert stranger.get(form_of(booking)).status_code == 302
    address = form_of(booking)
    renew_link(enrollment=booking.people.get())
    assert stranger.get(address).status_code == 404


def test_guessed_addresses_are_slowed_down(stranger, session):
    seen = [stranger.get(f"/enroll/1-guess{n}/").status_code for n in range(25)]
    assert seen == [404] * 20 + [429] * 5


def test_the_boxes_for_allergens_stand_open(stranger, session):
    text = stranger.get(form_of(held(session))).content.decode()
    assert "<details" not in text
    assert 'name="person-0-allergens"' in text
