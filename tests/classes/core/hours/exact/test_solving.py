"""The solver on problems small enough to see their best plan, one for each rule and trap.

Every search begins with a plan that does one job after the other and with no bound at all, so that
the solver has both to find the best plan and to prove that nothing is earlier: a rule that is
missing from its model shows as a plan that is too early, one too many as a bound that is too late.
"""

import sys
from dataclasses import replace
from decimal import Decimal
from time import monotonic

import pytest

from classes.core.hours.exact.solving import improve
from classes.core.hours.greedy.placing import plan_greedily
from classes.core.hours.problem.work import Plan, Problem, Slot, Task, TaskOption, Use
from tests.classes.core.hours.rules import faults
from tests.classes.core.hours.seen_problems import (
    ANN,
    BEST,
    LOAF,
    MIXER,
    ROLLS,
    a_lag_from_a_start,
    one_by_one,
    solved,
    start_of,
    stations,
    two_temperatures,
    two_ways,
)


def best_of(problem, start, **options):
    found = improve(problem, start, limit_s=30, workers=1, **options)
    assert faults(problem, found.plan) == ()
    assert found.ready == found.plan.ready(problem)
    return found


@pytest.mark.parametrize("make", BEST, ids=lambda make: make.__name__)
def test_the_best_plan_is_found_and_proved(make):
    problem, start = start_of(make)
    found = best_of(problem, start)
    assert (found.ready, found.bound, found.proved) == (BEST[make], BEST[make], True)


def test_a_way_that_takes_more_than_there_is_is_not_taken():
    ways = (
        TaskOption(3, (Use("ann"),)),
        TaskOption(2, (Use("mixer", 2),)),
        TaskOption(1, (Use("mixer"), Use("mixer"))),
    )
    tasks = Task("a", "a", ways), Task("b", "b", (TaskOption(3, (Use("ann"),)),))
    problem = Problem(tasks, (MIXER, ANN))
    found = best_of(problem, solved(problem, Plan({"a": Slot(0), "b": Slot(5)})))
    assert (found.ready, found.proved, found.plan.slots["a"].way) == (6, True, 0)


def test_a_proved_plan_is_returned_as_it_is_and_the_solver_is_not_loaded(monkeypatch):
    problem = two_ways()
    start = replace(one_by_one(problem), bound=one_by_one(problem).ready)
    monkeypatch.setitem(sys.modules, "ortools", None)
    assert improve(problem, start, limit_s=1) is start


def test_what_lags_alone_prove_needs_no_solver(monkeypatch):
    problem = a_lag_from_a_start()
    start = solved(problem, plan_greedily(problem).plan)
    monkeypatch.setitem(sys.modules, "ortools", None)
    found = improve(problem, start, limit_s=1)
    assert (found.plan, found.bound, found.solver) == (start.plan, 7, "by hand")


def test_a_better_plan_bears_the_name_of_the_solver():
    problem, start = start_of(two_temperatures)
    found = best_of(problem, start)
    assert (found.solver, found.ready < start.ready) == ("exact", True)


def test_without_time_the_plan_is_kept_and_so_is_its_bound():
    problem, start = start_of(two_temperatures)
    found = improve(problem, replace(start, bound=5), limit_s=0)
    assert (found.plan, found.ready, found.solver) == (start.plan, start.ready, "by hand")
    assert 5 <= found.bound <= BEST[two_temperatures]


def test_with_one_worker_the_answer_is_the_same_every_time():
    problem = stations(3, LOAF)
    start = plan_greedily(problem)
    first, second = (best_of(problem, start) for _ in range(2))
    assert first.ready < start.ready
    assert first == second


def test_twelve_stations_with_a_break_are_proved():
    problem = stations(12, LOAF, pause=(30, 5))
    start = plan_greedily(problem)
    assert not start.proved
    assert best_of(problem, start).proved


def test_time_is_kept_where_it_is_not_enough_for_a_proof():
    problem = stations(20, LOAF, ROLLS)
    start = plan_greedily(problem)
    improve(two_temperatures(), one_by_one(two_temperatures()), limit_s=5)
    began = monotonic()
    found = improve(problem, start, limit_s=Decimal("1.5"))
    took_s = monotonic() - began
    assert faults(problem, found.plan) == ()
    assert not found.proved
    assert start.bound <= found.bound <= found.ready <= start.ready
    # Without a limit it takes minutes; the rest is room for a machine that is busy.
    assert took_s < 40
