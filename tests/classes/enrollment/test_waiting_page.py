"""The waiting list: joining, being offered a seat, taking it, leaving."""

from __future__ import annotations

from datetime import timedelta

import pytest

from classes.access import waiting_token
from classes.enrollment.models import Letter, Waiting
from classes.enrollment.services.chores import do_chores
from classes.enrollment.services.leaving import cancel_all
from tests.classes.enrollment.enrolled import NOW, answers, enrolled, key, open_class

pytestmark = pytest.mark.usefixtures("today")


@pytest.fixture
def session(db):
    return open_class(seats=1)


@pytest.fixture
def booking(session):
    return enrolled(session)


def join(client, session, name="Wim Oak", email="wim@example.org", **fields):
    data = {"name": name, "email": email, "seats": "1", "form_key": key()} | fields
    return client.post(f"/open/{session.code}/wait/", data, follow=True)


def page_of(entry) -> str:
    return f"/waiting/{waiting_token(entry)}/"


@pytest.mark.usefixtures("booking")
class TestJoining:
    def test_a_full_class_has_the_form(self, stranger, session):
        text = stranger.get(f"/open/{session.code}/").content.decode()
        assert "Join the waiting list" in text

    def test_somebody_who_joins_sees_where_they_stand(self, stranger, session):
        join(stranger, session, "First")
        text = join(stranger, session).content.decode()
        assert "<dd>1</dd>" in text[text.index("Ahead of you") :]
        assert Waiting.objects.count() == 2

    def test_the_same_form_twice_is_one_place(self, stranger, session):
        same = key()
        join(stranger, session, form_key=same)
        join(stranger, session, form_key=same)
        assert Waiting.objects.count() == 1

    @pytest.mark.parametrize(
        ("wrong", "message"),
        [
            ({"name": ""}, "This field is required."),
            ({"name": "Wim\nBcc: x@example.org"}, "Enter it on one line."),
            ({"email": "wim"}, "Enter a valid email address."),
        ],
    )
    def test_a_bad_answer_is_named_and_nothing_is_lost(self, stranger, session, wrong, message):
        response = join(stranger, session, **wrong)
        text = response.content.decode()
        assert response.status_code == 400
        assert message in text
        if "name" not in wrong:
            assert 'value="Wim Oak"' in text
        assert not Waiting.objects.exists()


class TestAnOffer:
    @pytest.fixture
    def entry(self, stranger, session, booking):
        join(stranger, session)
        cancel_all(booking=booking, at=NOW)
        return Waiting.objects.get()

    def test_it_is_written_and_shown_with_its_end(self, stranger, entry):
        letter = Letter.objects.get(kind="offer")
        assert letter.to == "wim@example.org"
        assert "Tuesday 2 April, 09:00" in letter.text
        text = stranger.get(page_of(entry)).content.decode()
        assert "A seat has come free for you." in text
        assert "Tuesday 2 April, 09:00" in text

    def test_taking_it_enrolls(self, stranger, session, entry):
        text = Letter.objects.get(kind="offer").text
        (take,) = (word for word in text.split() if "/enroll/" in word)
        path = "/enroll/" + take.partition("/enroll/")[2]
        form = stranger.get(path).content.decode()
        assert 'value="Wim Oak"' in form
        assert 'value="wim@example.org"' in form
        stranger.post(path, answers("Wim Oak", email="wim@example.org"))
        entry.refresh_from_db()
        assert entry.state == Waiting.State.BOOKED
        assert session.enrollments.get().name == "Wim Oak"

    def test_it_ends_and_passes_on(self, stranger, session, entry, today):
        join(stranger, session, "Next", "next@example.org")
        later = NOW + timedelta(hours=24, seconds=1)
        today(later)
        do_chores(at=later)
        entry.refresh_from_db()
        assert entry.state == Waiting.State.PASSED
        assert Waiting.objects.get(name="Next").state == Waiting.State.OFFERED
        assert "did not answer in time" in stranger.get(page_of(entry)).content.decode()

    def test_leaving_passes_it_on_and_forgets_who_it_was(self, stranger, session, entry):
        join(stranger, session, "Next", "next@example.org")
        response = stranger.post(page_of(entry), follow=True)
        assert "left the list" in response.content.decode()
        entry.refresh_from_db()
        assert (entry.state, entry.name, entry.email) == (Waiting.State.LEFT, "Erased", "")
        assert entry.booking.email == ""
        assert not Letter.objects.filter(to="wim@example.org").exists()
        assert Waiting.objects.get(name="Next").state == Waiting.State.OFFERED

    def test_a_closed_link_opens_nothing(self, stranger, entry):
        forged = page_of(entry)[:-2] + "x/"
        assert stranger.get(forged).status_code == 404


def test_opening_the_page_leaves_nobody(stranger, session, booking):
    join(stranger, session)
    stranger.get(page_of(Waiting.objects.get()))
    assert Waiting.objects.get().state == Waiting.State.WAITING
