"""Coming classes and the page of a class, as anybody reads them."""

from __future__ import annotations

import json
import re
from datetime import timedelta

import pytest

from tests.classes.enrollment.enrolled import CANARY, NOW, enrolled, key, open_class
from tests.factories import ClassSessionFactory, IngredientFactory

LINKED_DATA = re.compile(r'<script type="application/ld\+json">(.*?)</script>', re.DOTALL)

pytestmark = pytest.mark.usefixtures("today")


def page(client, session) -> str:
    return client.get(f"/open/{session.code}/").content.decode()


def linked_data(client, session):
    (found,) = LINKED_DATA.findall(page(client, session))
    return json.loads(found)


class TestTheList:
    def test_open_classes_to_come_are_listed_the_next_one_first(self, stranger, db):
        later = open_class(title="Later loaves", starts_at=NOW + timedelta(days=20))
        open_class(title="Sooner loaves", starts_at=NOW + timedelta(days=10))
        text = stranger.get("/open/").content.decode()
        assert text.index("Sooner loaves") < text.index("Later loaves")
        assert f"/open/{later.code}/" in text

    def test_closed_and_past_ones_are_not(self, stranger, db):
        open_class(title="Closed loaves", is_open=False)
        open_class(title="Past loaves", starts_at=NOW - timedelta(days=1))
        text = stranger.get("/open/").content.decode()
        assert "Closed loaves" not in text
        assert "Past loaves" not in text
        assert "No class is open for enrollment right now" in text

    def test_times_are_the_kitchens(self, stranger, db):
        session = open_class()
        session.kitchen.time_zone = "Europe/Dublin"
        session.kitchen.save()
        assert "11:00 to 15:00" in stranger.get("/open/").content.decode()

    def test_a_full_one_offers_the_waiting_list(self, stranger, db):
        open_class(students=2, seats=2)
        assert "full, waiting list" in stranger.get("/open/").content.decode()

    def test_it_takes_two_queries_for_any_number_of_classes(
        self, stranger, django_assert_num_queries, db
    ):
        for _ in range(3):
            open_class()
        with django_assert_num_queries(2):
            stranger.get("/open/")


class TestAClass:
    def test_it_says_all_that_has_to_be_known(self, stranger, db):
        session = open_class(
            about="A round loaf.", level="first", bring="An apron", refund_days=7, transfer_days=2
        )
        session.kitchen.place = "Behind the mill"
        session.kitchen.access_facts = "Two steps at the door."
        session.kitchen.save()
        text = page(stranger, session)
        for fact in (
            "Slow loaves",
            "A round loaf.",
            "For a first loaf",
            "38.00 EUR",
            "Behind the mill",
            "Two steps at the door.",
            "An apron",
            "Saturday 27 April, 10:00",
            "Thursday 2 May, 10:00",
            "Saturday 4 May 2030, 10:00",
            "14:00",
            session.taught.get().revision.title,
        ):
            assert fact in text, fact

    def test_allergens_are_those_of_recipe_and_dusting(self, stranger, db):
        session = open_class()
        row = session.taught.get()
        line = row.revision.components.get().lines.first()
        line.ingredient.allergens_eu, line.ingredient.may_contain = ["sesame"], "traces of soy"
        line.ingredient.save()
        row.dusting_flour = IngredientFactory(name="Lupin flour", allergens_eu=["lupin"])
        row.save()
        text = page(stranger, session)
        assert "sesame" in text
        assert "lupin" in text
        assert "traces of soy" in text

    def test_nothing_promises_that_a_food_holds_none(self, stranger, db):
        text = page(stranger, open_class())
        assert "nobody can promise" in text
        for word in ("safe for", "free from", "allergen-free"):
            assert word not in text.lower()

    def test_notes_of_the_staff_and_names_stay_inside(self, stranger, db):
        session = open_class(notes="the key is under the pot")
        enrolled(session)
        text = page(stranger, session) + stranger.get("/open/").content.decode()
        for secret in ("under the pot", "Lomax", "ada@example.org", CANARY):
            assert secret not in text

    @pytest.mark.parametrize("fields", [{"is_open": False}])
    def test_a_closed_class_is_not_there(self, stranger, db, fields):
        assert stranger.get(f"/open/{open_class(**fields).code}/").status_code == 404

    def test_one_that_has_begun_takes_nobody(self, stranger, db):
        text = page(stranger, open_class(starts_at=NOW - timedelta(hours=1)))
        assert "This class has begun" in text
        assert "/hold/" not in text

    def test_it_takes_the_same_few_queries_for_any_number_of_people(
        self, stranger, django_assert_num_queries, db
    ):
        for students in (0, 6):
            session = open_class(students=students)
            with django_assert_num_queries(8):
                page(stranger, session)

    def test_markup_in_its_words_stays_words(self, stranger, db):
        session = open_class(title="<b>Loud</b>", about="<img src=x onerror=alert(1)>")
        text = page(stranger, session)
        assert "<b>Loud" not in text
        assert "<img src=x" not in text


class TestLinkedData:
    def test_it_is_an_event_with_its_recipes(self, stranger, db):
        session = open_class(about="A round loaf.")
        found = linked_data(stranger, session)
        assert found["@context"] == "https://schema.org"
        assert found["@type"] == "Event"
        assert found["name"] == "Slow loaves"
        assert found["startDate"] == "2030-05-04T10:00:00+00:00"
        assert found["endDate"] == "2030-05-04T14:00:00+00:00"
        assert found["location"]["@type"] == "Place"
        assert found["url"].endswith(f"/open/{session.code}/")
        assert found["offers"]["price"] == "38.00"
        assert found["offers"]["priceCurrency"] == "EUR"
        assert found["remainingAttendeeCapacity"] == 8
        (recipe,) = found["workFeatured"]
        assert recipe["@type"] == "Recipe"
        assert recipe["name"] == session.taught.get().revision.title

    def test_a_full_class_is_sold_out(self, stranger, db):
        found = linked_data(stranger, open_class(students=2, seats=2))
        assert found["offers"]["availability"] == "https://schema.org/SoldOut"

    def test_its_offset_follows_the_clock_change(self, stranger, db):
        session = open_class()
        session.kitchen.time_zone = "Europe/Dublin"
        session.kitchen.save()
        assert linked_data(stranger, session)["startDate"] == "2030-05-04T11:00:00+01:00"

    def test_no_word_in_it_can_end_the_script(self, stranger, db):
        title = "Rolls </script><script>alert(1)</script> & more"
        session = open_class(title=title)
        text = page(stranger, session)
        assert "<script>alert" not in text
        assert linked_data(stranger, session)["name"] == title

    def test_an_address_with_a_question_is_not_repeated(self, stranger, db):
        session = open_class()
        text = stranger.get(f"/open/{session.code}/?refused=no-seats&x=1").content.decode()
        assert json.loads(LINKED_DATA.findall(text)[0])["url"].endswith(f"/{session.code}/")


class TestHolding:
    def hold(self, client, session, **fields):
        data = {"seats": "2", "form_key": key()} | fields
        return client.post(f"/open/{session.code}/hold/", data, follow=True)

    def test_seats_are_held_and_the_form_follows(self, stranger, db):
        session = open_class()
        response = self.hold(stranger, session)
        text = " ".join(response.content.decode().split())
        assert "2 seats for you" in text
        assert "Held until 09:03, and until 09:15 once you enter your e-mail" in text
        session.refresh_from_db()
        assert session.taken == 2

    @pytest.mark.parametrize("seats", ["0", "7", "-1", "two", "", "1e9", "٢"])
    def test_only_one_to_six_are(self, stranger, db, seats):
        session = open_class()
        response = self.hold(stranger, session, seats=seats)
        assert response.status_code == 400
        assert not session.bookings.exists()

    def test_the_same_form_twice_holds_once(self, stranger, db):
        session, same = open_class(), key()
        self.hold(stranger, session, form_key=same)
        self.hold(stranger, session, form_key=same)
        assert session.bookings.count() == 1

    def test_a_form_sent_to_another_class_holds_nothing_there(self, stranger, db):
        same, other = key(), open_class()
        self.hold(stranger, open_class(), form_key=same)
        assert self.hold(stranger, other, form_key=same).status_code == 400
        other.refresh_from_db()
        assert other.taken == 0

    def test_too_few_seats_are_said_politely(self, stranger, db):
        session = open_class(students=1, seats=2)
        text = " ".join(self.hold(stranger, session).content.decode().split())
        assert "no longer available" in text
        assert "1 seat is left" in text

    def test_too_many_tries_have_to_wait(self, stranger, db, settings):
        settings.PUBLIC_POSTS_A_MINUTE = 3
        session = open_class()
        answers = [self.hold(stranger, session, seats="0").status_code for _ in range(5)]
        assert answers == [400, 400, 400, 429, 429]


def test_a_class_without_recipe_still_has_a_page(stranger, db):
    session = ClassSessionFactory(is_open=True)
    assert stranger.get(f"/open/{session.code}/").status_code == 200
