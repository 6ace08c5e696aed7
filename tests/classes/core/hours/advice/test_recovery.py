"""What goes wrong in a class is planned anew, from the minute at which it is found."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from classes.core.hours.advice.outcomes import outcome_of, starts_of
from classes.core.hours.advice.recovery import EARLY_MIN, recovery_of, rises_of
from classes.core.hours.problem.notes import Doing, Note, Scheduled
from classes.core.hours.problem.values import Hours, Mixing, RisesIn, Room
from classes.core.hours.problem.work import Problem, Resource, Task, TaskOption, Use
from classes.demo import HEARTH_LOAF, RYE_BATARD
from tests.classes.core.hours.drawn_classes import (
    CLASSES,
    benches,
    demo,
    ovens,
    planned,
    recipe_of,
    roomy,
    two_breads,
    work_of,
)

# Minutes of the demo's class, which starts at 10:00: shape 12:15, load 13:10, ready 13:55.
SHAPE, LOAD, READY, END = 135, 190, 235, 240


def recovery(work):
    return recovery_of(*planned(work))


@pytest.fixture(scope="module")
def of_demo():
    return recovery(demo())


# Slow and fast dough


def test_every_rise_of_every_recipe_is_there_once(of_demo):
    assert [(one.title, one.follows) for one in of_demo.rises] == [
        ("Bulk fermentation", "Divide and shape"),
        ("Proof", "Bake"),
    ]
    rises = recovery(two_breads()).rises
    assert [(one.recipe, one.title) for one in rises] == [
        ("hearth-loaf", "Bulk fermentation"),
        ("hearth-loaf", "Proof"),
        ("pillow-rolls", "Bulk fermentation"),
        ("pillow-rolls", "Proof"),
    ]


def test_a_fold_does_not_cut_a_rise_in_two():
    scheduled, _ = planned(demo())
    bulk, proof = rises_of(scheduled)
    assert {len(waits) for waits in bulk} == {2}
    assert {len(waits) for waits in proof} == {1}


def test_a_rise_may_end_from_90_percent_of_it_to_its_latest(of_demo):
    bulk, proof = of_demo.rises
    assert (bulk.earliest, bulk.due, bulk.latest) == (55 + 72, SHAPE, 55 + 104)
    assert (proof.earliest, proof.due, proof.latest) == (150 + 36, LOAD, 150 + 50)


@pytest.mark.parametrize(("rise", "follows_at"), [(0, SHAPE), (1, LOAD)])
@pytest.mark.parametrize("n", [0, 1])
def test_slow_dough_makes_all_that_follows_as_late_in_the_demo(of_demo, rise, follows_at, n):
    late_min, outcome = of_demo.rises[rise].late[n]
    assert outcome.next_start == follows_at + late_min
    assert outcome.ready == READY + late_min
    assert outcome.over_min == READY + late_min - END
    assert outcome.in_windows


def test_the_first_rise_of_fast_dough_brings_all_forward(of_demo):
    early = of_demo.rises[0].early
    assert (early.next_start, early.ready) == (SHAPE - EARLY_MIN, READY - EARLY_MIN)
    assert early.fits


def test_fast_proofs_wait_for_the_ovens_that_heat_by_the_plan(of_demo):
    early = of_demo.rises[1].early
    assert (early.next_start, early.ready) == (LOAD, READY)
    assert {(one.latest, one.start) for one in early.too_late} == {(150 + 50 - EARLY_MIN, LOAD)}
    assert sum(one.pieces for one in early.too_late) == 13


def test_what_has_begun_stays_where_it_was(of_demo):
    scheduled, solved = planned(demo())
    before = starts_of(scheduled, solved.plan)
    _, late = of_demo.rises[0].late[0]
    begun = {key for key, start in before.items() if start < SHAPE}
    assert begun
    assert {key: late.starts[key] for key in begun} == {key: before[key] for key in begun}


def test_slow_dough_can_be_in_the_way_of_the_other_bread_and_says_so():
    loaf, batard = (
        recipe_of(bread, benches(2), shown=0, mixing=Mixing.HAND)
        for bread in (HEARTH_LOAF, RYE_BATARD)
    )
    tight = roomy(8)
    crowded = [
        outcome.crowded
        for rise in recovery(work_of(loaf, batard, hours=Hours(420), room=tight)).rises
        for _, outcome in rise.late
        if outcome.crowded
    ]
    assert (("the proof cabinet", 8),) in crowded


def test_a_bowl_takes_a_place_before_shaping_and_a_piece_after_it():
    rolls = recovery(two_breads()).rises[2:]
    assert [one.places for one in rolls] == [13, 13]
    pairs = work_of(recipe_of(HEARTH_LOAF, benches(2), shown=0, pieces_each=2), ovens=ovens(8, 8))
    assert [one.places for one in recovery(replace(pairs, room=roomy(16))).rises] == [8, 16]


# Ovens


def test_an_oven_known_to_be_out_makes_a_second_load_in_time(of_demo):
    out = of_demo.ovens[0]
    loads = [(load.oven, load.start, load.filled) for load in out.before.loads]
    assert loads == [("oven-2", LOAD, 6), ("oven-3", LOAD, 3), ("oven-2", LOAD + 35, 4)]
    assert out.before.in_windows
    assert (out.before.ready, out.before.over_min) == (READY + 35, 30)


def test_an_oven_found_out_when_it_goes_on_leaves_a_bench_past_its_latest(of_demo):
    out = of_demo.ovens[0]
    assert out.due == LOAD - 35
    (late,) = out.then.too_late
    assert (late.note.who, late.latest, late.start, late.pieces) == ("Bench 3", 200, 225, 4)
    assert not out.then.in_windows


def test_every_piece_is_still_baked_when_an_oven_is_out(of_demo):
    for out in of_demo.ovens:
        for outcome in (out.before, out.then):
            assert sum(load.filled for load in outcome.loads) == 13
            assert out.oven.key not in {load.oven for load in outcome.loads}


def test_an_oven_that_the_plan_leaves_cold_can_fail():
    _, spare = recovery(replace(demo(), ovens=ovens(15, 40))).ovens
    assert (spare.due, spare.before, spare.then) == (None, None, None)


def test_another_oven_has_to_heat_first_when_one_fails_midway():
    work = replace(demo(), ovens=ovens(15, 15))
    used, spare = recovery(work).ovens
    assert spare.due is None
    (load,) = used.then.loads
    assert (load.oven, load.start) == ("oven-2", used.due + spare.oven.preheat_min)


def test_the_only_oven_leaves_nothing_to_plan():
    work = replace(demo(), ovens=ovens(15))
    (out,) = recovery(work).ovens
    assert out.due == LOAD - 35
    assert (out.before, out.then) == (None, None)


# Mixers and people


def test_only_mixers_that_the_plan_uses_are_asked_about(of_demo):
    (out,) = of_demo.mixers
    assert (out.capacity_g, out.left, out.outcome.ready) == (2000, 1, READY)
    by_hand = work_of(recipe_of(HEARTH_LOAF, benches(3), mixing=Mixing.HAND))
    assert recovery(by_hand).mixers == ()


def test_fewer_mixers_make_doughs_wait():
    work = work_of(recipe_of(HEARTH_LOAF, benches(3, 3), shown=0, mixing=Mixing.MIXER))
    _, solved = planned(work)
    (out,) = recovery(work).mixers
    assert out.outcome.ready > solved.ready


def test_without_any_mixer_left_all_mix_by_hand():
    work = work_of(
        recipe_of(HEARTH_LOAF, benches(2, 3), shown=0, mixing=Mixing.MIXER),
        mixers=(replace(demo().mixers[0], count=1),),
    )
    (out,) = recovery(work).mixers
    assert out.left == 0
    assert out.outcome.in_windows


def test_people_who_are_waited_for_make_all_of_it_later(of_demo):
    assert of_demo.late_start.ready == READY + 15
    assert of_demo.late_start.over_min == 10


def test_a_class_without_a_welcome_can_be_waited_for_too():
    work = replace(demo(), hours=Hours(240, welcome_min=0))
    _, solved = planned(work)
    assert recovery(work).late_start.ready == solved.ready + 15


# Of all classes


@pytest.mark.parametrize("name", CLASSES)
def test_no_outcome_starts_before_it_is_known(name):
    scheduled, solved = planned(CLASSES[name]())
    before = starts_of(scheduled, solved.plan)
    for rise in recovery_of(scheduled, solved).rises:
        for _, outcome in rise.late:
            assert outcome.ready is not None
            for key, start in outcome.starts.items():
                assert start == before[key] or start >= rise.due


def test_a_class_that_rises_in_the_room_drifts_and_still_has_answers():
    room = Room(Decimal(19), Decimal(19), RisesIn.BENCH)
    bulk, _ = recovery(work_of(recipe_of(HEARTH_LOAF, benches(3)), room=room)).rises
    assert bulk.earliest < bulk.due < bulk.latest
    assert bulk.late[0][1].next_start == bulk.due + 15


def test_a_class_without_dough_has_little_to_recover_from():
    scheduled, solved = planned(replace(demo(), recipes=()))
    found = recovery_of(scheduled, solved)
    assert (found.rises, found.mixers) == ((), ())
    assert {one.due for one in found.ovens} == {None}


def test_what_fits_nowhere_is_named():
    ways = (TaskOption(5, (Use("ann"),)),)
    tasks = tuple(Task(key, key, ways, latest=0) for key in ("knead", "shape"))
    notes = {task.key: Note(task.key, "Ann", Doing.HANDS) for task in tasks}
    problem = Problem(tasks, (Resource("ann", "Ann", 1),))
    outcome = outcome_of(Scheduled(demo(), problem, notes, ()))
    assert (outcome.ready, outcome.stuck, outcome.fits) == (None, notes["shape"], False)
