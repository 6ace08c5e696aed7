"""What holds for every plan of every problem, whoever made it."""

from dataclasses import replace

from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from classes.core.hours.exact.solving import improve
from classes.core.hours.greedy.bounds import lower_bound
from classes.core.hours.greedy.placing import plan_greedily
from classes.core.hours.problem.work import Since
from tests.classes.core.hours.problems import (
    Bread,
    Kitchen,
    class_problem,
    class_problems,
    job_shops,
    later,
    nothing_is_fixed,
)
from tests.classes.core.hours.rules import faults

any_problem = class_problems() | job_shops()
small_problem = class_problems(most_stations=3) | job_shops(most_jobs=4, most_machines=3)

# While the first dough is loaded for four minutes, the same hands would shape the second one.
LOADING_MEETS_SHAPING = class_problem([[Bread(load=4), Bread(load=4)]], Kitchen())


def ready(problem, plan):
    """When all is done and cooled, told from the plan alone."""
    after = {one.key: one.then_min for one in (*problem.tasks, *problem.bakings)}
    ways = {one.key: one.ways for one in problem.tasks}
    ends = [(key, slot.start + ways[key][slot.way].minutes) for key, slot in plan.slots.items()]
    ends += [(key, load.start + load.minutes) for load in plan.loads for key, _ in load.pieces]
    return max(end + after[key] for key, end in ends)


def longest_chain(problem):
    """What the longest job takes if it has the kitchen to itself, and every oven is hot."""
    items = {one.key: one for one in (*problem.tasks, *problem.bakings)}
    shortest = {one.key: min(way.minutes for way in one.ways) for one in problem.tasks}
    shortest |= {one.key: one.minutes for one in problem.bakings}
    known = {}

    def earliest(key):
        if key not in known:
            moments = [getattr(items[key], "earliest", 0)]
            for lag in items[key].after:
                if items[lag.task].job == items[key].job:
                    whole = shortest[lag.task] if lag.since is Since.END else 0
                    moments.append(earliest(lag.task) + whole + lag.least)
            known[key] = max(moments)
        return known[key]

    return max(earliest(key) + shortest[key] + one.then_min for key, one in items.items())


def improved(problem, start, limit_s=1):
    found = improve(problem, start, limit_s=limit_s, workers=1)
    assert faults(problem, found.plan) == ()
    assert found.ready == ready(problem, found.plan)
    assert found.bound <= found.ready <= start.ready
    assert found.bound >= start.bound
    assert found.proved == (found.bound == found.ready)
    return found


@settings(max_examples=50)
@example(LOADING_MEETS_SHAPING)
@given(any_problem)
def test_a_plan_made_at_once_keeps_all_rules(problem):
    found = plan_greedily(problem)
    assert faults(problem, found.plan) == ()
    assert found.ready == ready(problem, found.plan)


@given(any_problem)
def test_no_plan_is_ready_before_the_bound_and_the_longest_job(problem):
    found = plan_greedily(problem)
    assert found.ready >= lower_bound(problem) >= longest_chain(problem)
    assert found.ready >= found.bound >= longest_chain(problem)


@settings(max_examples=15)
@given(any_problem)
def test_the_same_problem_has_the_same_plan(problem):
    again = replace(problem)
    assert plan_greedily(problem) == plan_greedily(again)


@settings(max_examples=10)
@given(small_problem)
def test_an_improved_plan_keeps_all_rules_and_is_never_later(problem):
    improved(problem, plan_greedily(problem))


@settings(max_examples=15)
@given(small_problem, st.integers(1, 15))
def test_a_late_plan_is_improved_as_far_as_a_good_one(problem, minutes):
    at_once = plan_greedily(problem)
    assume(nothing_is_fixed(problem))
    best = improved(problem, at_once)
    from_late = improved(problem, later(at_once, minutes))
    if best.proved and from_late.proved:
        assert best.ready == from_late.ready
    assert max(best.bound, from_late.bound) <= min(best.ready, from_late.ready)
