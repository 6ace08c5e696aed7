"""The preparation list: both roles tick it, and a changed amount is open again."""

from __future__ import annotations

import pytest
from django.urls import reverse

from classes.core.preparation import preparation
from classes.models import ClassSession, Tick
from classes.selectors import class_plan
from tests.factories import planned_class


@pytest.fixture
def session(instructor, assistant):
    return planned_class(instructor=instructor, assistants=[assistant], students=2)


@pytest.fixture
def address(session):
    return reverse("classes:prepare", args=[session.code])


def tasks_of(session):
    plan = class_plan(ClassSession.objects.with_plan().get(pk=session.pk))
    return list(preparation(plan.amounts, plan.shopping).tasks())


def test_every_line_has_a_key_of_its_own(session):
    keys = [str(task.key) for task in tasks_of(session)]
    assert len(keys) == len(set(keys)) > 4


def test_brought_doughs_stand_before_the_stations_and_are_no_demonstration(
    instructor_client, session, address
):
    session.taught.update(brings_risen=True)
    plan = class_plan(ClassSession.objects.with_plan().get(pk=session.pk))
    stations = preparation(plan.amounts, plan.shopping).stations
    places = [name for name, _ in stations]
    assert places[0] == "Brought by the instructor"
    assert places[-1] == "Demonstration"
    (brought,) = stations[0][1]
    assert brought.title.startswith("Brought, risen · ")
    assert brought.title.endswith(", 5 × 160 g")
    assert [len(groups) for _, groups in stations[1:]] == [4, 1]
    page = instructor_client.get(address).content.decode()
    assert page.index("Brought by the instructor") < page.index("Bench 1")


def test_lines_of_brought_doughs_have_keys_of_their_own(session):
    session.taught.update(brings_mixed=True, brings_risen=True, brings_shaped=True)
    keys = [str(task.key) for task in tasks_of(session)]
    assert len(keys) == len(set(keys))
    assert {key.split("|")[2] for key in keys if "|brought-" in key} == {
        "brought-mixed",
        "brought-risen",
        "brought-shaped",
    }


def test_an_assistant_ticks_a_line(assistant_client, assistant, session, address):
    task = tasks_of(session)[0]
    assistant_client.post(address, {"tick": str(task.key)})
    assert Tick.objects.get().done_by == assistant


def test_ticking_twice_is_once(assistant_client, instructor_client, session, address):
    task = tasks_of(session)[0]
    assistant_client.post(address, {"tick": str(task.key)})
    instructor_client.post(address, {"tick": str(task.key)})
    assert Tick.objects.count() == 1


def test_a_tick_can_be_taken_back(assistant_client, session, address):
    task = tasks_of(session)[0]
    assistant_client.post(address, {"tick": str(task.key)})
    assistant_client.post(address, {"untick": str(task.key)})
    assert not Tick.objects.exists()


def test_htmx_gets_the_line_alone(assistant_client, session, address, htmx):
    task = tasks_of(session)[0]
    page = assistant_client.post(address, {"tick": str(task.key)}, headers=htmx).content.decode()
    assert page.strip().startswith("<li>")
    assert 'aria-pressed="true"' in page
    assert 'name="untick"' in page


def test_a_line_that_is_not_on_the_list_cannot_be_ticked(assistant_client, address):
    assert assistant_client.post(address, {"tick": "buy|gold|1 g"}).status_code == 404
    assert not Tick.objects.exists()


def test_a_changed_amount_is_open_again_and_said_so(instructor_client, session, address):
    for task in tasks_of(session):
        instructor_client.post(address, {"tick": str(task.key)})
    assert "Changed since it was checked off" not in instructor_client.get(address).content.decode()
    session.taught.update(piece_g=320)
    page = instructor_client.get(address).content.decode()
    assert "Changed since it was checked off" in page
    assert "<strong>0</strong> of" in page


def test_the_count_follows_the_ticks(instructor_client, session, address):
    tasks = tasks_of(session)
    for task in tasks[:3]:
        instructor_client.post(address, {"tick": str(task.key)})
    page = instructor_client.get(address).content.decode()
    assert f"<strong>3</strong> of {len(tasks)}" in page
