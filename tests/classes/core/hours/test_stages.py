"""A bake at one temperature after the other is one load, whose oven is turned meanwhile."""

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest

from classes.core.hours.ahead.everything import ahead_of
from classes.core.hours.drawing.table import rows_of
from classes.core.hours.exact.solving import improve
from classes.core.hours.greedy.keeping import from_document, to_document
from classes.core.hours.problem.oven_time import as_rolls
from classes.core.hours.problem.steps import in_class, stages_of
from classes.core.hours.problem.work import OvenStage
from tests.classes.core.hours.demo_classes import HEARTH, clock, ovens, planned, recipe, step, work
from tests.classes.core.hours.rules import faults
from wording.writing import PLAIN

MIX, BULK, DIVIDE, PROOF, SCORE, BAKE, COOL = HEARTH
HOT, COOLER = step("bake", 5, 20, 250), step("bake", 0, 22, 230)
STAGES = (OvenStage(20, Decimal(250)), OvenStage(22, Decimal(230)))
SOURDOUGH = (MIX, BULK, DIVIDE, PROOF, SCORE, HOT, COOLER, COOL)


def sourdough(**changes):
    return recipe(SOURDOUGH, key="sourdough", **changes)


def bake_of(*steps):
    (found,) = (one for one in in_class(recipe(steps)) if one.kind == "bake")
    return found


@pytest.mark.parametrize(
    ("steps", "stages", "minutes"),
    [
        ((MIX, HOT, COOLER), STAGES, 47),
        ((MIX, SCORE, HOT, COOLER), STAGES, 47 + SCORE.minutes),
        ((MIX, HOT), (), 25),
        ((MIX, HOT, replace(COOLER, temperature_c=None)), (), 47),
        ((MIX, HOT, replace(COOLER, temperature_c=Decimal(250))), (), 47),
        ((MIX, step("bake", 0, 20), COOLER), (OvenStage(20, None), STAGES[1]), 42),
        ((MIX, HOT, COOLER, step("bake", 1, 9)), (STAGES[0], OvenStage(32, Decimal(230))), 57),
        ((MIX, HOT, COOLER, step("bake", 0, 5, 200)), (*STAGES, OvenStage(5, Decimal(200))), 52),
    ],
)
def test_bakes_that_follow_each_other_are_stages_of_one(steps, stages, minutes):
    found = bake_of(*steps)
    assert (stages_of(found), found.minutes) == (stages, minutes)


def test_what_is_baked_in_other_stages_shares_no_load():
    other = recipe((*SOURDOUGH[:5], step("bake", 5, 32, 250), step("bake", 0, 10, 230), COOL))
    scheduled, solved = planned(work(sourdough(), other, ovens=ovens(12, 12)))
    together = {
        frozenset(scheduled.notes[key].recipe for key, _ in load.pieces)
        for load in solved.plan.loads
    }
    assert together == {frozenset({"sourdough"}), frozenset({"loaf"})}
    assert faults(scheduled.problem, solved.plan) == ()


def test_an_oven_changes_from_the_last_stage_to_the_next_load():
    scheduled, _ = planned(work(sourdough()))
    (baking, *_) = scheduled.problem.bakings
    assert baking.kind.ends_c == 230
    assert scheduled.problem.change_min(baking.kind, baking.kind) == 4


def test_greedy_and_exact_plans_wait_until_the_oven_is_hot_again():
    class_work = work(sourdough(), ovens=ovens(6), assistants=0)
    scheduled, solved = planned(class_work)
    quick = replace(
        class_work, ovens=tuple(replace(one, turnaround_min=0) for one in class_work.ovens)
    )
    scheduled, solved = planned(quick)
    assert faults(scheduled.problem, solved.plan) == ()
    better = improve(scheduled.problem, solved, limit_s=20, workers=1)
    assert faults(scheduled.problem, better.plan) == ()
    too_soon = sorted(better.plan.loads, key=lambda load: load.start)
    gaps = {late.start - early.end for early, late in pairwise(too_soon)}
    assert min(gaps) >= 4
    moved = replace(too_soon[-1], start=too_soon[-2].end + 3)
    broken = replace(better.plan, loads=(*too_soon[:-1], moved))
    assert any("needs 4" in fault.what for fault in faults(scheduled.problem, broken))


def test_the_oven_is_turned_within_the_load():
    scheduled, solved = planned(work(sourdough()))
    load = solved.plan.loads[0]
    assert load.turned == ((load.end - 22, Decimal(230)),)
    tasks = [task for task in ahead_of(scheduled, solved.plan) if task.key.startswith("stage")]
    told = {(task.title, task.starts, task.temperature_c) for task in tasks}
    assert (f"Turn {load.oven} down", load.end - 22, Decimal(230)) in told


def test_the_table_names_both_stages():
    scheduled, solved = planned(work(sourdough()))
    row = next(row for row in rows_of(scheduled, solved.plan, clock) if row.oven_time)
    assert PLAIN.in_stages(row.oven_time.stages) == (
        "20\N{NO-BREAK SPACE}min at 250\N{NO-BREAK SPACE}°C (475\N{NO-BREAK SPACE}°F), then "
        "22\N{NO-BREAK SPACE}min at 230\N{NO-BREAK SPACE}°C (450\N{NO-BREAK SPACE}°F)"
    )


def test_a_plan_that_was_kept_has_its_stages():
    _, solved = planned(work(sourdough()))
    assert from_document(to_document(solved)) == solved
    assert solved.plan.loads[0].stages == STAGES


def test_rolls_keep_the_share_of_each_stage():
    found = [one.waiting_min for one in as_rolls(sourdough()).steps if one.kind == "bake"]
    assert found == [6, 7]
