"""Which parts of the work are alike, and that putting them in order cuts off no best plan."""

from dataclasses import replace

import pytest
from hypothesis import event, given, settings

from classes.core.hours.exact import solving as exact
from classes.core.hours.exact.draft import ModelDraft
from classes.core.hours.exact.model import add_problem
from classes.core.hours.exact.plans import hints, put_in_order
from classes.core.hours.exact.solving import improve
from classes.core.hours.exact.twins import all_twins, steps_between
from classes.core.hours.exact.windows import Order, steps, windows
from classes.core.hours.greedy.placing import plan_greedily
from classes.core.hours.problem.work import Lag, Problem, Resource, TaskOption, Use
from tests.classes.core.hours.problems import class_problems, job_shops
from tests.classes.core.hours.rules import faults
from tests.classes.core.hours.seen_problems import (
    ANN,
    BEST,
    BOB,
    LOAF,
    OVEN,
    ROLLS,
    baking,
    start_of,
    stations,
    task,
)


def twins_of(problem):
    known = tuple(steps(problem))
    return known, all_twins(problem, Order(known))


def test_stations_that_bake_the_same_are_twins_with_all_that_is_theirs():
    _, groups = twins_of(stations(3, LOAF))
    (twins,) = groups
    assert twins.in_order
    assert [set(part) for part in twins.parts] == [
        {f"s{n} dough1 {what}" for what in ("weigh", "mix", "divide", "shape", "bake")}
        for n in (1, 2, 3)
    ]


def test_a_job_of_its_own_that_is_tied_to_a_dough_goes_with_it():
    tasks = [
        made
        for who in ("ann", "bob")
        for made in (
            task(f"weigh-{who}", 3, who),
            task(f"mix-{who}", 2, who, after=(Lag(f"weigh-{who}"),)),
            task(f"clean-{who}", 4, who, after=(Lag(f"mix-{who}"),)),
        )
    ]
    _, (twins,) = twins_of(Problem(tuple(tasks), (ANN, BOB)))
    assert sorted(twins.parts) == [
        ("weigh-ann", "mix-ann", "clean-ann"),
        ("weigh-bob", "mix-bob", "clean-bob"),
    ]


def test_stations_with_two_doughs_in_the_same_hands_are_put_in_order_by_one_row():
    _, (twins,) = twins_of(stations(3, LOAF, ROLLS))
    assert (len(twins.parts), twins.in_order) == (3, False)
    assert twins.rows[0] == tuple(f"s{n} dough1 mix" for n in (1, 2, 3))


@pytest.mark.parametrize(
    "change",
    [
        {"then_min": 1},
        {"earliest": 1},
        {"after": (Lag("other"),)},
        {"ways": (TaskOption(3),)},
        {"ways": (TaskOption(2, (Use("mixer", 2),)),)},
    ],
    ids=lambda change: next(iter(change)),
)
def test_jobs_that_differ_are_no_twins(change):
    mixers = Resource("mixer", "the mixers", 2)
    alike = [task(key, 2, "mixer") for key in "ab"]
    other = task("other", 5)
    assert len(twins_of(Problem((*alike, other), (mixers,)))[1]) == 1
    changed = replace(alike[1], **change)
    assert twins_of(Problem((alike[0], changed, other), (mixers,)))[1] == ()


def test_where_something_must_follow_the_last_load_soon_pieces_are_not_put_in_order():
    tasks, bakings = [], []
    for who in ("ann", "bob"):
        bakings.append(baking(f"bake-{who}", 2, 4, job=who))
        tasks.append(task(f"pack-{who}", 1, who, after=(Lag(f"bake-{who}", 0, 2),), job=who))
    problem = Problem(tuple(tasks), (ANN, BOB), tuple(bakings), (OVEN,))
    _, (twins,) = twins_of(problem)
    assert not twins.in_order
    free = replace(
        problem, tasks=tuple(replace(one, after=(Lag(one.after[0].task),)) for one in tasks)
    )
    assert twins_of(free)[1][0].in_order


@settings(max_examples=10)
@given(class_problems(most_stations=3) | job_shops(most_jobs=4, most_machines=3))
def test_twins_and_what_is_put_in_order_change_no_optimum(problem):
    with pytest.MonkeyPatch.context() as patch:
        start = replace(plan_greedily(problem), bound=0)
        found = improve(problem, start, limit_s=2, workers=1)
        patch.setattr(exact, "all_twins", lambda *_: ())
        plain = improve(problem, start, limit_s=2, workers=1)
    event(f"twins: {len(twins_of(problem)[1])}")
    assert found.bound <= plain.ready
    assert plain.bound <= found.ready


def accepted(problem, plan):
    """Whether the model takes a plan as it is, once its twins are in order."""
    from ortools.sat.python import cp_model

    known, twins = twins_of(problem)
    every = [*known, *(step for group in twins for step in steps_between(problem, group))]
    ready = plan.ready(problem)
    model, solver = cp_model.CpModel(), cp_model.CpSolver()
    draft = ModelDraft(model, problem, every, twins, windows(problem, every, ready))
    found = add_problem(draft, 0, ready)
    for variable, value in hints(problem, put_in_order(problem, plan, twins), found):
        model.add_hint(variable, value)
    solver.parameters.merge_text_format(
        "fix_variables_to_their_hinted_value: true num_workers: 1 max_time_in_seconds: 20"
    )
    return solver.solve(model) == cp_model.OPTIMAL


@pytest.mark.parametrize("make", BEST, ids=lambda make: make.__name__)
def test_the_model_accepts_a_slow_plan_and_the_best_one(make):
    problem, start = start_of(make)
    assert accepted(problem, start.plan)
    assert accepted(problem, improve(problem, start, limit_s=30, workers=1).plan)


@settings(max_examples=20)
@given(class_problems(most_stations=5) | job_shops())
def test_the_model_accepts_every_sound_plan_once_it_is_in_order(problem):
    plan = plan_greedily(problem).plan
    event(f"in order: {[group.in_order for group in twins_of(problem)[1]]}")
    assert accepted(problem, plan)
    assert faults(problem, put_in_order(problem, plan, twins_of(problem)[1])) == ()
