"""What is said of a class: whether it fits, what is short, what is in the way, what holds it up."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, assume, given, settings

from classes.core.demand import DEMONSTRATION
from classes.core.hours.advice.bottleneck import (
    Bottleneck,
    Scarce,
    Thing,
    bottleneck_of,
    without_limit,
)
from classes.core.hours.checking.obstacles import Hindrance, Obstacle, obstacle_of, stuck_bakings
from classes.core.hours.checking.shortages import Lacking, Shortage, people_in, shortages_of
from classes.core.hours.checking.verdict import VerdictKind, verdict_of
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.values import Hours, MixerKind, Mixing, RisesIn
from classes.core.hours.problem.work import Baking, Lag, PlannedOven, Problem, Task, TaskOption
from classes.demo import HEARTH_LOAF, PILLOW_ROLLS
from tests.classes.core.hours.advice.test_critical import STEPS
from tests.classes.core.hours.drawn_classes import (
    benches,
    demo,
    ovens,
    planned,
    recipe_of,
    roomy,
    work_of,
)
from tests.classes.core.hours.random_classes import class_works

OVENS, CABINET = Thing(Scarce.OVENS), Thing(Scarce.CABINET)


def verdict(work):
    return verdict_of(*planned(work))


def lasting(minutes, work=None):
    work = work or demo()
    return replace(work, hours=replace(work.hours, minutes=minutes))


def loaves(count, people=4, **changes):
    return work_of(recipe_of(HEARTH_LOAF, benches(count, people), mixing=Mixing.SHOWN), **changes)


def cannot(work):
    scheduled = schedule_of(work)
    with pytest.raises(CannotPlace) as raised:
        plan_greedily(scheduled.problem)
    return scheduled, raised.value


def test_the_demo_is_tight_with_the_last_loaf_ready_after_235_minutes():
    found = verdict(demo())
    assert (found.kind, found.ready, found.slack_min) == (VerdictKind.TIGHT, 235, 5)
    assert (found.proved, found.gap_min, found.shortages) == (True, 0, ())
    assert found.bottleneck == Bottleneck()


def test_the_demo_does_not_fit_into_three_hours():
    found = verdict(lasting(180))
    assert (found.kind, found.ready, found.slack_min) == (VerdictKind.DOES_NOT_FIT, 235, -55)
    assert [link.title for link in found.critical] == STEPS


@pytest.mark.parametrize(
    ("minutes", "kind"),
    [
        (234, VerdictKind.DOES_NOT_FIT),
        (235, VerdictKind.TIGHT),
        (249, VerdictKind.TIGHT),
        (250, VerdictKind.FITS),
    ],
)
def test_a_class_is_tight_with_less_than_15_minutes_left(minutes, kind):
    assert verdict(lasting(minutes)).kind is kind


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (VerdictKind.FITS, "fits"),
        (VerdictKind.TIGHT, "tight"),
        (VerdictKind.DOES_NOT_FIT, "does not fit"),
    ],
)
def test_a_verdict_has_words(kind, words):
    assert kind.words == words


def test_a_plan_that_is_not_proved_says_by_how_much_it_could_be_earlier():
    scheduled, solved = planned(demo())
    found = verdict_of(scheduled, replace(solved, bound=200))
    assert (found.proved, found.gap_min) == (False, 35)


def test_24_and_one_bakers_do_not_fit_as_the_ovens_hold_them_up():
    found = verdict(loaves(6, room=roomy(40)))
    assert (found.kind, found.ready) == (VerdictKind.DOES_NOT_FIT, 270)
    assert found.bottleneck == Bottleneck((OVENS,), 35)


def test_few_mixers_for_many_doughs_are_the_bottleneck():
    recipe = recipe_of(HEARTH_LOAF, benches(6, 1), mixing=Mixing.MIXER)
    found = verdict(work_of(recipe, mixers=(MixerKind(2000, 1),)))
    assert found.bottleneck.things == (Thing(Scarce.MIXERS, 2000),)
    assert found.bottleneck.gain_min == found.ready - 235


def test_a_small_cabinet_is_the_bottleneck():
    found = verdict(loaves(3, room=roomy(5)))
    assert found.bottleneck.things == (CABINET,)


def test_two_things_are_the_bottleneck_where_neither_gains_alone():
    loaf = recipe_of(HEARTH_LOAF, benches(1, 1), shown=0, mixing=Mixing.MIXER)
    again = replace(loaf, key="again", title="Again")
    hours = Hours(240, weighing_min=0)
    found = verdict(work_of(loaf, again, hours=hours, mixers=(MixerKind(2000, 1),)))
    assert found.bottleneck == Bottleneck((Thing(Scarce.MIXERS, 2000), Thing(Scarce.HANDS)), 20)


def test_without_the_limit_of_ovens_there_are_twice_as_many():
    scheduled = schedule_of(demo())
    found = without_limit(scheduled.problem, OVENS)
    assert sum(oven.slots for oven in found.ovens) == 30
    assert len({oven.key for oven in found.ovens}) == 6


def test_a_bench_of_eight_loaves_cannot_wait_for_three_loads_of_a_small_oven():
    scheduled, error = cannot(loaves(1, 8, ovens=(PlannedOven("oven-3", "O3", 3, 5),)))
    assert obstacle_of(scheduled, error) == Obstacle(
        Hindrance.LOADS,
        "Bench 1",
        "Hearth loaf",
        "Bake",
        pieces=8,
        needed=3,
        ovens=("O3",),
        wait_min=70,
        bears_min=10,
    )


def test_a_class_without_a_plan_does_not_fit_and_says_what_is_in_the_way():
    found = verdict_of(*_without_plan(loaves(1, 8, ovens=(PlannedOven("oven-3", "O3", 3, 5),))))
    assert (found.kind, found.ready, found.slack_min) == (VerdictKind.DOES_NOT_FIT, None, None)
    assert (found.critical, found.proved, found.gap_min) == ((), False, 0)
    assert found.obstacle.hindrance is Hindrance.LOADS
    assert found.bottleneck == Bottleneck((OVENS,), None)


def _without_plan(work):
    scheduled, error = cannot(work)
    return scheduled, None, error


def test_a_bench_with_more_bowls_than_cabinet_places_cannot_be_placed():
    scheduled, error = cannot(loaves(1, 6, room=roomy(5)))
    found = obstacle_of(scheduled, error)
    assert (found.hindrance, found.who, found.title) == (
        Hindrance.CABINET,
        "Bench 1",
        "Bulk fermentation",
    )
    assert (found.needed, found.there) == (6, 5)
    assert verdict_of(scheduled, None, error).bottleneck == Bottleneck((CABINET,), None)


def test_a_bread_without_an_oven_cannot_be_placed():
    scheduled, error = cannot(loaves(1, ovens=()))
    found = obstacle_of(scheduled, error)
    assert (found.hindrance, found.who) == (Hindrance.NO_OVEN, DEMONSTRATION)
    assert Lacking.OVEN in {one.lacking for one in shortages_of(scheduled)}


def test_what_has_no_other_reason_finds_no_time():
    scheduled = schedule_of(demo())
    found = obstacle_of(scheduled, CannotPlace("class", "welcome"))
    assert (found.hindrance, found.title, found.recipe) == (
        Hindrance.TIME,
        "Welcome and cautions",
        "",
    )


@pytest.mark.parametrize(
    ("slots", "most", "is_stuck"),
    [
        ((6,), 40, False),
        ((3,), 40, True),
        ((3,), 74, True),
        ((3,), 75, False),
        ((3, 3), 40, False),
        ((3, 2), 40, True),
        ((3, 2), 75, False),
    ],
)
def test_loads_that_take_longer_than_dough_bears_are_stuck(slots, most, is_stuck):
    shape = Task("shape", "dough", (TaskOption(5),))
    baking = Baking("bake", "dough", 6, 30, 230, (Lag("shape", 40, most),))
    problem = Problem((shape,), bakings=(baking,), ovens=ovens(*slots))
    assert bool(stuck_bakings(problem)) is is_stuck


@pytest.mark.parametrize(
    ("change", "shortage"),
    [
        ({"room": replace(demo().room, bowls=12)}, Shortage(Lacking.BOWLS, 13, 12)),
        ({"assistants": 0}, Shortage(Lacking.TEACHERS, 2, 1, people_each=8)),
        ({"mixers": ()}, Shortage(Lacking.MIXER, 1, 0)),
        ({"room": roomy(0)}, Shortage(Lacking.CABINET, 1, 0)),
        ({"room": roomy(3)}, Shortage(Lacking.CABINET_PLACES, 4, 3, "Bench 1")),
        ({"ovens": ()}, Shortage(Lacking.OVEN, 1, 0)),
    ],
)
def test_what_is_short_is_counted(change, shortage):
    assert shortages_of(schedule_of(replace(demo(), **change)))[0] == shortage


def test_bowls_that_nobody_counted_are_not_short():
    work = replace(demo(), room=replace(demo().room, bowls=0))
    assert shortages_of(schedule_of(work)) == ()


def test_dough_that_rises_cold_needs_a_refrigerator():
    loaf = recipe_of(HEARTH_LOAF, benches(1))
    cold = tuple(
        replace(step, temperature_c=Decimal(4)) if step.temperature_c == 25 else step
        for step in loaf.steps
    )
    work = work_of(replace(loaf, steps=cold), room=roomy(16))
    assert Shortage(Lacking.REFRIGERATOR, 1, 0) in shortages_of(schedule_of(work))


def test_the_ratio_of_teachers_can_be_changed():
    scheduled = schedule_of(replace(demo(), assistants=0))
    assert shortages_of(scheduled, people_a_teacher=12) == ()
    found = shortages_of(scheduled, people_a_teacher=5)
    assert found == (Shortage(Lacking.TEACHERS, 3, 1, people_each=5),)


def test_few_teachers_are_a_remark_and_not_a_refusal():
    found = verdict(lasting(300, replace(demo(), assistants=0)))
    assert [one.is_remark for one in found.shortages] == [True]
    assert found.kind is VerdictKind.FITS


def test_a_class_that_lacks_bowls_does_not_fit_however_long_it_is():
    work = replace(demo(), room=replace(demo().room, bowls=10))
    assert verdict(lasting(400, work)).kind is VerdictKind.DOES_NOT_FIT


def test_people_who_bake_two_breads_are_counted_once():
    work = work_of(recipe_of(HEARTH_LOAF, benches(3)), recipe_of(PILLOW_ROLLS, benches(3)))
    assert people_in(work) == 12


def test_a_class_of_nobody_but_the_welcome_fits():
    found = verdict(work_of(hours=Hours(60), room=replace(roomy(0), rises_in=RisesIn.BENCH)))
    assert (found.kind, found.ready) == (VerdictKind.FITS, 10)


@settings(max_examples=12, deadline=None)
@given(class_works())
def test_a_verdict_follows_from_the_plan(work):
    scheduled = schedule_of(work)
    try:
        solved = plan_greedily(scheduled.problem)
    except CannotPlace as error:
        found = verdict_of(scheduled, None, error)
        assert (found.kind, found.obstacle is None) == (VerdictKind.DOES_NOT_FIT, False)
        return
    found = verdict_of(scheduled, solved)
    is_short = any(not one.is_remark for one in found.shortages)
    assert found.slack_min == work.hours.minutes - solved.ready
    fits = found.kind is not VerdictKind.DOES_NOT_FIT
    assert fits == (found.slack_min >= 0 and not is_short)


@settings(max_examples=12, deadline=None)
@given(class_works())
def test_what_holds_a_class_up_is_what_gains_most(work):
    scheduled = schedule_of(work)
    try:
        solved = plan_greedily(scheduled.problem)
    except CannotPlace:
        assume(False)
    found = bottleneck_of(scheduled, solved)
    problem = scheduled.problem
    for thing in found.things:
        problem = without_limit(problem, thing)
    if found.things:
        assert plan_greedily(problem).ready == solved.ready - found.gain_min < solved.ready
    else:
        assert found.gain_min == 0


@settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.filter_too_much]
)  # one class in six or so has such a baking
@given(class_works())
def test_a_class_with_a_baking_that_is_stuck_has_no_plan(work):
    problem = schedule_of(work).problem
    stuck = {one.baking.job for one in stuck_bakings(problem)}
    assume(stuck)
    with pytest.raises(CannotPlace):
        plan_greedily(problem)
