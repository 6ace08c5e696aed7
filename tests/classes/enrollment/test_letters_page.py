"""Letters of a class: what was written to whom, who has not been told, and what failed."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.urls import reverse

from classes.enrollment.models import Letter
from classes.enrollment.services.letters import write_due_letters
from classes.models import ClassSession
from tests.classes.enrollment.booked import BOOKED_AT, book
from tests.factories import planned_class


@pytest.fixture
def session(instructor, assistant):
    return planned_class(
        instructor=instructor, assistants=[assistant], students=0, seats=8, kitchen__stations=2
    )


@pytest.fixture
def address(session):
    return reverse("classes:letters", args=[session.code])


def letter(session, **fields):
    defaults = {
        "kind": "confirmation",
        "key": f"letter {session.letters.count()} {session.pk}",
        "to": "zoe@example.org",
        "subject": "You are in",
        "text": "Dear Zoe,\nbring an apron.",
        "made_at": BOOKED_AT,
        "not_before": BOOKED_AT,
    }
    return session.letters.create(**defaults | fields)


def shown(client, address) -> str:
    return client.get(address).content.decode()


def moved(session):
    ClassSession.objects.filter(pk=session.pk).update(change_number=1)


def test_before_the_first_letter_the_page_says_when_they_go_out(instructor_client, address):
    assert "No letter yet." in shown(instructor_client, address)


def test_letters_are_shown_with_their_words_and_state(assistant_client, session, address):
    letter(session, state="sent", sent_at=BOOKED_AT)
    page = shown(assistant_client, address)
    for words in ("Confirmation", "zoe@example.org", "bring an apron.", "Sent, 1 Apr, 09:00"):
        assert words in page


def test_an_erased_letter_shows_no_address(instructor_client, session, address):
    letter(session, to="", subject="", text="")
    assert "erased" in shown(instructor_client, address)


def test_those_who_do_not_know_of_a_change_are_named_and_told_once(
    instructor_client, session, address
):
    book(session, "Zoe Walker")
    moved(session)
    assert "Not told yet: <bdi>Zoe Walker</bdi>" in shown(instructor_client, address)
    for _ in range(2):
        page = instructor_client.post(address, {"tell": "1"}, follow=True).content.decode()
    assert "Not told yet" not in page
    assert session.letters.filter(kind="change").count() == 1


def test_a_letter_that_failed_is_tried_again_when_somebody_says_so(
    instructor_client, session, address
):
    one = letter(session, state="failed", problem="mailbox full", tries=6)
    assert "mailbox full" in shown(instructor_client, address)
    page = instructor_client.post(address, {"again": "1"}, follow=True).content.decode()
    one.refresh_from_db()
    assert (one.state, one.tries) == (Letter.State.QUEUED, 0)
    assert "Letters that will be tried again: 1." in page


def test_an_assistant_reads_letters_and_sends_none(assistant_client, session, address):
    book(session, "Zoe")
    moved(session)
    page = shown(assistant_client, address)
    assert "Not told yet" in page
    assert 'name="tell"' not in page
    assert assistant_client.post(address, {"tell": "1"}).status_code == 404
    assert not session.letters.exists()


def test_strangers_find_nothing(other_client, stranger, address):
    assert other_client.get(address).status_code == 404
    assert other_client.post(address, {"tell": "1"}).status_code == 404
    assert stranger.get(address).status_code == 302


def test_a_wrong_method_is_refused(instructor_client, address):
    assert instructor_client.delete(address).status_code == 405


def test_markup_in_a_letter_stays_text(instructor_client, session, address):
    letter(session, text="<script>x</script>", problem="<b>", state="failed")
    assert "<script>x" not in shown(instructor_client, address)


def test_the_page_takes_the_same_queries_for_6_and_60_people(
    instructor_client, instructor, django_assert_max_num_queries
):
    counts = []
    for people in (6, 60):
        session = planned_class(instructor=instructor, students=0, seats=60, kitchen__stations=15)
        moved(session)
        for n in range(people):
            letter(session, booking=book(session, f"P {n}"))
        with django_assert_max_num_queries(40) as seen:
            instructor_client.get(reverse("classes:letters", args=[session.code]))
        counts.append(len(seen))
    assert counts[0] == counts[1]


class TestThanks:
    """Seen three hours after the class, which is on 4 May 2030 until 14:00."""

    @pytest.fixture(autouse=True)
    def _after_the_class(self, today, session):
        today(session.ends_at + timedelta(hours=3))

    def test_the_page_says_whose_thanks_wait_and_where_to_mark(
        self, instructor_client, session, address
    ):
        book(session, "Zoe Marsh")
        book(session, "Yan Reed", door="came")
        book(session, "Xan Ford", door="absent")
        page = " ".join(shown(instructor_client, address).split())
        assert "Thank-you letters wait until you mark who came." in page
        assert "in the booking of <bdi>Zoe Marsh</bdi>." in page
        assert reverse("classes:door", args=[session.code]) in page

    def test_a_mark_at_the_door_lets_them_go(self, instructor_client, session, address):
        booking = book(session, "Zoe Marsh")
        door = reverse("classes:door", args=[session.code])
        instructor_client.post(door, {"came": booking.people.get().pk})
        assert "Thank-you letters wait" not in shown(instructor_client, address)
        assert write_due_letters(at=session.ends_at + timedelta(hours=3)) == 1
        assert session.letters.get().kind == "thanks"

    @pytest.mark.parametrize("after", [timedelta(hours=-1), timedelta(days=8)])
    def test_before_the_end_and_after_a_week_it_says_nothing(
        self, instructor_client, session, address, today, after
    ):
        book(session, "Zoe Marsh")
        today(session.ends_at + after)
        assert "Thank-you letters wait" not in shown(instructor_client, address)
