"""No minute of a recipe is lost on its way into a plan, and none is planned twice."""

from dataclasses import replace

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from classes.core.hours.ahead.everything import ahead_of
from classes.core.hours.checking.unsaid import Gap
from classes.core.hours.checking.verdict import VerdictKind, left_out, minutes_of, verdict_of
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.notes import Doing
from classes.core.hours.problem.values import Hours, Mixing
from classes.core.keys import Stage
from classes.demo import DEMO_RECIPES
from tests.classes.core.hours.demo_classes import (
    HEARTH,
    ROLLS,
    TWO_DAYS,
    planned,
    recipe,
    step,
    work,
)
from tests.classes.core.hours.drawn_classes import benches, recipe_of

MIX, BULK, DIVIDE, PROOF, SCORE, BAKE, COOL = HEARTH
LONG = Hours(6000)


def found(*recipes, **changes):
    """The minutes of every dough of a class that has all the time it needs, and its plan."""
    scheduled, solved = planned(work(*recipes, **({"hours": LONG} | changes)))
    return scheduled, solved, minutes_of(scheduled, ahead_of(scheduled, solved.plan))


def span_min(scheduled, solved, bread, group):
    """What the plan itself takes for a dough: hands, waits at their best, the oven, cooling.

    Read from the problem and not from what its notes say they stand for.
    """
    who = group.station
    tasks = sum(
        task.ways[solved.plan.slots[task.key].way].minutes
        for task in scheduled.problem.tasks
        if (note := scheduled.notes[task.key]).doing is Doing.HANDS
        and (note.recipe, note.who) == (bread.key, who)
        and task.key.partition("|")[0] not in ("weigh", "unpack")
    )
    waits = sum(
        wait.window.target
        for wait in scheduled.waits
        if (wait.recipe, wait.who) == (bread.key, who)
    )
    bakes = sum(
        one.minutes + one.then_min
        for one in scheduled.problem.bakings
        if (scheduled.notes[one.key].recipe, scheduled.notes[one.key].who) == (bread.key, who)
    )
    return tasks + waits + bakes


def assert_all_there(*recipes, **changes):
    scheduled, solved, minutes = found(*recipes, **changes)
    assert len(minutes) == sum(len(one.doughs) for one in scheduled.work.recipes)
    by_key = {one.key: one for one in scheduled.work.recipes}
    for one in minutes:
        bread = by_key[one.key]
        group = next(group for group in bread.doughs if group.station == one.who)
        assert one.written == sum(s.hands_on_min + s.waiting_min for s in bread.steps)
        assert one.missing == 0, (one, [s.kind for s in bread.steps])
        assert one.in_class == span_min(scheduled, solved, bread, group)
    assert left_out(scheduled, ahead_of(scheduled, solved.plan)) == ()


@pytest.mark.parametrize("demo", DEMO_RECIPES, ids=lambda one: one.title)
def test_the_demos_recipes_are_planned_whole(demo):
    assert_all_there(recipe_of(demo, benches(2, 2)))


def test_the_day_before_counts_in_a_dough_of_two_days():
    _, _, minutes = found(recipe(TWO_DAYS))
    assert {(one.ahead, one.missing) for one in minutes} == {(725, 0)}


ODD = {
    "it ends with its proof": (MIX, BULK, DIVIDE, PROOF),
    "it ends with its first rise": (MIX, BULK),
    "it ends with a rest after the oven": (*HEARTH[:-1], step("rest", 0, 20)),
    "it cools, and is glazed then": (*HEARTH, step("prepare", 5, 10)),
    "it is baked twice, and cools between": (*HEARTH, step("bake", 0, 10, 190), COOL),
    "it is baked twice at once": (MIX, BULK, DIVIDE, PROOF, BAKE, step("bake", 0, 10, 190), COOL),
    "it cools and is never baked": (MIX, BULK, DIVIDE, PROOF, COOL),
    "it is scored long before the oven": (MIX, BULK, DIVIDE, SCORE, PROOF, BAKE, COOL),
    "it rests before it is mixed": (step("rest", 0, 30), MIX, BULK, DIVIDE, PROOF, BAKE),
    "its mixing is a wait": (step("mix", 0, 30), MIX, BULK, DIVIDE, PROOF, BAKE),
    "nothing of it needs hands": (
        step("mix", 0, 30),
        step("bulk", 0, 80, 25),
        step("bake", 0, 20, 230),
    ),
    "it begins in the oven": (BAKE, COOL),
    "it begins with a rise": HEARTH[1:],
    "it rises where no dough does": (MIX, step("bulk", 5, 75, 230), DIVIDE, PROOF, BAKE, COOL),
    "it is prepared last": (MIX, BULK, step("prepare", 4, 6), DIVIDE, PROOF, BAKE, COOL),
    "it is prepared twice before": (step("prepare", 5, 720, 20), step("prepare", 3, 7), *HEARTH),
    "it rises twice and rests between": (MIX, BULK, step("rest", 1, 9), BULK, DIVIDE, PROOF, BAKE),
}


@pytest.mark.parametrize("name", ODD)
def test_an_odd_order_of_steps_loses_nothing(name):
    assert_all_there(recipe(ODD[name], mixing=Mixing.HAND))


@pytest.mark.parametrize(
    "stages",
    [{Stage.MIXED}, {Stage.RISEN}, {Stage.SHAPED}, set(Stage)],
    ids=["mixed", "risen", "shaped", "all"],
)
def test_what_is_brought_counts_where_it_was_done(stages):
    _, _, minutes = found(recipe(HEARTH, brings=frozenset(stages)))
    assert {one.missing for one in minutes} == {0}
    rises = {Stage.RISEN: 80, Stage.SHAPED: 40}
    assert {one.brought for one in minutes} == {sum(rises.get(one, 0) for one in stages)}


def test_two_breads_have_their_own_minutes():
    assert_all_there(recipe(HEARTH), recipe(ROLLS, key="rolls", pieces_a_place=6))


def test_turns_of_a_mixer_count_once():
    """8 people's 4160 g take a mixer for 2 kg in 3 turns; the recipe has its 20 min still."""
    scheduled, _, minutes = found(recipe(benches=1, each=8, mixing=Mixing.MIXER))
    assert scheduled.problem.items["mix0|loaf|Bench 1"].ways[0].minutes == 60
    assert {one.missing for one in minutes} == {0}


KINDS = ("prepare", "mix", "bulk", "divide", "rest", "proof", "score", "bake", "cool")


@st.composite
def odd_steps(draw):
    """Any steps in any order, with minutes, and temperatures of rises and bakes."""
    made = []
    for kind in draw(st.lists(st.sampled_from(KINDS), min_size=1, max_size=8)):
        celsius = {"bake": 220, "bulk": 25, "proof": 27}.get(kind)
        hands, waiting = draw(st.integers(0, 20)), draw(st.integers(0, 60))
        made.append(step(kind, hands, waiting, celsius))
    return tuple(made)


@given(odd_steps())
@example((step("prepare", 3, 4), step("mix", 0, 0)))
@example((step("prepare", 3, 4), step("mix", 0, 0), step("bake", 1, 30, 220)))
def test_random_recipes_lose_nothing(steps):
    assert_all_there(
        recipe(steps, benches=2, each=1, mixing=Mixing.HAND), hours=Hours(6000, show_min=0)
    )


NO_PLACE = (step("mix", 0, 1), step("divide", 3, 13), step("mix", 1, 0))


@given(odd_steps())
@example(NO_PLACE)
def test_a_random_class_says_whether_it_fits_only_with_a_bake_and_minutes_everywhere(steps):
    bread = recipe(steps, benches=1, each=1, mixing=Mixing.HAND)
    scheduled = schedule_of(work(bread, hours=LONG))
    try:
        verdict = verdict_of(scheduled, plan_greedily(scheduled.problem))
    except CannotPlace as cannot:
        verdict = verdict_of(scheduled, None, cannot)
    is_whole = all(one.hands_on_min + one.waiting_min for one in steps) and any(
        one.kind == "bake" for one in steps
    )
    assert (verdict.kind is VerdictKind.CANNOT_SAY) is not is_whole


def test_a_wait_that_is_lost_is_named_in_the_verdict():
    scheduled, solved = planned(work())
    lost = replace(scheduled, waits=scheduled.waits[:-1])
    verdict = verdict_of(lost, solved)
    assert verdict.kind is VerdictKind.CANNOT_SAY
    [gap] = [one for one in verdict.unsaid if one.gap is Gap.MINUTES]
    assert (gap.recipe, gap.minutes) == ("Loaf", 40)


def test_a_step_that_is_planned_twice_is_named_in_the_verdict():
    scheduled, solved = planned(work())
    notes = dict(scheduled.notes)
    key = "mix0|loaf|Bench 1"
    notes[key] = replace(notes[key], written_min=40)
    [gap] = verdict_of(replace(scheduled, notes=notes), solved).unsaid
    assert (gap.gap, gap.minutes) == (Gap.MINUTES, -20)


def test_dough_that_waits_at_the_end_is_ready_when_it_has_waited():
    shaped, risen = ((MIX, BULK, DIVIDE), (MIX, BULK, DIVIDE, PROOF))
    _, without, _ = found(recipe(shaped, shown=0), hours=Hours(400, cleanup_min=0))
    _, solved, _ = found(recipe(risen, shown=0), hours=Hours(400, cleanup_min=0))
    assert solved.ready == without.ready + 40
