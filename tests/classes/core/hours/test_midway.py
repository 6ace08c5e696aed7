"""A plan broken into: what has begun stays, and what comes then still keeps all rules."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from classes.core.hours.greedy.midway import BEGUN, from_minute, with_lags
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.work import (
    Baking,
    Lag,
    Load,
    Plan,
    PlannedOven,
    Problem,
    Resource,
    Slot,
    Task,
)
from tests.classes.core.hours.problems import class_problems, one_way
from tests.classes.core.hours.rules import faults


def planned(problem):
    try:
        return plan_greedily(problem)
    except CannotPlace:
        return None


def with_the_past(problem, plan, rest, then, at):
    """The plan of the whole problem that begins as `plan` and goes on as `then`."""
    slots = {}
    for task in problem.tasks:
        slots[task.key] = plan.slots[task.key] if task.key in begun(problem, plan, at) else None
        if slots[task.key] is None:
            slots[task.key] = then.slots[task.key]
    loads = [load for load in plan.loads if load.start < at]
    return Plan(slots, (*loads, *then.loads))


def begun(problem, plan, at):
    return {task.key for task in problem.tasks if plan.slots[task.key].start < at}


@given(class_problems(most_stations=4), st.integers(0, 90))
def test_what_is_planned_from_a_minute_on_fits_what_has_begun(problem, at):
    solved = planned(problem)
    assume(solved)
    rest = from_minute(problem, solved.plan, at)
    then = planned(rest)
    assume(then)
    assert faults(rest, then.plan) == ()
    assert faults(problem, with_the_past(problem, solved.plan, rest, then.plan, at)) == ()


@given(class_problems(most_stations=4), st.integers(0, 90))
def test_nothing_starts_in_the_past(problem, at):
    solved = planned(problem)
    assume(solved)
    rest = from_minute(problem, solved.plan, at)
    then = planned(rest)
    assume(then)
    fixed = {task.key for task in rest.tasks if task.job == BEGUN}
    assert all(slot.start >= at for key, slot in then.plan.slots.items() if key not in fixed)
    assert all(load.start >= at for load in then.plan.loads)


# One by one: Ann shapes six buns from minute 0 to 4 and bakes them in an oven with four places

BUNS = Problem(
    tasks=(
        Task("shape", "buns", one_way(4, "ann")),
        Task("watch", "show", one_way(3, "ann"), (Lag("shape"),)),
        Task("sweep", "end", one_way(5, "ann"), (Lag("watch", 0, 10),)),
    ),
    resources=(Resource("ann", "Ann", 1),),
    bakings=(
        Baking("bake", "buns", 6, 10, 220, (Lag("shape", 6, 30),), "ann", 2, 8),
        Baking("cake", "cake", 1, 20, 180, (Lag("shape", 30),)),
    ),
    ovens=(
        PlannedOven("large", "Large", 4, 5, None, 20),
        PlannedOven("cold", "Cold", 4, 5, None, 20),
    ),
)
PLAN = Plan(
    {"shape": Slot(0), "watch": Slot(4), "sweep": Slot(12)},
    (
        Load("large", 10, 10, 220, (("bake", 4),)),
        Load("large", 25, 10, 220, (("bake", 2),)),
        Load("large", 50, 20, 180, (("cake", 1),)),
    ),
)


def test_the_example_keeps_the_rules():
    assert faults(BUNS, PLAN) == ()


def left(at, **more):
    return from_minute(BUNS, PLAN, at, **more)


def test_before_it_starts_everything_is_free():
    rest = left(0)
    assert {task.job for task in rest.tasks} == {"buns", "show", "end"}
    assert rest.bakings == BUNS.bakings


def test_a_task_that_has_begun_keeps_its_start_and_its_way():
    shape = left(1).items["shape"]
    assert (shape.job, shape.earliest, shape.latest) == (BEGUN, 0, 0)


def test_a_task_to_come_starts_no_earlier_than_now():
    assert left(3).items["watch"].earliest == 3


def test_pieces_in_the_oven_are_no_longer_to_be_baked():
    assert left(11).items["bake"].pieces == 2
    assert left(10).items["bake"].pieces == 6


def test_a_baking_that_is_all_in_the_oven_is_over_when_it_was():
    baked = left(26).items["bake"]
    assert isinstance(baked, Task)
    assert (baked.earliest, baked.latest, baked.ways[0].minutes, baked.then_min) == (25, 25, 10, 8)


def test_hands_at_the_oven_door_are_taken_until_all_is_loaded():
    loading = left(11).items[f"{BEGUN}|loading|ann"]
    assert (loading.earliest, loading.ways[0].minutes) == (11, 1)
    assert f"{BEGUN}|loading|ann" not in left(12).items


@pytest.mark.parametrize(
    ("at", "oven", "hot"),
    [
        (0, "large", 10),  # as planned, sooner than 20 minutes from now
        (0, "cold", 20),
        (8, "cold", 28),
        (11, "large", 28),  # 20 + 8 min from 220 to 180 °C
        (26, "large", 43),
    ],
)
def test_an_oven_is_hot_as_planned_or_a_preheating_from_now_on(at, oven, hot):
    assert {one.key: one.hot_from for one in left(at).ovens}[oven] == hot


def test_an_oven_is_not_hot_before_it_could_be_at_first():
    slow = replace(BUNS, ovens=tuple(replace(one, hot_from=40) for one in BUNS.ovens))
    assert {one.hot_from for one in from_minute(slow, PLAN, 0).ovens} == {40}


@pytest.mark.parametrize(("at", "most"), [(4, 10), (5, None)])
def test_what_was_watched_need_not_be_done_at_once_any_more(at, most):
    (lag,) = left(at, seen={"watch"}).items["sweep"].after
    assert lag.most == most


def test_lags_are_changed_by_key():
    changed = with_lags(BUNS, lambda key, lags: () if key == "bake" else lags)
    assert changed.items["bake"].after == ()
    assert changed.items["cake"].after == BUNS.items["cake"].after
