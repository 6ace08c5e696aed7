"""A student's own page: what it says, and what can be done there."""

from __future__ import annotations

from datetime import timedelta

import pytest

from classes.enrollment.models import Letter
from classes.enrollment.services.seats import Diner
from tests.classes.enrollment.enrolled import CANARY, NOW, enrolled, open_class, page_of
from tests.seen import seen_at

pytestmark = pytest.mark.usefixtures("today")


@pytest.fixture
def session(db):
    return open_class(about="A round loaf.", refund_days=7, transfer_days=2)


@pytest.fixture
def ada(session):
    return enrolled(session).people.get()


@pytest.fixture
def party(session):
    """Ada, who booked, and Bo, who comes with her."""
    people = (Diner("Ada Lomax"), Diner("Bo Vane", "told", ("milk",), CANARY))
    return enrolled(session, *people).people.order_by("position")


def paid(person, minor=3800):
    person.booking.payments.create(
        amount_minor=minor,
        means="cash",
        paid_on=NOW.date(),
        form_key=f"pay-{person.pk}",
        noted_by=person.session.instructor,
    )


def taken(session) -> int:
    session.refresh_from_db()
    return session.taken


def test_it_says_when_and_where_and_what_was_told(stranger, ada):
    text = stranger.get(page_of(ada)).content.decode()
    for fact in ("Slow loaves", "Saturday 4 May 2030", "Ada Lomax", CANARY, "sesame"):
        assert fact in text


def test_it_leads_to_homework_handout_calendar_and_what_is_held(stranger, ada):
    text = stranger.get(page_of(ada)).content.decode()
    for more in (("before",), ("handout",), ("held",), ("erase",)):
        assert page_of(ada, *more) in text
        assert stranger.get(page_of(ada, *more)).status_code == 200
    assert page_of(ada, "class.ics")[:-1] in text


def test_it_is_kept_by_no_cache_and_no_search_engine(stranger, ada):
    headers = stranger.get(page_of(ada)).headers
    assert headers["Cache-Control"] == "private, no-store"
    assert headers["X-Robots-Tag"] == "noindex, nofollow"
    assert headers["Referrer-Policy"] == "same-origin"


def test_opening_pages_changes_nothing(stranger, ada):
    for more in ((), ("erase",), ("held",), ("eat",), ("before",)):
        stranger.get(page_of(ada, *more))
    ada.refresh_from_db()
    assert (ada.name, ada.must_not_eat) == ("Ada Lomax", CANARY)


class TestWhatMustNotBeEaten:
    def test_it_can_be_told_anew(self, stranger, ada):
        fields = {"diet": "told", "allergens": ["milk"], "must_not_eat": "no butter"}
        fields |= seen_at(stranger, page_of(ada))
        response = stranger.post(page_of(ada, "eat"), fields, follow=True)
        assert "Saved." in response.content.decode()
        ada.refresh_from_db()
        assert (ada.allergens, ada.must_not_eat) == (["milk"], "no butter")

    def test_it_can_be_taken_back(self, stranger, ada):
        fields = {"diet": "nothing"} | seen_at(stranger, page_of(ada))
        stranger.post(page_of(ada, "eat"), fields)
        ada.refresh_from_db()
        assert (ada.diet, ada.allergens, ada.must_not_eat) == ("nothing", [], "")

    def test_a_contradiction_is_asked_about_and_changes_nothing(self, stranger, ada):
        fields = {"diet": "nothing", "must_not_eat": "rye"} | seen_at(stranger, page_of(ada))
        text = stranger.post(page_of(ada, "eat"), fields).content.decode()
        assert "Something is marked or written below." in text
        ada.refresh_from_db()
        assert ada.must_not_eat == CANARY

    def test_another_name_is_not_taken(self, stranger, ada):
        stranger.post(page_of(ada, "eat"), {"diet": "nothing", "name": "Mallory"})
        ada.refresh_from_db()
        assert ada.name == "Ada Lomax"


class TestTogether:
    def test_the_one_who_booked_has_everybodys_link(self, stranger, party):
        ada, bo = party
        assert page_of(bo) in stranger.get(page_of(ada)).content.decode()

    def test_the_others_see_names_and_no_links_or_words(self, stranger, party):
        ada, bo = party
        text = stranger.get(page_of(bo)).content.decode()
        assert "Ada Lomax" in text
        assert page_of(ada) not in text
        assert CANARY not in stranger.get(page_of(ada)).content.decode()

    def test_only_the_one_who_booked_cancels_for_all(self, stranger, session, party):
        bo = party[1]
        stranger.post(page_of(bo, "cancel"), {"all": "1"})
        assert [one.name for one in session.enrollments.all()] == ["Ada Lomax"]
        assert taken(session) == 1

    def test_nobody_takes_over_when_the_one_who_booked_leaves(self, stranger, session, db):
        people = [Diner(name) for name in ("Ada Lomax", "Bo Vane", "Cy Tarn")]
        ada, bo, cy = enrolled(session, *people).people.order_by("position")
        stranger.post(page_of(ada, "cancel"), {"one": "1"})
        text = stranger.get(page_of(bo)).content.decode()
        assert page_of(cy) not in text
        assert "Cancel all" not in text
        assert "ada@example.org" not in stranger.get(page_of(bo, "held")).content.decode()


class TestCanceling:
    def test_in_time_all_that_was_paid_is_due_back(self, stranger, session, ada):
        paid(ada)
        assert "<strong>38.00 EUR</strong> will be refunded" in (
            stranger.get(page_of(ada)).content.decode()
        )
        text = stranger.post(page_of(ada, "cancel"), {"one": "1"}).content.decode()
        assert "38.00 EUR will be refunded to you" in text
        booking = session.bookings.get()
        assert (booking.state, booking.refund_due_minor) == ("canceled", 3800)
        assert taken(session) == 0
        assert stranger.get(page_of(ada)).status_code == 404

    def test_after_that_nothing_is(self, stranger, session, ada, today):
        paid(ada)
        today(session.starts_at - timedelta(days=7) + timedelta(seconds=1))
        assert "nothing is refunded" in stranger.get(page_of(ada)).content.decode()
        stranger.post(page_of(ada, "cancel"), {"one": "1"})
        assert session.bookings.get().refund_due_minor == 0

    def test_the_last_minute_counts_as_in_time(self, stranger, session, ada, today):
        paid(ada)
        today(session.starts_at - timedelta(days=7))
        stranger.post(page_of(ada, "cancel"), {"one": "1"})
        assert session.bookings.get().refund_due_minor == 3800

    def test_one_of_two_gets_half_back(self, stranger, session, party):
        ada, bo = party
        paid(ada, 7600)
        stranger.post(page_of(bo, "cancel"), {"one": "1"})
        booking = session.bookings.get()
        assert (booking.seats, booking.refund_due_minor, booking.price_minor) == (1, 3800, 3800)

    def test_all_at_once(self, stranger, session, party):
        stranger.post(page_of(party[0], "cancel"), {"all": "1"})
        assert taken(session) == 0
        assert not session.enrollments.exists()
        assert Letter.objects.filter(kind="canceled").count() == 1

    def test_once_the_class_has_begun_nothing_is_canceled(self, stranger, session, ada, today):
        today(session.starts_at)
        response = stranger.post(page_of(ada, "cancel"), {"one": "1"}, follow=True)
        assert "nothing was canceled" in response.content.decode()
        assert taken(session) == 1


class TestMoving:
    @pytest.fixture
    def other(self, session):
        return open_class(
            title="Later loaves",
            starts_at=session.starts_at + timedelta(days=7),
            price_minor=4200,
            seats=2,
        )

    def move(self, client, person, to):
        return client.post(page_of(person, "move"), {"to": to.pk}, follow=True)

    def test_the_whole_booking_moves_with_its_seats(self, stranger, session, party, other):
        text = self.move(stranger, party[0], other).content.decode()
        assert "You are now in “Later loaves”" in text
        assert (taken(session), taken(other)) == (0, 2)
        assert other.enrollments.count() == 2
        assert other.bookings.get().price_minor == 8400
        assert Letter.objects.filter(kind="confirmation").count() == 2

    def test_there_and_back_each_move_is_told(self, stranger, session, ada, other, today):
        self.move(stranger, ada, other)
        today(NOW + timedelta(minutes=5))
        self.move(stranger, ada, session)
        assert Letter.objects.filter(kind="confirmation").count() == 3

    def test_the_price_stands_beside_the_choice(self, stranger, ada, other):
        assert "42.00 EUR a seat" in stranger.get(page_of(ada)).content.decode()

    def test_a_full_class_is_no_choice(self, stranger, session, party, other):
        enrolled(other, Diner("Cy"), email="cy@example.org")
        text = self.move(stranger, party[0], other).content.decode()
        assert "no longer has room for you" in text
        assert taken(session) == 2

    def test_only_until_the_stated_day(self, stranger, session, ada, other, today):
        today(session.starts_at - timedelta(days=2) + timedelta(seconds=1))
        assert "Move to this class" not in stranger.get(page_of(ada)).content.decode()
        self.move(stranger, ada, other)
        assert (taken(session), taken(other)) == (1, 0)

    def test_only_the_one_who_booked_moves(self, stranger, party, other):
        assert self.move(stranger, party[1], other).status_code == 404


class TestHomework:
    def test_it_has_equipment_ingredients_measuring_and_the_day(self, stranger, session, ada):
        revision = session.taught.get().revision
        revision.equipment = "Bench scraper\nProofing basket"
        revision.save()
        revision.steps.create(position=0, kind="mix", text="Mix.", hands_on_min=20)
        revision.steps.create(position=1, kind="bulk", text="Rise.", waiting_min=60)
        text = stranger.get(page_of(ada, "before")).content.decode()
        for fact in (
            "Bench scraper",
            "Bread flour",
            "up to 25 %",
            "0.1 g",
            "closed shoes",
            "20 seconds with soap",
            "1 h 20 min",
            "ask, and check the labels",
        ):
            assert fact.lower() in text.lower().replace("\xa0", " "), fact

    def test_it_says_what_was_told_to_nobody(self, stranger, ada):
        assert CANARY not in stranger.get(page_of(ada, "before")).content.decode()

    @pytest.mark.parametrize("size", ["a4", "letter"])
    def test_it_comes_on_paper(self, stranger, ada, size):
        response = stranger.get(page_of(ada, "before.pdf")[:-1] + f"?page={size}")
        assert response.headers["Content-Type"] == "application/pdf"
        assert response.content.startswith(b"%PDF")

    def test_a_class_still_being_prepared_asks_for_patience(self, stranger, session, ada):
        session.taught.all().delete()
        response = stranger.get(page_of(ada, "before"))
        assert response.status_code == 409
        assert "Check again" in response.content.decode()


def test_guessed_links_are_slowed_down(stranger, ada):
    good = page_of(ada)
    seen = [stranger.get(good.replace("mine/", f"mine/{n}")).status_code for n in range(25)]
    assert seen == [404] * 20 + [429] * 5
