"""The first thing on one's own page: that there is a seat, and what became of the letter."""

from __future__ import annotations

import pytest

from classes.enrollment.models import Letter
from classes.enrollment.services.letters import erase_letters
from classes.enrollment.services.seats import Diner
from config import letter_files
from tests.classes.enrollment.enrolled import (
    NOW,
    answers,
    enrolled,
    form_of,
    held,
    open_class,
    page_of,
)

WITH = "with this page’s address and the class for your calendar"

pytestmark = pytest.mark.usefixtures("today")


@pytest.fixture
def session(db):
    return open_class()


class TestAfterBooking:
    @pytest.fixture(autouse=True)
    def _with_a_mail_server(self, settings):
        settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"

    def book(self, client, session, *names) -> str:
        response = client.post(form_of(held(session, len(names))), answers(*names), follow=True)
        return " ".join(response.content.decode().split())

    @pytest.mark.parametrize(
        ("names", "words"),
        [(("Ada Lomax",), "You have a seat."), (("Ada Lomax", "Bo"), "You have 2 seats.")],
    )
    def test_it_says_how_many_seats_and_that_a_letter_is_on_its_way(
        self, stranger, session, names, words
    ):
        text = self.book(stranger, session, *names)
        assert f"<strong>{words}</strong> A letter {WITH} is on its way to" in text
        assert "on its way to ada@example.org." in text

    def test_where_letters_are_not_sent_it_says_so(self, stranger, session, settings):
        settings.EMAIL_BACKEND = letter_files.BACKEND
        text = self.book(stranger, session, "Ada Lomax")
        assert "This site sends no letters, so none comes to ada@example.org." in text

    @pytest.mark.parametrize(
        ("fields", "words"),
        [
            ({"state": "sent", "sent_at": NOW}, f"{WITH} went to ada@example.org on 1 Apr, 09:00."),
            ({"state": "failed", "tries": 6}, "The letter to ada@example.org could not be sent."),
            ({"tries": 1}, "has not gone out yet and will be tried again soon."),
            ({"state": "written"}, "This site sends no letters"),
        ],
    )
    def test_what_became_of_it_is_told(self, stranger, session, fields, words):
        booking = enrolled(session)
        Letter.objects.update(**fields)
        text = stranger.get(page_of(booking.people.get())).content.decode()
        assert words in text

    def test_those_who_came_along_do_not_read_the_address(self, stranger, session):
        booking = enrolled(session, Diner("Ada"), Diner("Bo"))
        text = stranger.get(page_of(booking.people.last())).content.decode()
        assert "<strong>You have a seat.</strong></div>" in text
        assert "ada@example.org" not in text

    def test_an_erased_letter_tells_nothing(self, stranger, session):
        booking = enrolled(session)
        erase_letters(booking.letters.all())
        text = stranger.get(page_of(booking.people.get())).content.decode()
        assert "<strong>You have a seat.</strong></div>" in text

    def test_once_the_class_has_begun_it_is_not_said(self, stranger, session, today):
        booking = enrolled(session)
        today(session.starts_at)
        assert (
            "You have a seat." not in stranger.get(page_of(booking.people.get())).content.decode()
        )


def promises(client) -> str:
    """What the form and the page of a full class say about letters."""
    form = client.get(form_of(held(open_class()))).content.decode()
    enrolled(full := open_class(seats=1))
    return " ".join((form + client.get(f"/open/{full.code}/").content.decode()).split())


def test_where_letters_are_sent_they_are_promised(stranger, settings, db):
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    text = promises(stranger)
    assert "Your confirmation and your own link go here." in text
    assert "the first person on the list gets a letter" in text
    assert "sends no letters" not in text


def test_where_none_are_sent_none_is_promised(stranger, settings, db):
    settings.EMAIL_BACKEND = letter_files.BACKEND
    text = promises(stranger)
    assert "It stays with your booking. This site sends no letters." in text
    assert "keep the address of your place on the list, and check it." in text
    assert "go here" not in text
    assert "gets a letter" not in text


def test_a_move_says_what_became_of_its_letter(stranger, session, settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    other = open_class(title="Rolls", instructor=session.instructor, kitchen=session.kitchen)
    own = page_of(enrolled(session).people.get())
    text = stranger.post(f"{own}move/", {"to": other.pk}, follow=True).content.decode()
    assert "You are now in “Rolls”." in text
    assert "is on its way to ada@example.org." in text
