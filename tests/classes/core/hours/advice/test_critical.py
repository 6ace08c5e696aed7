"""The chain that decides when the last bread is ready has no hole, and names its reasons."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from classes.core.hours.advice.critical import What, Why, chain_of
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.notes import Doing, Note, Scheduled
from classes.core.hours.problem.values import MixerKind, Mixing
from classes.core.hours.problem.work import Plan, PlannedOven, Slot
from classes.demo import HEARTH_LOAF
from tests.classes.core.hours.drawn_classes import (
    CLASSES,
    benches,
    demo,
    planned,
    recipe_of,
    roomy,
    work_of,
)
from tests.classes.core.hours.problems import class_problems, job_shops
from tests.classes.core.hours.random_classes import class_works

STEPS = [
    "Welcome and cautions",
    "Weigh",
    "Watch: mix",
    "Mix",
    "Bulk fermentation",
    "Divide and shape",
    "Proof",
    "Bake",
    "Cool",
]


def chain(work):
    scheduled, solved = planned(work)
    return chain_of(scheduled, solved.plan)


def told(links):
    return [(one.title, one.who, one.starts, one.ends, one.why) for one in links]


def shifted(plan, minutes):
    slots = {key: Slot(slot.start + minutes, slot.way) for key, slot in plan.slots.items()}
    loads = tuple(replace(load, start=load.start + minutes) for load in plan.loads)
    return Plan(slots, loads)


def assert_whole(scheduled, plan):
    """From minute 0 to the end without a hole, its work at the times that the plan has."""
    links = chain_of(scheduled, plan)
    problem = scheduled.problem
    ready = plan.ready(problem)
    if ready <= 0:
        assert links == ()
        return
    assert (links[0].starts, links[-1].ends) == (0, ready)
    assert all(before.ends == after.starts for before, after in pairwise(links))
    assert all(one.minutes > 0 for one in links)
    starts = {
        (note.title, note.who, plan.start(problem, key)) for key, note in scheduled.notes.items()
    }
    starts |= {
        (scheduled.notes[key].title, scheduled.notes[key].who, load.start)
        for load in plan.loads
        for key, _ in load.pieces
    }
    work = [one for one in links if one.what is What.TASK]
    assert {(one.title, one.who, one.starts) for one in work} <= starts


def test_the_chain_of_the_demo_is_weighing_to_cooling_in_order():
    assert [one.title for one in chain(demo())] == STEPS


def test_the_chain_of_the_demo_says_when_and_why():
    assert told(chain(demo()))[2:] == [
        ("Watch: mix", "Everybody", 30, 35, Why.ALL_WATCH),
        ("Mix", "Demonstration", 35, 55, Why.HANDS),
        ("Bulk fermentation", "Demonstration", 55, 135, Why.OWN_TIME),
        ("Divide and shape", "Demonstration", 135, 150, Why.HANDS),
        ("Proof", "Demonstration", 150, 190, Why.OWN_TIME),
        ("Bake", "Demonstration", 190, 220, Why.OWN_TIME),
        ("Cool", "Demonstration", 220, 235, Why.OWN_TIME),
    ]


def test_a_second_load_waits_for_an_oven():
    work = work_of(recipe_of(HEARTH_LOAF, benches(6), mixing=Mixing.SHOWN), room=roomy(40))
    *_, first, turnaround, second, cooling = chain(work)
    assert told([first, turnaround, second, cooling]) == [
        ("Bake", "Bench 1", 190, 220, Why.OWN_TIME),
        ("O1", "Bench 4", 220, 225, Why.OVEN),
        ("Bake", "Bench 4", 225, 255, Why.OVEN),
        ("Cool", "Bench 4", 255, 270, Why.OWN_TIME),
    ]
    assert (turnaround.what, turnaround.recipe) == (What.RESOURCE, "Hearth loaf")


def test_doughs_that_take_turns_at_a_mixer_wait_for_it():
    recipe = recipe_of(HEARTH_LOAF, benches(3, 1), mixing=Mixing.MIXER)
    links = chain(work_of(recipe, mixers=(MixerKind(2000, 1),)))
    mixing = [one for one in links if one.title == "Mix"]
    assert [one.why for one in mixing] == [Why.HANDS, *[Why.MIXER] * 3]
    assert [one.starts for one in mixing] == [35, 55, 75, 95]


def test_dough_that_finds_no_place_waits_for_the_cabinet():
    work = work_of(recipe_of(HEARTH_LOAF, benches(6), mixing=Mixing.SHOWN), room=roomy(16))
    waits = [one for one in chain(work) if one.why is Why.CABINET]
    assert [(one.title, one.what) for one in waits] == [
        ("the proof cabinet", What.RESOURCE),
        ("Mix", What.TASK),
    ]


def test_dough_waits_for_hands_that_are_at_another():
    loaf = recipe_of(HEARTH_LOAF, benches(1, 1), shown=0)
    again = replace(loaf, key="again", title="Again")
    links = chain(work_of(loaf, again))
    assert Why.BUSY in {one.why for one in links}


def test_an_oven_that_is_hot_late_is_waited_for():
    late = (PlannedOven("late", "Late oven", 16, hot_from=200),)
    links = chain(work_of(recipe_of(HEARTH_LOAF, benches(3)), ovens=late))
    assert told(links)[0] == ("Late oven", "Demonstration", 0, 200, Why.OVEN)


def test_what_no_rule_asks_for_is_said_to_be_held_back():
    scheduled, solved = planned(demo())
    links = chain_of(scheduled, shifted(solved.plan, 7))
    assert told(links)[0] == ("Welcome and cautions", "Everybody", 0, 7, Why.HELD_BACK)


@pytest.mark.parametrize("make", CLASSES.values(), ids=CLASSES)
def test_the_chain_of_a_class_has_no_hole(make):
    scheduled, solved = planned(make())
    assert_whole(scheduled, solved.plan)


@settings(max_examples=20, deadline=None)
@given(class_works(), st.just(0) | st.integers(1, 20))
def test_the_chain_of_any_class_has_no_hole(work, minutes):
    scheduled = schedule_of(work)
    try:
        solved = plan_greedily(scheduled.problem)
    except CannotPlace:
        assume(False)
    assert_whole(scheduled, shifted(solved.plan, minutes))


@settings(max_examples=12, deadline=None)
@given(class_problems() | job_shops(), st.just(0) | st.integers(1, 20))
def test_the_chain_of_any_problem_has_no_hole(problem, minutes):
    plan = shifted(plan_greedily(problem).plan, minutes)
    notes = {key: Note(key, item.job, Doing.HANDS) for key, item in problem.items.items()}
    assert_whole(Scheduled(demo(), problem, notes, ()), plan)
