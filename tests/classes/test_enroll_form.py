"""The short form for seats that are held: filled, mended, sent twice, run out."""

from __future__ import annotations

from datetime import timedelta

import pytest

from classes.models import Booking, Letter
from classes.services.sessions import renew_link
from tests.classes.enrolled import CANARY, NOW, answers, enrolled, form_of, held, open_class

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
        ({"person-0-name": "Ada\r\nBcc: x@example.org"}, "Write it on one line."),
        ({"person-0-name": "See https://example.org"}, "Write a name, not an address."),
        ({"contact-email": "nobody"}, "Enter a valid email address."),
        ({"contact-email": "a@example.org\nBcc: b@example.org"}, "Enter a valid email address."),
        ({"contact-phone": "call me"}, "Write a phone number"),
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
    text = response.content.decode()
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


@pytest.mark.parametrize("method", ["get", "post"])
def test_seats_that_ran_out_are_gone_politely(stranger, session, today, method):
    booking = held(session)
    today(NOW + timedelta(minutes=16))
    response = getattr(stranger, method)(form_of(booking), answers("Ada Lomax"))
    assert response.status_code == 410
    assert "no longer held" in response.content.decode()
    assert not session.enrollments.exists()


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
