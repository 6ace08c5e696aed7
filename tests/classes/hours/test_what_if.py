"""What if the room, the people or the ovens were different: a plan and its differences, unsaved."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from classes.core.hours.checking.verdict import VerdictKind
from classes.models import ClassSession, KeptPlan, Kitchen
from classes.selectors import class_plan
from tests.classes.demo_class import demo_class
from tests.classes.hours.hours_classes import baking_class, contested_class, equipped_kitchen

QUERIES = 21


def address(session) -> str:
    return reverse("classes:what_if", args=[session.code])


def said(response) -> str:
    return " ".join(response.content.decode().split())


@pytest.fixture
def session(instructor, assistant):
    return baking_class(instructor, assistants=[assistant])


@pytest.fixture
def demo(db):
    return demo_class()


@pytest.fixture
def demo_client(client, demo):
    client.force_login(demo.instructor)
    return client


class TestTheDemo:
    def test_as_it_is_nothing_changes(self, demo_client, demo):
        page = said(demo_client.get(address(demo)))
        assert "Nothing changes." in page
        assert page.count("<b>13:55</b>") == 2

    def test_an_oven_out_means_a_second_load_and_no_time_for_it(self, demo_client, demo):
        oven = demo.kitchen.ovens.get(name="O1")
        response = demo_client.get(address(demo), {"out": oven.pk})
        page = said(response)
        assert response.context["then"].kind is VerdictKind.DOES_NOT_FIT
        assert "Tight now; does not fit then." in page
        assert "O1, load 1: 13:10 to 13:40, 6 places, 230 °C (450 °F) → none." in page
        assert "O2, load 2: none →" in page

    def test_with_every_oven_out_there_is_nothing_to_bake_in(self, demo_client, demo):
        keys = [oven.pk for oven in demo.kitchen.ovens.all()]
        page = said(demo_client.get(address(demo), {"out": keys}))
        assert "No plan was found" in page
        assert "There is no oven" in page

    def test_an_earlier_start_leaves_that_much_more_at_the_end(self, demo_client, demo):
        response = demo_client.get(address(demo), {"earlier_min": "30"})
        assert response.context["then"].ready == "13:25"
        assert "Ready at 13:25, 30 min earlier." in said(response)
        assert "starts 09:30" in said(response)

    def test_on_the_bench_of_a_cold_hall_it_takes_longer(self, demo_client, demo):
        warm = demo_client.get(address(demo), {"rises_in": "bench", "room_c": "21"})
        cold = demo_client.get(address(demo), {"rises_in": "bench", "room_c": "61 F"})
        assert "13:55" < warm.context["then"].ready < cold.context["then"].ready

    def test_a_warmer_cabinet_is_quicker(self, demo_client, demo):
        response = demo_client.get(address(demo), {"cabinet_c": "30"})
        assert response.context["then"].ready < "13:55"

    def test_more_people_than_the_cabinet_holds(self, demo_client, demo):
        demo.stations.set(demo.kitchen.stations.all())
        response = demo_client.get(address(demo), {"people": "16"})
        assert response.context["then"].kind is VerdictKind.DOES_NOT_FIT

    def test_a_shorter_watch_is_seen(self, demo_client, demo):
        response = demo_client.get(address(demo), {"show_min": ""})
        assert response.context["then"].ready < "13:55"
        assert "Gone: Watch: mix" in said(response)


class TestThePage:
    def test_nothing_is_written(self, demo_client, demo):
        before = list(ClassSession.objects.values()), list(Kitchen.objects.values())
        demo_client.get(address(demo), {"room_c": "10", "people": "4", "earlier_min": "60"})
        demo_client.get(address(demo), {"room_c": "10", "rises_in": "bench", "look": "yes"})
        assert (list(ClassSession.objects.values()), list(Kitchen.objects.values())) == before
        assert not KeptPlan.objects.exists()

    def test_the_fields_keep_what_is_asked(self, instructor_client, session):
        page = instructor_client.get(address(session), {"room_c": "17.5"}).content.decode()
        assert 'value="17.5"' in page

    def test_htmx_gets_the_answer_alone(self, instructor_client, session, htmx):
        headers = htmx | {"HX-Target": "answer"}
        response = instructor_client.get(address(session), {"people": "3"}, headers=headers)
        assert "masthead" not in response.content.decode()
        assert "What changes" in said(response)

    def test_the_drawing_is_of_the_changed_plan(self, instructor_client, session):
        deck = session.kitchen.ovens.get()
        session.kitchen.ovens.create(name="Hearth", slots=6)
        page = said(instructor_client.get(address(session), {"out": deck.pk}))
        drawing = page[page.index("<svg class=") :]
        assert "Hearth" in drawing
        assert "Deck" not in drawing[: drawing.index("</svg>")]

    def test_an_assistant_may_ask_too(self, assistant_client, session):
        assert assistant_client.get(address(session)).status_code == 200

    def test_it_only_reads(self, instructor_client, session):
        assert instructor_client.post(address(session)).status_code == 405

    def test_another_instructor_finds_nothing(self, other_client, session):
        assert other_client.get(address(session)).status_code == 404

    def test_without_a_cabinet_it_asks_for_none(self, instructor_client, instructor):
        kitchen = equipped_kitchen(owner=instructor, proof_places=0)
        page = instructor_client.get(address(baking_class(instructor, kitchen=kitchen)))
        assert "cabinet_c" not in page.content.decode()
        assert "What changes" in said(page)

    def test_a_class_without_anybody_says_so(self, instructor_client, instructor):
        session = baking_class(instructor, students=0, count_empty_seats=False)
        session.taught.update(demonstration_batches=0)
        assert "Nobody is baking yet." in said(instructor_client.get(address(session)))


class TestWhatIsRefused:
    @pytest.mark.parametrize(
        ("field", "value", "message"),
        [
            ("room_c", "60", "Enter 50 °C or less."),
            ("room_c", "", "This field is required."),
            ("people", "0", "Enter 1 or more."),
            ("people", "9", "The stations of this class hold 8 people."),
            ("people", "four", "We cannot read “four”."),
            ("earlier_min", "1000", "Enter 240 min or less."),
            ("out", "999", "Select a valid choice."),
            ("rises_in", "attic", "Select a valid choice."),
        ],
    )
    def test_it_is_said_at_the_field(self, instructor_client, session, field, value, message):
        response = instructor_client.get(address(session), {field: value})
        assert response.status_code == 200
        assert message in said(response)
        assert "Not planned." in said(response)


class TestLookingForABetterPlan:
    @pytest.fixture
    def contested(self, instructor):
        return contested_class(instructor)

    def test_a_plan_made_at_once_offers_it(self, instructor_client, contested):
        response = instructor_client.get(address(contested), {"room_c": "24"})
        assert "room_c=24&amp;look=yes" in response.content.decode()
        at_once = response.context["then"].ready
        looked = instructor_client.get(address(contested), {"room_c": "24", "look": "yes"})
        assert looked.context["then"].ready < at_once
        assert "Look for a better plan" not in said(looked)

    def test_that_a_plan_is_not_proved_is_said_of_the_differences(
        self, instructor_client, contested, session
    ):
        rough = "a difference may come from the planning"
        assert rough in said(instructor_client.get(address(contested), {"room_c": "24"}))
        assert rough not in said(instructor_client.get(address(session), {"room_c": "24"}))
        instructor_client.post(reverse("classes:hours", args=[contested.code]))
        same = said(instructor_client.get(address(contested)))
        assert "Nothing changes." in same
        assert rough not in same


@settings(
    max_examples=10, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    room_c=st.integers(-5, 50),
    rises_in=st.sampled_from(["bench", "cabinet"]),
    cabinet_c=st.one_of(st.just(""), st.integers(-5, 50)),
    people=st.integers(1, 8),
    earlier_min=st.integers(0, 240),
    show_min=st.integers(0, 240),
)
def test_whatever_is_asked_is_answered(instructor_client, session, **asked):
    response = instructor_client.get(address(session), asked)
    assert response.status_code == 200
    assert response.context["form"].is_valid()
    assert response.context["then"] or response.context["found"].changed.lacks


def test_a_changed_class_is_planned_as_if_it_were_saved(instructor_client, session):
    then = instructor_client.get(address(session), {"room_c": "18"}).context["then"]
    session.kitchen.room_c = Decimal(18)
    session.kitchen.save()
    saved = class_plan(ClassSession.objects.with_plan().get(pk=session.pk)).hours
    assert then.ready == f"{saved.at(saved.solved.ready):%H:%M}"


def test_it_takes_the_same_queries_for_many_people(
    instructor_client, instructor, django_assert_num_queries
):
    few = baking_class(instructor, students=6, seats=6)
    wide = equipped_kitchen(owner=instructor, stations=15, proof_places=70)
    many = baking_class(instructor, students=60, seats=60, kitchen=wide)
    with django_assert_num_queries(QUERIES):
        instructor_client.get(address(few), {"people": "5"})
    with django_assert_num_queries(QUERIES):
        instructor_client.get(address(many), {"people": "59"})
