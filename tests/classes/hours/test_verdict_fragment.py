"""The verdict while a class is being built: from what is typed, within a second, never saved."""

from __future__ import annotations

import time

import pytest
from django.urls import reverse

from classes.models import ClassSession, TaughtRecipe
from recipes.models import Revision
from tests.classes.demo_class import demo_class
from tests.classes.hours.hours_classes import baking_class, equipped_kitchen, loaf

ADDRESS = "/classes/verdict/"
MOST_S = 1
QUERIES = 26


@pytest.fixture
def kitchen(instructor):
    return equipped_kitchen(owner=instructor)


@pytest.fixture
def revision(instructor):
    return loaf(instructor)


@pytest.fixture
def fields(kitchen, revision):
    """A class of five in four hours, without the title that it will be given last."""
    return {
        "title": "",
        "kitchen": kitchen.pk,
        "day": "2030-05-04",
        "starts": "10:00",
        "ends": "14:00",
        "seats": "5",
        "stations": [station.pk for station in kitchen.stations.all()],
        "count_empty_seats": "on",
        "handling_loss_percent": "3",
        "taught-TOTAL_FORMS": "1",
        "taught-INITIAL_FORMS": "0",
        "taught-0-revision": revision.pk,
        "taught-0-pieces_each": "1",
        "taught-0-piece_g": "",
        "taught-0-demonstration_batches": "1",
        "taught-0-dusting_g": "15",
    }


def said(response) -> str:
    return " ".join(response.content.decode().split())


class TestAClassThatIsBuilt:
    def test_it_fits(self, instructor_client, fields):
        assert "<strong>Fits</strong>" in said(instructor_client.post(ADDRESS, fields))

    def test_an_hour_less_and_it_does_not(self, instructor_client, fields):
        fields["ends"] = "13:00"
        assert "<strong>Does not fit</strong>" in said(instructor_client.post(ADDRESS, fields))

    def test_only_a_fragment_comes_back_and_nothing_is_written(self, instructor_client, fields):
        response = instructor_client.post(ADDRESS, fields)
        assert "<html" not in response.content.decode()
        assert not ClassSession.objects.exists()
        assert not TaughtRecipe.objects.exists()
        assert not Revision.objects.filter(in_use=True).exists()

    def test_empty_seats_count_only_if_they_are_planned_for(self, instructor_client, fields):
        del fields["count_empty_seats"]
        fields["taught-0-demonstration_batches"] = "0"
        assert "Nobody is baking yet." in said(instructor_client.post(ADDRESS, fields))

    def test_a_removed_recipe_does_not_count_however_it_is_filled_in(
        self, instructor_client, fields
    ):
        second = {"revision": "", "pieces_each": "many", "dusting_g": "", "DELETE": "on"}
        fields |= {f"taught-1-{name}": value for name, value in second.items()}
        fields["taught-TOTAL_FORMS"] = "2"
        assert "<strong>Fits</strong>" in said(instructor_client.post(ADDRESS, fields))


class TestAFormThatIsNotFilledIn:
    def test_what_is_missing_is_named(self, instructor_client, fields):
        fields |= {"day": "", "ends": "", "taught-0-revision": ""}
        assert "once these are filled in: date, ends, recipe." in said(
            instructor_client.post(ADDRESS, fields)
        )

    def test_nothing_at_all_is_no_error(self, instructor_client):
        response = instructor_client.post(ADDRESS, {})
        assert response.status_code == 200
        assert "once these are filled in" in said(response)

    @pytest.mark.parametrize(
        ("field", "value", "message"),
        [
            ("ends", "09:00", "Ends: The class ends before it starts."),
            ("seats", "10000", "Seats: At most 200 seats."),
            ("seats", "9", "Stations in use: 9 seats, but these stations hold 8 people."),
            ("taught-0-piece_g", "-5", "Piece, g: Ensure this value is greater than"),
            ("stations", ["999"], "Stations in use: These are stations of another kitchen."),
        ],
    )
    def test_what_is_wrong_is_said(self, instructor_client, fields, field, value, message):
        assert message in said(instructor_client.post(ADDRESS, fields | {field: value}))

    def test_a_recipe_that_stands_twice_is_said(self, instructor_client, fields, revision):
        fields |= {"taught-TOTAL_FORMS": "2", "taught-1-revision": revision.pk}
        fields |= {"taught-1-pieces_each": "1", "taught-1-dusting_g": "15"}
        fields["taught-1-demonstration_batches"] = "1"
        assert "A recipe is listed twice." in said(instructor_client.post(ADDRESS, fields))

    def test_a_recipe_without_steps_leads_to_its_form(self, instructor_client, instructor, fields):
        bare = loaf(instructor, title="Bare loaf", steps=())
        fields["taught-0-revision"] = bare.pk
        page = said(instructor_client.post(ADDRESS, fields))
        assert "Write the steps of Bare loaf first." in page
        assert reverse("recipes:edit", args=[bare.recipe.slug]) in page


class TestAClassThatIsChanged:
    @pytest.fixture
    def session(self, instructor, kitchen, revision):
        return baking_class(instructor, kitchen=kitchen, revision=revision, students=3)

    @pytest.fixture
    def fields(self, fields, session):
        row = session.taught.get()
        return fields | {
            "code": session.code,
            "taught-INITIAL_FORMS": "1",
            "taught-0-id": row.pk,
        }

    def test_its_own_settings_count(self, instructor_client, session, fields):
        assert "<strong>Fits</strong>" in said(instructor_client.post(ADDRESS, fields))
        session.welcome_min = 100
        session.save()
        assert "<strong>Does not fit</strong>" in said(instructor_client.post(ADDRESS, fields))

    def test_no_fewer_seats_than_people(self, instructor_client, session, fields):
        fields |= {"seats": "2"}
        answer = said(instructor_client.post(ADDRESS, fields))
        assert "3 seats are taken already." in answer

    def test_its_row_is_not_written(self, instructor_client, session, fields):
        fields |= {"seats": "8", "ends": "13:00"}
        instructor_client.post(ADDRESS, fields)
        now = ClassSession.objects.get()
        assert (now.seats, now.ends_at) == (session.seats, session.ends_at)

    def test_somebody_elses_class_cannot_be_asked_about(self, other_client, session, fields):
        assert other_client.post(ADDRESS, fields).status_code == 404


class TestWithoutAScript:
    def test_a_button_shows_it_and_keeps_what_is_typed(self, instructor_client, fields):
        response = instructor_client.post("/classes/new/", fields | {"check": "yes"})
        page = said(response)
        assert "<strong>Fits</strong>" in page
        assert "Not saved yet" not in page
        assert 'value="2030-05-04"' in page
        assert not ClassSession.objects.exists()

    def test_another_row_keeps_the_verdict(self, instructor_client, fields):
        response = instructor_client.post("/classes/new/", fields | {"add": "taught"})
        assert "<strong>Fits</strong>" in said(response)

    def test_a_class_that_is_opened_again_shows_it_at_once(self, instructor_client, instructor):
        session = baking_class(instructor)
        page = said(instructor_client.get(reverse("classes:edit", args=[session.code])))
        assert "<strong>Fits</strong>" in page


def test_the_demo_is_answered_within_a_second(db, client):
    session = demo_class()
    client.force_login(session.instructor)
    row = session.taught.get()
    fields = {
        "code": session.code,
        "kitchen": session.kitchen_id,
        "day": "2030-05-25",
        "starts": "10:00",
        "ends": "13:00",
        "seats": "12",
        "stations": [station.pk for station in session.stations.all()],
        "count_empty_seats": "on",
        "taught-TOTAL_FORMS": "1",
        "taught-INITIAL_FORMS": "1",
        "taught-0-id": row.pk,
        "taught-0-revision": row.revision_id,
        "taught-0-pieces_each": "1",
        "taught-0-piece_g": "520",
        "taught-0-demonstration_batches": "1",
        "taught-0-dusting_g": "15",
    }
    client.post(ADDRESS, fields)
    before = time.process_time()
    response = client.post(ADDRESS, fields)
    taken_s = time.process_time() - before
    assert "<strong>Does not fit</strong>" in said(response)
    assert taken_s < MOST_S


def test_it_takes_the_same_queries_for_any_number_of_seats(
    instructor_client, instructor, fields, django_assert_num_queries
):
    wide = equipped_kitchen(owner=instructor, stations=15)
    with django_assert_num_queries(QUERIES):
        instructor_client.post(ADDRESS, fields)
    fields |= {"kitchen": wide.pk, "seats": "60"}
    fields["stations"] = [station.pk for station in wide.stations.all()]
    with django_assert_num_queries(QUERIES):
        instructor_client.post(ADDRESS, fields)
