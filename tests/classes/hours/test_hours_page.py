"""The plan of the hours of a class: what it says, who may better it, and what is kept."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse

from classes.core.hours.checking.verdict import VerdictKind
from classes.core.hours.exact.solving import improve
from classes.core.hours.greedy.keeping import fingerprint, to_document
from classes.core.hours.greedy.placing import plan_greedily
from classes.core.hours.problem.work import Solved
from classes.hours.services import keep_plan
from classes.models import ClassSession, KeptPlan
from classes.selectors import class_plan
from tests.classes.demo_class import demo_class
from tests.classes.hours.hours_classes import (
    STEPS,
    baking_class,
    contested_class,
    equipped_kitchen,
    loaf,
)

MADE_AT = datetime(2030, 4, 1, 12, tzinfo=UTC)
QUERIES = 21


def address(session) -> str:
    return reverse("classes:hours", args=[session.code])


def said(response) -> str:
    return " ".join(response.content.decode().split())


def fetched(session) -> ClassSession:
    return ClassSession.objects.with_plan().get(pk=session.pk)


@pytest.fixture
def session(instructor, assistant):
    return baking_class(instructor, assistants=[assistant])


@pytest.fixture
def contested(instructor):
    return contested_class(instructor)


class TestWhatItSays:
    def test_the_demo_is_ready_at_1355(self, db, client):
        session = demo_class()
        client.force_login(session.instructor)
        page = said(client.get(address(session)))
        assert "<span>Ready</span> <b>13:55</b>" in page
        assert "<strong>Tight</strong>" in page
        assert "5 min to spare" in page
        assert "No plan is ready earlier." in page

    def test_an_hour_less_and_the_demo_is_late_for_its_doughs_sake(self, db, client):
        session = demo_class()
        session.ends_at -= timedelta(hours=1)
        session.save()
        client.force_login(session.instructor)
        page = said(client.get(address(session)))
        assert "<strong>Does not fit</strong>" in page
        assert "55 min after the end" in page
        assert "it is the dough’s own time" in page
        assert '<span class="when">10:55</span> <span><b>Bulk fermentation</b>' in page

    def test_it_is_drawn_and_told_as_a_table(self, instructor_client, session):
        page = said(instructor_client.get(address(session)))
        assert page.count("<svg") >= 2
        assert "<caption>The hours in words</caption>" in page
        assert "Divide and shape" in page

    def test_what_is_done_ahead_says_when_and_who(self, instructor_client, session):
        page = said(instructor_client.get(address(session)))
        assert "Done ahead" in page
        assert "Turn on Deck" in page
        assert "Assistant" in page

    def test_a_preferment_of_the_evening_before_names_its_day(self, instructor_client, instructor):
        poolish = {
            "kind": "prepare",
            "text": "Stir the poolish.",
            "hands_on_min": 5,
            "waiting_min": 720,
            "temperature_c": 25,
        }
        revision = loaf(instructor, steps=(poolish, *STEPS), in_use=True)
        session = baking_class(instructor, revision=revision)
        assert '<span class="when">Friday 2' in said(instructor_client.get(address(session)))

    def test_times_are_the_kitchens_clock_and_rises_keep_their_minutes_over_a_change(
        self, instructor_client, instructor
    ):
        kitchen = equipped_kitchen(owner=instructor, room_c=25)
        starts_at = datetime(2030, 3, 31, 0, tzinfo=UTC)
        session = baking_class(instructor, kitchen=kitchen, starts_at=starts_at)
        hours = class_plan(session).hours
        page = said(instructor_client.get(address(session)))
        ready = starts_at + timedelta(minutes=hours.solved.ready)
        local = ready.astimezone(kitchen.zone)
        assert local.utcoffset() == timedelta(hours=1)
        assert f"<b>{local:%H:%M}</b>" in page
        assert hours.solved.ready == class_plan(baking_class(instructor)).hours.solved.ready

    def test_a_cold_room_warns_that_its_times_are_a_guess(self, instructor_client, instructor):
        kitchen = equipped_kitchen(owner=instructor, room_c=12)
        page = said(instructor_client.get(address(baking_class(instructor, kitchen=kitchen))))
        assert "Outside its range." in page

    def test_markup_in_a_title_stays_text(self, instructor_client, instructor):
        revision = loaf(instructor, title="<b>Loaf</b>", in_use=True)
        page = instructor_client.get(address(baking_class(instructor, revision=revision)))
        assert "<b>Loaf</b>" not in page.content.decode()


class TestWhatKeepsAPlanFromBeingMade:
    def test_nobody_bakes(self, instructor_client, instructor):
        session = baking_class(instructor, students=0, count_empty_seats=False)
        session.taught.update(demonstration_batches=0)
        page = said(instructor_client.get(address(session)))
        assert "Nobody is baking yet." in page
        assert reverse("classes:roster", args=[session.code]) in page
        assert "Cannot say" in page
        assert "By the clock" not in page

    def test_a_recipe_has_no_steps(self, instructor_client, instructor):
        revision = loaf(instructor, title="Bare loaf", steps=(), in_use=True)
        page = said(instructor_client.get(address(baking_class(instructor, revision=revision))))
        assert "Write the steps of Bare loaf first." in page
        assert reverse("recipes:edit", args=[revision.recipe.slug]) in page

    def test_an_assistant_gets_no_link_to_what_only_the_instructor_opens(
        self, assistant_client, assistant, instructor
    ):
        revision = loaf(instructor, title="Bare loaf", steps=(), in_use=True)
        session = baking_class(instructor, revision=revision, assistants=[assistant])
        page = said(assistant_client.get(address(session)))
        assert "Write the steps of Bare loaf first." in page
        assert reverse("recipes:edit", args=[revision.recipe.slug]) not in page

    def test_there_is_no_oven(self, instructor_client, session):
        session.kitchen.ovens.all().delete()
        page = said(instructor_client.get(address(session)))
        assert "<strong>Does not fit</strong>" in page
        assert "There is no oven" in page
        assert reverse("classes:kitchen", args=[session.kitchen_id]) in page

    def test_the_dough_never_rises(self, instructor_client, instructor):
        kitchen = equipped_kitchen(owner=instructor, room_c=0)
        steps = [step | {"waiting_min": 900 if step["kind"] == "bulk" else 0} for step in STEPS]
        revision = loaf(instructor, steps=steps, in_use=True)
        session = baking_class(instructor, kitchen=kitchen, revision=revision)
        page = said(instructor_client.get(address(session)))
        assert "the dough does not rise." in page


class TestWhatWouldHelp:
    @pytest.fixture
    def late(self, instructor):
        starts_at = datetime(2030, 5, 4, 10, tzinfo=UTC)
        return baking_class(instructor, starts_at=starts_at, ends_at=starts_at + timedelta(hours=3))

    def test_a_link_leads_to_it_where_there_is_no_script(self, instructor_client, late):
        page = said(instructor_client.get(address(late)))
        assert f'href="{address(late)}?show=remedies#remedies"' in page
        page = said(instructor_client.get(address(late), {"show": "remedies"}))
        assert "earlier: by the plan ready at" in page
        assert "masthead" in page

    def test_htmx_gets_it_alone(self, instructor_client, late, htmx):
        response = instructor_client.get(address(late), {"show": "remedies"}, headers=htmx)
        assert "earlier: by the plan ready at" in said(response)
        assert "masthead" not in response.content.decode()

    def test_what_can_be_tried_leads_to_the_page_that_shows_it(self, instructor_client, late):
        page = instructor_client.get(address(late), {"show": "remedies"})
        queries = [line.query for line in page.context["remedies"].lines]
        query = next(one for one in queries if one.startswith("earlier_min="))
        what_if = reverse("classes:what_if", args=[late.code])
        assert f"{what_if}?{query}" in page.content.decode()
        then = instructor_client.get(f"{what_if}?{query}").context["then"]
        assert then.kind is VerdictKind.TIGHT

    def test_a_class_that_fits_asks_for_nothing(self, instructor_client, session):
        assert "What would help" not in said(instructor_client.get(address(session)))


class TestLookingForABetterPlan:
    def test_the_button_is_there_where_a_plan_is_not_proved(
        self, instructor_client, contested, session
    ):
        page = said(instructor_client.get(address(contested)))
        assert "Look for a better plan" in page
        assert "Another plan could be ready earlier, by" in page
        assert "This takes at most 8 seconds." in page
        assert "Look for a better plan" not in said(instructor_client.get(address(session)))

    def test_what_is_found_is_kept_for_everybody(self, instructor_client, contested, assistant):
        before = class_plan(contested).hours.solved
        response = instructor_client.post(address(contested), follow=True)
        assert "A better plan: ready" in said(response)
        after = class_plan(fetched(contested)).hours
        assert after.solved.ready < before.ready
        assert after.kept_at is not None
        assert "Kept since" in said(response)

    def test_htmx_gets_the_new_plan_and_what_came_of_it(self, instructor_client, contested, htmx):
        response = instructor_client.post(address(contested), headers=htmx)
        assert "A better plan: ready" in said(response)
        assert response.content.decode().lstrip().startswith('<div id="plan">')

    def test_an_assistant_sees_the_plan_and_cannot_have_it_looked_for(
        self, assistant_client, assistant, contested
    ):
        contested.assistants.add(assistant)
        page = said(assistant_client.get(address(contested)))
        assert "Another plan could be ready earlier" in page
        assert "Look for a better plan" not in page
        assert assistant_client.post(address(contested)).status_code == 404
        assert not KeptPlan.objects.exists()

    def test_a_proved_plan_is_left_as_it_is(self, instructor_client, session):
        response = instructor_client.post(address(session), follow=True)
        assert "No better plan was found" in said(response)
        assert not KeptPlan.objects.exists()

    def test_nothing_is_looked_for_where_nobody_bakes(self, instructor_client, instructor):
        session = baking_class(instructor, students=0, count_empty_seats=False)
        session.taught.update(demonstration_batches=0)
        assert instructor_client.post(address(session)).status_code == 302

    def test_a_kept_plan_is_forgotten_when_the_class_changes(self, instructor_client, contested):
        instructor_client.post(address(contested))
        kept = class_plan(fetched(contested)).hours.solved.ready
        contested.kitchen.ovens.update(turnaround_min=40)
        changed = class_plan(fetched(contested)).hours
        assert changed.kept_at is None
        assert "Kept since" not in said(instructor_client.get(address(contested)))
        contested.kitchen.ovens.update(turnaround_min=5)
        assert class_plan(fetched(contested)).hours.solved.ready == kept


class TestKeeping:
    @pytest.fixture
    def found(self, contested):
        """The problem's mark, the plan made at once, and the best one."""
        problem = class_plan(contested).hours.scheduled.problem
        at_once = plan_greedily(problem)
        return fingerprint(problem), at_once, improve(problem, at_once, limit_s=8)

    def test_a_worse_plan_does_not_replace_a_better_one(self, contested, found):
        mark, at_once, best = found
        keep_plan(session=contested, made_for=mark, solved=best, at=MADE_AT)
        later = MADE_AT + timedelta(hours=1)
        stays = keep_plan(session=contested, made_for=mark, solved=at_once, at=later)
        assert stays == best
        assert KeptPlan.objects.get().made_at == MADE_AT

    def test_a_proof_replaces_the_same_plan_without_one(self, contested, found):
        mark, _, best = found
        unproved = Solved(best.plan, best.ready, best.bound - 10, best.solver)
        keep_plan(session=contested, made_for=mark, solved=unproved, at=MADE_AT)
        keep_plan(session=contested, made_for=mark, solved=best, at=MADE_AT)
        assert KeptPlan.objects.get().document == to_document(best)

    def test_a_plan_for_another_state_is_replaced_whatever_it_is(self, contested, found):
        mark, at_once, best = found
        keep_plan(session=contested, made_for="of old", solved=best, at=MADE_AT)
        keep_plan(session=contested, made_for=mark, solved=at_once, at=MADE_AT)
        assert KeptPlan.objects.get().made_for == mark


def test_another_instructor_finds_nothing(other_client, session):
    assert other_client.get(address(session)).status_code == 404


def test_it_takes_the_same_queries_for_many_people(
    instructor_client, instructor, django_assert_num_queries
):
    few = baking_class(instructor, students=6, seats=6)
    wide = equipped_kitchen(owner=instructor, stations=15, proof_places=70)
    many = baking_class(instructor, students=60, seats=60, kitchen=wide)
    with django_assert_num_queries(QUERIES):
        instructor_client.get(address(few))
    with django_assert_num_queries(QUERIES):
        instructor_client.get(address(many))
