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
from hypothesis import event, given, settings
from hypothesis import strategies as st

from classes.planning.hours import exact
from classes.planning.hours.checking import faults
from classes.planning.hours.exact import improve
from classes.planning.hours.exact_draft import Draft
from classes.planning.hours.exact_model import add_problem
from classes.planning.hours.exact_plans import hints, put_in_order
from classes.planning.hours.exact_tidy import tidy
from classes.planning.hours.exact_twins import all_twins, steps_between
from classes.planning.hours.exact_windows import Order, steps, windows
from classes.planning.hours.greedy import plan_greedily
from classes.planning.hours.work import (
    Baking,
    Lag,
    Load,
    Oven,
    Plan,
    Problem,
    Resource,
    Since,
    Slot,
    Solved,
    Stay,
    Task,
    Use,
    Way,
)
from tests.planning.hours.problems import (
    Bread,
    Kitchen,
    Show,
    Span,
    class_problem,
    class_problems,
    job_shops,
    later,
    nothing_is_fixed,
)

MIXER, CABINET = Resource("mixer", "the mixer", 1), Resource("cabinet", "the cabinet", 1)
ANN, BOB = Resource("ann", "Ann", 1), Resource("bob", "Bob", 1)
OVEN = Oven("oven", "the oven", 2, turnaround_min=1)


def task(key, minutes, *uses, after=(), **fields):
    return Task(key, fields.pop("job", key), (Way(minutes, _uses(uses)),), after, **fields)


def _uses(names):
    return tuple(Use(name) for name in names)


def baking(key, pieces, minutes, temperature_c=230, **fields):
    return Baking(key, fields.pop("job", key), pieces, minutes, temperature_c, **fields)


def solved(problem, plan, bound=0):
    assert faults(problem, plan) == ()
    return Solved(plan, plan.ready(problem), bound, "by hand")


def one_by_one(problem):
    """A sound but slow plan: every job alone, when the one before it is ready."""
    slots, loads, now = {}, [], max([0, *(oven.hot_from or 0 for oven in problem.ovens)])
    for job, members in problem.jobs.items():
        keys = {one.key for one in members}
        alone = Problem(
            tuple(
                replace(one, after=_within(one, keys)) for one in problem.tasks if one.job == job
            ),
            problem.resources,
            tuple(
                replace(one, after=_within(one, keys)) for one in problem.bakings if one.job == job
            ),
            tuple(replace(oven, hot_from=None) for oven in problem.ovens),
            tuple(stay for stay in problem.stays if stay.until in keys),
        )
        plan = plan_greedily(alone).plan
        slots |= {key: Slot(slot.start + now, slot.way) for key, slot in plan.slots.items()}
        loads += [replace(load, start=load.start + now) for load in plan.loads]
        now += plan.ready(alone) + 20
    return solved(problem, Plan(slots, tuple(loads)))


def _within(item, keys):
    return tuple(lag for lag in item.after if lag.task in keys)


def two_ways():
    """Alone, either task would take the fast mixer; together one is done by hand."""
    ways = (Way(3, (Use("mixer"),)), Way(4, (Use("ann"),)))
    tasks = (Task("a", "a", ways), task("b", 3, "mixer"))
    return Problem(tasks, (MIXER, ANN))


def ways_of_different_length_before_a_limit():
    """Either way ends at 6 at the earliest and may rest for 1 minute; Ann is busy from 4 to 9."""
    ways = (Way(2, (Use("mixer"),)), Way(6, (Use("bob"),)))
    tasks = (
        task("wash", 4, "mixer", latest=0),
        task("show", 5, "ann", earliest=4, latest=4),
        Task("mix", "dough", ways),
        task("shape", 2, "ann", after=(Lag("mix", 0, 1),), job="dough"),
    )
    return Problem(tasks, (MIXER, ANN, BOB))


def a_limit_on_rising():
    """The second dough is mixed late, since it may rise for 2 minutes while the first is shaped."""
    tasks = [
        made
        for who in "12"
        for made in (
            task(f"mix{who}", 1, "mixer", job=who),
            task(f"shape{who}", 5, "ann", after=(Lag(f"mix{who}", 1, 2),), job=who),
        )
    ]
    return Problem(tuple(tasks), (MIXER, ANN))


def a_lag_from_a_start():
    """It may begin 2 minutes after the other has begun, though that goes on for 6 minutes."""
    lag = Lag("soak", 2, 3, Since.START)
    return Problem((task("soak", 6, job="a"), task("weigh", 5, after=(lag,), job="a")))


def two_take_more_than_there_is():
    """Of three bowls one task takes two: two of these are one after the other."""
    bowls = Resource("bowls", "bowls", 3)
    tasks = [Task(key, key, (Way(3, (Use("bowls", 2),)),)) for key in "ab"]
    return Problem((*tasks, task("c", 6, "bowls")), (bowls,))


def a_stay_in_a_full_cabinet():
    """The cabinet holds one dough: the second is divided when the first has gone."""
    tasks = [
        made
        for who in "12"
        for made in (
            task(f"divide{who}", 1, job=who),
            task(f"shape{who}", 1, after=(Lag(f"divide{who}", 4, 4),), job=who),
        )
    ]
    stays = tuple(Stay("cabinet", 1, f"divide{who}", f"shape{who}") for who in "12")
    return Problem(tuple(tasks), (CABINET,), stays=stays)


def a_stay_until_the_last_load():
    """Three pieces go in two loads; the other dough has a place before, or after both of them."""
    first = task("a", 1, job="1"), baking("bake1", 3, 4, after=(Lag("a"),), job="1")
    other = task("b", 1, job="2"), task("c", 1, after=(Lag("b", 2),), job="2", then_min=7)
    stays = Stay("cabinet", 1, "a", "bake1"), Stay("cabinet", 1, "b", "c")
    return Problem((first[0], *other), (CABINET,), (first[1],), (OVEN,), stays)


def a_baking_in_loads():
    """Five pieces, two at a time: three loads of 4 minutes with a minute between them."""
    return Problem((), bakings=(baking("a", 5, 4),), ovens=(OVEN,))


def two_bakings_that_share_a_load():
    """Three pieces and one make two loads."""
    bakings = baking("a", 3, 4), baking("b", 1, 4, then_min=2)
    return Problem((), bakings=bakings, ovens=(OVEN,))


def bakings_for_different_times():
    """They cannot share a load; the longer one is first, for the shorter one cools longer."""
    bakings = baking("a", 1, 4), baking("b", 1, 6, then_min=9)
    return Problem((), bakings=bakings, ovens=(OVEN,))


def two_temperatures():
    """Changing by 45 degrees takes 9 minutes, so the oven changes once: 4, 1, 4, 9 and 4."""
    bakings = [baking(f"hot{n}", 2, 4) for n in range(2)]
    return Problem((), bakings=(*bakings, baking("mild", 2, 4, 185)), ovens=(OVEN,))


def a_slow_change_of_temperature():
    """As before at a degree a minute, with an oven more: it is better to wait for the cool one."""
    bakings = baking("hot", 2, 4), baking("mild", 2, 4, 215)
    other = Oven("late", "the late oven", 2, 1, hot_from=8)
    return Problem((), bakings=bakings, ovens=(OVEN, other), degrees_a_minute=1)


def an_oven_that_is_hot_late():
    """Two loads in the small oven end at 9, one in the large oven that is hot from 6 at 10."""
    small, large = replace(OVEN, hot_from=0), Oven("large", "the large oven", 4, hot_from=6)
    return Problem((), bakings=(baking("a", 4, 4),), ovens=(small, large))


def an_oven_that_is_hot_before_it_matters():
    small, large = replace(OVEN, hot_from=3), Oven("large", "the large oven", 4, hot_from=4)
    return Problem((), bakings=(baking("a", 4, 4),), ovens=(small, large))


def hands_that_load():
    """Ann cannot load while she shapes for 3 minutes, nor shape while she loads for 2."""
    tasks = (task("shape", 3, "ann", then_min=4),)
    return Problem(tasks, (ANN,), (baking("a", 1, 6, hands="ann", hands_min=2),), (OVEN,))


def hands_that_load_two_ovens():
    """The same hands serve both ovens at once, and both before they shape."""
    ovens = Oven("one", "one", 1), Oven("two", "two", 1)
    tasks = (task("shape", 3, "ann"),)
    return Problem(tasks, (ANN,), (baking("a", 2, 6, hands="ann", hands_min=2),), ovens)


def hands_of_two_people():
    """One of them shapes: those who load are at no other task, though there are two of them."""
    team = Resource("team", "the team", 2)
    tasks = (task("shape", 3, "team", then_min=4),)
    return Problem(tasks, (team,), (baking("a", 1, 6, hands="team", hands_min=2),), (OVEN,))


def a_limit_after_the_last_load():
    """What bakes last must be packed within a minute, but Ann is busy from 5 to 15."""
    tasks = (
        task("pack", 1, "ann", after=(Lag("a", 0, 1),), job="1"),
        task("show", 10, "ann", earliest=5, latest=5),
    )
    return Problem(tasks, (ANN,), (baking("a", 3, 4, job="1"),), (OVEN,))


def a_task_that_must_start_soon():
    """It would be better last, for nothing follows it; but it must start by minute 1."""
    tasks = (task("a", 2, "ann", latest=1), task("b", 2, "ann", then_min=10))
    return Problem(tasks, (ANN,))


def a_task_that_cannot_start_yet():
    return Problem((task("a", 2, "ann", earliest=5), task("b", 4, "ann")), (ANN,))


def a_show_that_all_watch():
    """Two twins each weigh, watch and shape; the show waits for both and keeps them both."""
    tasks = [
        made
        for who in ("ann", "bob")
        for made in (
            task(f"weigh-{who}", 3, who, "scale", job=who),
            task(f"shape-{who}", 2, who, after=(Lag(f"weigh-{who}"), Lag("show")), job=who),
        )
    ]
    scale = Resource("scale", "the scale", 1)
    return Problem((task("show", 4, "ann", "bob"), *tasks), (ANN, BOB, scale))


BEST = {
    two_ways: 4,
    ways_of_different_length_before_a_limit: 11,
    a_limit_on_rising: 12,
    a_lag_from_a_start: 7,
    two_take_more_than_there_is: 6,
    a_stay_in_a_full_cabinet: 10,
    a_stay_until_the_last_load: 12,
    a_baking_in_loads: 14,
    two_bakings_that_share_a_load: 9,
    bakings_for_different_times: 15,
    two_temperatures: 22,
    a_slow_change_of_temperature: 12,
    an_oven_that_is_hot_late: 9,
    an_oven_that_is_hot_before_it_matters: 8,
    hands_that_load: 9,
    hands_that_load_two_ovens: 6,
    hands_of_two_people: 9,
    a_limit_after_the_last_load: 16,
    a_task_that_must_start_soon: 14,
    a_task_that_cannot_start_yet: 7,
    a_show_that_all_watch: 12,
}


def best_of(problem, start, **options):
    found = improve(problem, start, limit_s=30, workers=1, **options)
    assert faults(problem, found.plan) == ()
    assert found.ready == found.plan.ready(problem)
    return found


def start_of(make):
    """The slow plan, or the quick one where a fixed minute forbids to be slow."""
    problem = make()
    fixed = any(one.latest is not None for one in problem.tasks)
    plan = plan_greedily(problem).plan if fixed else one_by_one(problem).plan
    return problem, solved(problem, plan)


@pytest.mark.parametrize("make", BEST, ids=lambda make: make.__name__)
def test_the_best_plan_is_found_and_proved(make):
    problem, start = start_of(make)
    found = best_of(problem, start)
    assert (found.ready, found.bound, found.proved) == (BEST[make], BEST[make], True)


@pytest.mark.parametrize("make", BEST, ids=lambda make: make.__name__)
def test_the_bound_of_a_best_plan_is_not_above_it(make):
    """A search that already has the best plan neither loses it nor claims that it is not there."""
    problem, start = start_of(make)
    best = best_of(problem, start)
    found = best_of(problem, replace(best, bound=0, solver="by hand"))
    assert (found.plan, found.solver) == (best.plan, "by hand")
    assert (found.ready, found.bound) == (BEST[make], BEST[make])


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


OVENS = tuple(Oven(f"oven{n}", f"Oven {n}", 4, 2) for n in range(2))
LOAF = Bread(
    by_mixer=5,
    mixer_and_hands=True,
    weigh=4,
    bulk=Span(20, 8),
    divide=3,
    rest=Span(0),
    shape=4,
    proof=Span(9, 6),
    cabinet=2,
    pieces=2,
    bake=12,
    load=2,
    cool=5,
)
ROLLS = replace(LOAF, by_mixer=4, bake=8, temperature_c=200, bulk=Span(12, 9))
SHOW = Show(Span(1), 3, Span(0, 4))


def stations(count, *breads, **kitchen):
    """Equal stations with two mixers, and a show by the instructor that all of them watch."""
    room = Kitchen(2, 2 * count, OVENS, tidy=3, **kitchen)
    return class_problem([breads] * count, room, replace(LOAF, pieces=1), SHOW)


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
    assert took_s < 6


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
        {"ways": (Way(3),)},
        {"ways": (Way(2, (Use("mixer", 2),)),)},
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
        found = improve(problem, start, limit_s=20, workers=1)
        patch.setattr(exact, "all_twins", lambda *_: ())
        plain = improve(problem, start, limit_s=20, workers=1)
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
    draft = Draft(model, problem, every, twins, windows(problem, every, ready))
    found = add_problem(draft, 0, ready)
    for variable, value in hints(problem, put_in_order(problem, plan, twins), found):
        model.add_hint(variable, value)
    solver.parameters.merge_text_format(
        "fix_variables_to_their_hinted_value: true num_workers: 1 max_time_in_seconds: 20"
    )
    return solver.solve(model) == cp_model.OPTIMAL


@settings(max_examples=20)
@given(class_problems(most_stations=5) | job_shops())
def test_the_model_accepts_every_sound_plan_once_it_is_in_order(problem):
    plan = plan_greedily(problem).plan
    event(f"in order: {[group.in_order for group in twins_of(problem)[1]]}")
    assert accepted(problem, plan)
    assert faults(problem, put_in_order(problem, plan, twins_of(problem)[1])) == ()


@pytest.mark.parametrize("make", BEST, ids=lambda make: make.__name__)
def test_the_model_accepts_a_slow_plan(make):
    problem, start = start_of(make)
    assert accepted(problem, start.plan)


@settings(max_examples=20)
@given(class_problems(most_stations=5) | job_shops(), st.integers(0, 30))
def test_a_tidy_plan_keeps_the_rules_and_has_nothing_later(problem, minutes):
    late = plan_greedily(problem)
    if nothing_is_fixed(problem):
        late = later(late, minutes)
    plan = tidy(problem, late.plan)
    assert faults(problem, plan) == ()
    for key in problem.items:
        assert plan.start(problem, key) <= late.plan.start(problem, key)
        assert plan.end(problem, key) <= late.plan.end(problem, key)
    assert tidy(problem, plan) == plan


def test_a_tidy_plan_starts_at_once_and_keeps_the_order():
    tasks = task("a", 2, "ann"), task("b", 3, "ann", after=(Lag("c", 1),)), task("c", 1)
    problem = Problem(tasks, (ANN,))
    late = Plan({"b": Slot(9), "a": Slot(14), "c": Slot(3)})
    assert tidy(problem, late).slots == {"b": Slot(2), "a": Slot(5), "c": Slot(0)}


def test_a_stay_of_no_time_does_not_become_longer_by_tidying():
    """The first dough leaves the cabinet at once; if it stood there, the second had no place."""
    tasks = (
        task("a", 1, job="1"),
        task("b", 1, "ann", job="1", after=(Lag("a"),)),
        task("c", 1, job="2"),
        task("d", 1, job="2", after=(Lag("c", 9, 9),)),
        task("show", 7, "ann"),
    )
    stays = Stay("cabinet", 1, "a", "b"), Stay("cabinet", 1, "c", "d")
    problem = Problem(tasks, (ANN, CABINET), stays=stays)
    slots = {"a": Slot(6), "b": Slot(7), "c": Slot(0), "d": Slot(10), "show": Slot(0)}
    assert faults(problem, Plan(slots)) == ()
    assert faults(problem, tidy(problem, Plan(slots))) == ()


def test_loads_become_earlier_with_their_pieces_and_gaps():
    problem = two_temperatures()
    late = Plan(
        {},
        (
            Load("oven", 10, 4, 230, (("hot0", 2),)),
            Load("oven", 20, 4, 230, (("hot1", 2),)),
            Load("oven", 40, 4, 185, (("mild", 2),)),
        ),
    )
    assert [load.start for load in tidy(problem, late).loads] == [0, 5, 18]
