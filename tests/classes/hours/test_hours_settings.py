"""What decides the hours of a class: what is saved, what is refused, and the verdict beside it."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from django.urls import reverse

from classes.models import ClassSession
from tests.classes.hours.hours_classes import baking_class, equipped_kitchen, loaf

QUERIES = 21


@pytest.fixture
def session(instructor):
    return baking_class(instructor)


@pytest.fixture
def fields(session):
    """The settings as the page shows them, for somebody who changes one."""
    row = session.taught.get()
    return {
        "rises_in": "bench",
        "welcome_min": "10",
        "weighing_min": "20",
        "show_min": "5",
        "cleanup_min": "10",
        "break_clock": "",
        "break_min": "",
        f"taught-{row.pk}-mixing": "hand",
        f"taught-{row.pk}-pieces_a_place": "",
    }


def address(session) -> str:
    return reverse("classes:hours_settings", args=[session.code])


def said(response) -> str:
    return " ".join(response.content.decode().split())


def saved(session) -> ClassSession:
    return ClassSession.objects.get(pk=session.pk)


class TestSaving:
    def test_settings_are_saved_and_lead_back_to_the_hours(
        self, instructor_client, session, fields
    ):
        fields |= {"rises_in": "cabinet", "welcome_min": "15", "cleanup_min": ""}
        response = instructor_client.post(address(session), fields)
        assert response.headers["Location"] == reverse("classes:hours", args=[session.code])
        now = saved(session)
        assert (now.rises_in, now.welcome_min, now.cleanup_min) == ("cabinet", 15, 0)

    def test_a_recipe_keeps_how_it_is_mixed_and_brought(self, instructor_client, session, fields):
        row = session.taught.get()
        fields |= {
            f"taught-{row.pk}-mixing": "shown",
            f"taught-{row.pk}-pieces_a_place": "2",
            f"taught-{row.pk}-brings_risen": "on",
        }
        instructor_client.post(address(session), fields)
        row.refresh_from_db()
        assert (row.mixing, row.pieces_a_place) == ("shown", 2)
        assert (row.brings_mixed, row.brings_risen, row.brings_shaped) == (False, True, False)

    def test_the_break_is_at_the_kitchens_clock(self, instructor_client, session, fields):
        fields |= {"break_clock": "12:30", "break_min": "15"}
        instructor_client.post(address(session), fields)
        now = saved(session)
        assert now.break_at == datetime(2030, 5, 4, 11, 30, tzinfo=UTC)
        assert now.break_min == 15
        assert 'value="12:30"' in instructor_client.get(address(session)).content.decode()

    def test_a_break_is_taken_back_by_emptying_its_time(self, instructor_client, session, fields):
        instructor_client.post(
            address(session), fields | {"break_clock": "12:30", "break_min": "15"}
        )
        instructor_client.post(address(session), fields)
        assert saved(session).break_at is None

    def test_nothing_else_of_the_class_changes(self, instructor_client, session, fields):
        instructor_client.post(address(session), fields | {"title": "Stolen", "seats": "99"})
        now = saved(session)
        assert (now.title, now.seats) == (session.title, session.seats)


class TestWhatIsRefused:
    @pytest.mark.parametrize(
        ("field", "value", "message"),
        [
            ("welcome_min", "241", "Enter 240 min or less."),
            ("welcome_min", "soon", "We cannot read “soon”."),
            ("show_min", "-5", "We cannot read “-5”."),
            ("break_clock", "half past", "Enter a time, like 12:30."),
            ("break_clock", "11:05", "A break must be between 11:10, after the welcome, and 15:00"),
            ("break_clock", "14:55", "A break must be between 11:10, after the welcome, and 15:00"),
            ("break_clock", "16:00", "A break must be between 11:10, after the welcome, and 15:00"),
            ("rises_in", "sauna", "Select a valid choice."),
        ],
    )
    def test_it_is_said_at_the_field_and_nothing_typed_is_lost(
        self, instructor_client, session, fields, field, value, message
    ):
        fields |= {"break_min": "15", "cleanup_min": "33", field: value}
        response = instructor_client.post(address(session), fields)
        assert message in said(response)
        assert "Not saved yet." in said(response)
        assert 'value="33"' in response.content.decode()
        assert saved(session).cleanup_min == 10

    def test_a_break_needs_its_minutes(self, instructor_client, session, fields):
        response = instructor_client.post(address(session), fields | {"break_clock": "12:30"})
        assert "Enter how long the break is, or leave its time blank." in said(response)

    def test_a_cabinet_has_to_be_in_the_kitchen(self, instructor_client, instructor, fields):
        kitchen = equipped_kitchen(owner=instructor, proof_places=0, name="Hall")
        session = baking_class(instructor, kitchen=kitchen)
        response = instructor_client.post(address(session), fields | {"rises_in": "cabinet"})
        assert "Hall has no places in a proof cabinet." in said(response)

    def test_a_mixer_has_to_be_in_the_kitchen(self, instructor_client, session, fields):
        session.kitchen.mixers.all().delete()
        row = session.taught.get()
        fields[f"taught-{row.pk}-mixing"] = "mixer"
        response = instructor_client.post(address(session), fields)
        assert f"{session.kitchen} has no mixer." in said(response)

    def test_a_shown_mixer_needs_a_demonstration(self, instructor_client, session, fields):
        row = session.taught.get()
        row.demonstration_batches = 0
        row.save()
        fields[f"taught-{row.pk}-mixing"] = "shown"
        response = instructor_client.post(address(session), fields)
        assert "This recipe has no demonstration." in said(response)

    @pytest.mark.parametrize(
        ("starts_at", "clock"),
        [
            (datetime(2030, 3, 31, 0, 30, tzinfo=UTC), "01:30"),
            (datetime(2030, 10, 27, 0, 15, tzinfo=UTC), "01:30"),
        ],
        ids=["a time that the clocks skip", "a time that comes twice"],
    )
    def test_a_break_in_the_hour_of_the_clock_change_is_explained(
        self, instructor_client, instructor, fields, starts_at, clock
    ):
        session = baking_class(instructor, starts_at=starts_at)
        row = session.taught.get()
        fields |= {"break_clock": clock, "break_min": "10", f"taught-{row.pk}-mixing": "hand"}
        response = instructor_client.post(address(session), fields)
        assert "The clocks change just then in Europe/Dublin" in said(response)
        assert saved(session).break_at is None


class TestWhatIsOffered:
    def test_only_stages_that_the_recipe_comes_to(self, instructor_client, instructor):
        flat = [{"kind": "mix", "hands_on_min": 10}, {"kind": "bake", "waiting_min": 5}]
        session = baking_class(instructor, revision=loaf(instructor, steps=flat, in_use=True))
        page = instructor_client.get(address(session)).content.decode()
        assert "brings_mixed" in page
        assert "brings_risen" not in page
        assert "brings_shaped" not in page

    def test_every_recipe_has_its_own_fields(self, instructor_client, session, instructor):
        second = loaf(instructor, title="Seeded ring", in_use=True)
        session.taught.create(revision=second, piece_g=400, position=1)
        page = instructor_client.get(address(session)).content.decode()
        for row in session.taught.all():
            assert f"taught-{row.pk}-mixing" in page
        assert "Seeded ring" in page


class TestTheVerdictBeside:
    def test_it_is_there_for_the_saved_settings(self, instructor_client, session):
        assert "<strong>Fits<" in said(instructor_client.get(address(session)))

    def test_htmx_gets_the_verdict_of_what_is_typed_and_nothing_is_saved(
        self, instructor_client, session, fields, htmx
    ):
        fields |= {"welcome_min": "120", "check": "yes"}
        response = instructor_client.post(address(session), fields, headers=htmx)
        assert "<strong>Does not fit<" in said(response)
        assert "masthead" not in response.content.decode()
        assert saved(session).welcome_min == 10

    def test_without_a_script_the_button_shows_it_on_the_page(
        self, instructor_client, session, fields
    ):
        fields |= {"welcome_min": "120", "check": "yes"}
        response = instructor_client.post(address(session), fields)
        assert "<strong>Does not fit<" in said(response)
        assert 'value="120"' in response.content.decode()
        assert "Not saved yet" not in said(response)
        assert saved(session).welcome_min == 10

    def test_what_is_wrong_is_said_instead(self, instructor_client, session, fields, htmx):
        fields |= {"weighing_min": "soon", "check": "yes"}
        response = instructor_client.post(address(session), fields, headers=htmx)
        assert "Weighing, min: We cannot read “soon”." in said(response)


def test_another_instructor_finds_nothing(other_client, session):
    assert other_client.get(address(session)).status_code == 404


def test_it_takes_the_same_queries_for_many_people(
    instructor_client, instructor, django_assert_num_queries
):
    few = baking_class(instructor, students=6, seats=6)
    many = baking_class(
        instructor, students=60, seats=60, kitchen=equipped_kitchen(owner=instructor, stations=15)
    )
    with django_assert_num_queries(QUERIES):
        instructor_client.get(address(few))
    with django_assert_num_queries(QUERIES):
        instructor_client.get(address(many))
