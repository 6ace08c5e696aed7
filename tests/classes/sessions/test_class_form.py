"""Building a class: what is saved, what is refused, and that nothing typed is lost."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from django.urls import reverse

from classes.models import ClassSession
from tests.classes.sessions.class_fields import class_fields, fields_of
from tests.factories import (
    ClassSessionFactory,
    EnrollmentFactory,
    KitchenFactory,
    RevisionFactory,
    TaughtRecipeFactory,
    planned_class,
)

ADDRESS = "/classes/new/"


@pytest.fixture
def kitchen(instructor):
    return KitchenFactory(owner=instructor, stations=3, time_zone="Europe/Dublin")


@pytest.fixture
def revision(instructor):
    return RevisionFactory(recipe__owner=instructor, title="Hearth loaf", piece_g=Decimal(520))


@pytest.fixture
def fields(kitchen, revision):
    return class_fields(kitchen, revision)


def said(response) -> str:
    return " ".join(response.content.decode().split())


class TestSaving:
    def test_a_filled_form_becomes_a_class(self, instructor_client, instructor, fields):
        response = instructor_client.post(ADDRESS, fields)
        session = ClassSession.objects.get()
        assert response.headers["Location"] == session.get_absolute_url()
        assert session.instructor == instructor
        assert session.stations.count() == 3

    def test_times_are_the_kitchens_wall_clock(self, instructor_client, fields):
        instructor_client.post(ADDRESS, fields)
        assert ClassSession.objects.get().starts_at == datetime(2030, 5, 4, 9, tzinfo=UTC)

    def test_an_empty_piece_mass_is_the_recipes_own(self, instructor_client, fields):
        instructor_client.post(ADDRESS, fields)
        assert ClassSession.objects.get().taught.get().piece_g == 520

    def test_the_revision_it_uses_is_kept_from_now_on(self, instructor_client, fields, revision):
        instructor_client.post(ADDRESS, fields)
        revision.refresh_from_db()
        assert revision.in_use

    def test_several_recipes_keep_their_order(self, instructor_client, instructor, fields):
        second = RevisionFactory(recipe__owner=instructor, title="Another")
        fields |= {
            "taught-TOTAL_FORMS": "2",
            "taught-1-revision": second.pk,
            "taught-1-pieces_each": "6",
            "taught-1-demonstration_batches": "0",
            "taught-1-dusting_g": "0",
        }
        instructor_client.post(ADDRESS, fields)
        titles = [row.revision.title for row in ClassSession.objects.get().taught.all()]
        assert titles == ["Hearth loaf", "Another"]

    def test_fields_that_the_form_does_not_have_change_nothing(
        self, instructor_client, other_instructor, fields
    ):
        fields |= {"instructor": other_instructor.pk, "code": "HACKED", "instructor_id": 99}
        instructor_client.post(ADDRESS, fields)
        session = ClassSession.objects.get()
        assert session.instructor != other_instructor
        assert session.code != "HACKED"

    def test_a_recipe_of_somebody_else_cannot_be_taught(self, instructor_client, fields):
        fields["taught-0-revision"] = RevisionFactory().pk
        response = instructor_client.post(ADDRESS, fields)
        assert response.status_code == 200
        assert not ClassSession.objects.exists()

    def test_a_kitchen_of_somebody_else_cannot_be_used(self, instructor_client, fields):
        fields["kitchen"] = KitchenFactory().pk
        instructor_client.post(ADDRESS, fields)
        assert not ClassSession.objects.exists()


class TestWhatIsRefused:
    @pytest.mark.parametrize(
        ("field", "value", "message"),
        [
            ("seats", "0", "A class needs at least one seat."),
            ("seats", "10000", "At most 200 seats."),
            ("seats", "13", "13 seats, but these stations hold 12 people."),
            ("seats", "2", "One station would have nobody: 2 seats fill at most 2 stations."),
            ("ends", "09:00", "The class ends before it starts."),
            ("ends", "10:00", "The class ends before it starts."),
            ("title", "W" * 101, "at most 100 characters"),
            ("day", "31 of May", "Enter a valid date."),
            ("handling_loss_percent", "60", "less than or equal to 50"),
            ("handling_loss_percent", "1e400", "no more than"),
            ("taught-0-piece_g", "0", "greater than or equal to 1"),
            ("taught-0-piece_g", "-5", "greater than or equal to 1"),
            ("taught-0-dusting_g", "NaN", "Enter a number."),
            ("taught-0-pieces_each", "0", "greater than or equal to 1"),
            ("taught-0-revision", "", "This field is required."),
        ],
    )
    def test_a_bad_value_is_named_by_its_field_and_the_rest_is_kept(
        self, instructor_client, fields, field, value, message
    ):
        response = instructor_client.post(ADDRESS, fields | {field: value})
        assert message in said(response)
        assert "Not saved yet." in said(response)
        if field != "title":
            assert 'value="Saturday loaf"' in response.content.decode()
        assert not ClassSession.objects.exists()

    def test_a_class_without_a_station_is_asked_for_one(self, instructor_client, fields):
        del fields["stations"]
        assert "Choose at least one station." in said(instructor_client.post(ADDRESS, fields))

    def test_a_recipe_that_stands_twice_is_named(self, instructor_client, fields, revision):
        fields |= {
            "taught-TOTAL_FORMS": "2",
            "taught-1-revision": revision.pk,
            "taught-1-pieces_each": "2",
            "taught-1-demonstration_batches": "1",
            "taught-1-dusting_g": "15",
        }
        assert "A recipe is listed twice." in said(instructor_client.post(ADDRESS, fields))

    @pytest.mark.parametrize(
        ("day", "starts", "ends"),
        [("2030-03-31", "01:30", "05:00"), ("2030-10-27", "01:30", "05:00")],
        ids=["a time that the clocks skip", "a time that comes twice"],
    )
    def test_a_time_in_the_hour_of_the_clock_change_is_explained(
        self, instructor_client, fields, day, starts, ends
    ):
        fields |= {"day": day, "starts": starts, "ends": ends}
        assert "The clocks change just then" in said(instructor_client.post(ADDRESS, fields))

    def test_markup_in_a_title_stays_text(self, instructor_client, fields):
        fields["title"] = "<b>Loaf</b>"
        response = instructor_client.post(ADDRESS, fields, follow=True)
        assert "<b>Loaf</b>" not in response.content.decode()
        assert "&lt;b&gt;Loaf&lt;/b&gt;" in response.content.decode()

    def test_no_fewer_seats_than_people(self, instructor_client, instructor, fields):
        session = planned_class(instructor=instructor, students=3)
        station = session.stations.get()
        fields |= {
            "kitchen": session.kitchen_id,
            "stations": [station.pk],
            "seats": "2",
            "taught-INITIAL_FORMS": "0",
        }
        response = instructor_client.post(reverse("classes:edit", args=[session.code]), fields)
        assert "3 seats are taken already." in said(response)


class TestRows:
    def test_another_row_is_shown_unchecked_and_nothing_is_saved(self, instructor_client, fields):
        response = instructor_client.post(
            ADDRESS, fields | {"add": "taught", "title": "", "seats": "many"}
        )
        page = response.content.decode()
        assert 'name="taught-1-revision"' in page
        assert 'value="many"' in page
        assert "Not saved yet" not in page
        assert not ClassSession.objects.exists()

    def test_the_new_row_starts_with_the_usual_values(self, instructor_client, fields):
        response = instructor_client.post(ADDRESS, fields | {"add": "taught"})
        new = response.context["sections"][0].formset.forms[1]
        assert new["pieces_each"].value() == 1
        assert new["dusting_g"].value() == 15

    def test_a_new_row_left_as_it_came_is_no_recipe(self, instructor_client, fields):
        response = instructor_client.post(ADDRESS, fields | {"add": "taught"})
        new = response.context["sections"][0].formset.forms[1]
        untouched = {new.add_prefix(name): new[name].value() or "" for name in new.fields}
        fields |= {"taught-TOTAL_FORMS": "2"} | untouched
        instructor_client.post(ADDRESS, fields)
        assert ClassSession.objects.get().taught.count() == 1

    def test_htmx_gets_the_form_alone(self, instructor_client, fields, htmx):
        response = instructor_client.post(ADDRESS, fields | {"add": "taught"}, headers=htmx)
        page = response.content.decode()
        assert page.lstrip().startswith("<form")
        assert "masthead" not in page

    def test_choosing_another_kitchen_shows_its_stations(
        self, instructor_client, instructor, fields
    ):
        other = KitchenFactory(owner=instructor, stations=0)
        other.stations.create(name="Long table", places=8)
        response = instructor_client.post(ADDRESS, fields | {"kitchen": other.pk, "add": "kitchen"})
        assert "Long table · 8 places" in response.content.decode()


class TestChanging:
    def test_the_form_shows_the_class_in_local_time(self, instructor_client, instructor):
        session = ClassSessionFactory(
            instructor=instructor,
            kitchen__time_zone="Europe/Dublin",
            kitchen__owner=instructor,
            starts_at=datetime(2030, 5, 4, 9, tzinfo=UTC),
        )
        page = instructor_client.get(reverse("classes:edit", args=[session.code])).content.decode()
        assert 'value="10:00"' in page
        assert 'value="2030-05-04"' in page

    def test_a_station_taken_out_of_use_frees_its_people(
        self, instructor_client, instructor, fields, kitchen
    ):
        session = ClassSessionFactory(instructor=instructor, kitchen=kitchen, seats=4)
        first, second, third = kitchen.stations.all()
        student = EnrollmentFactory(session=session, station=third)
        fields |= {"stations": [first.pk, second.pk], "seats": "4"}
        instructor_client.post(reverse("classes:edit", args=[session.code]), fields)
        student.refresh_from_db()
        assert student.station is None

    def test_another_recipe_in_a_row_keeps_what_the_hours_know_of_the_row(
        self, instructor_client, instructor
    ):
        session = planned_class(instructor=instructor)
        kept = {
            "mixing": "mixer",
            "pieces_a_place": 6,
            "brings_mixed": False,
            "brings_risen": True,
            "brings_shaped": True,
        }
        session.taught.update(**kept)
        other = RevisionFactory(recipe__owner=instructor)
        fields = fields_of(session, **{"taught-0-revision": other.pk})
        instructor_client.post(reverse("classes:edit", args=[session.code]), fields)
        row = session.taught.get()
        assert row.revision == other
        assert {name: getattr(row, name) for name in kept} == kept

    def test_two_rows_can_swap_their_recipes(self, instructor_client, instructor):
        session = planned_class(instructor=instructor)
        first = session.taught.get()
        fields = fields_of(session)
        second = TaughtRecipeFactory(session=session, position=1, mixing="shown")
        fields |= {
            "taught-TOTAL_FORMS": "2",
            "taught-INITIAL_FORMS": "2",
            "taught-0-revision": second.revision_id,
            "taught-1-id": second.pk,
            "taught-1-revision": first.revision_id,
            "taught-1-pieces_each": "3",
            "taught-1-piece_g": "",
            "taught-1-demonstration_batches": "0",
            "taught-1-dusting_g": "0",
        }
        instructor_client.post(reverse("classes:edit", args=[session.code]), fields)
        rows = [(row.pk, row.revision_id, row.mixing) for row in session.taught.all()]
        assert rows == [
            (first.pk, second.revision_id, "hand"),
            (second.pk, first.revision_id, "shown"),
        ]

    def test_a_class_keeps_its_revision_when_the_recipe_moves_on(
        self, instructor_client, instructor
    ):
        session = planned_class(instructor=instructor)
        old = session.taught.get().revision
        old.is_current = False
        old.save()
        RevisionFactory(recipe=old.recipe, number=2, title=old.title)
        page = instructor_client.get(session.get_absolute_url()).content.decode()
        assert "revision 1" in page
        assert "a later revision exists; this class keeps its own" in page


class TestBeforeTheFirstClass:
    def test_without_a_kitchen_it_says_to_add_one(self, instructor_client, revision):
        assert "Add a kitchen" in instructor_client.get(ADDRESS).content.decode()

    def test_without_a_recipe_it_says_to_write_one(self, instructor_client, kitchen):
        page = instructor_client.get(ADDRESS).content.decode()
        assert "your recipe book is empty" in page

    def test_the_list_says_what_to_do_next(self, instructor_client):
        assert "No upcoming classes." in instructor_client.get("/classes/").content.decode()

    def test_an_assistant_reads_who_adds_them(self, assistant_client):
        page = assistant_client.get("/classes/").content.decode()
        assert "The instructor adds you" in page
        assert "Build a class" not in page


def test_the_list_takes_the_same_queries_for_any_number_of_classes(
    instructor_client, instructor, django_assert_num_queries
):
    ClassSessionFactory(instructor=instructor)
    with django_assert_num_queries(5):
        instructor_client.get("/classes/")
    ClassSessionFactory.create_batch(5, instructor=instructor)
    with django_assert_num_queries(5):
        instructor_client.get("/classes/")

    def test_a_row_that_has_lost_its_number_is_refused_in_words(
        self, instructor_client, instructor
    ):
        session = planned_class(instructor=instructor)
        fields = fields_of(session)
        del fields["taught-0-id"]
        response = instructor_client.post(f"/classes/{session.code}/edit/", fields)
        assert response.status_code == 200
        assert session.taught.count() == 1
