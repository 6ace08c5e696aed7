"""What differs between two plans: what moved, appeared and went, and what is said before, after."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from classes.core.demand import DEMONSTRATION
from classes.core.hours.advice.changes import Changed, start_earlier
from classes.core.hours.advice.differences import Moved, Stretch, compare
from classes.core.hours.checking.verdict import VerdictKind
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.notes import EVERYBODY
from classes.core.hours.problem.values import Mixing, RisesIn
from classes.core.hours.problem.work import Load, Plan, Slot, Solved
from classes.demo import HEARTH_LOAF
from tests.classes.core.hours.drawn_classes import benches, demo, planned, recipe_of, roomy, work_of
from tests.classes.core.hours.random_classes import class_works

LOAF = "Hearth loaf"
BENCHES = ("Bench 1", "Bench 2", "Bench 3")


def loaves(count, people=4, **changes):
    return work_of(recipe_of(HEARTH_LOAF, benches(count, people), mixing=Mixing.SHOWN), **changes)


def shown(minutes):
    return planned(replace(demo(), hours=replace(demo().hours, show_min=minutes)))


def later(side, minutes):
    scheduled, solved = side
    slots = {key: Slot(one.start + minutes, one.way) for key, one in solved.plan.slots.items()}
    loads = tuple(replace(load, start=load.start + minutes) for load in solved.plan.loads)
    return scheduled, Solved(Plan(slots, loads), solved.ready + minutes, 0, "late")


def test_a_plan_does_not_differ_from_itself():
    found = compare(planned(demo()), planned(demo()))
    assert found.is_none
    assert found.ready_later_min == 0


def test_what_moves_by_the_same_is_told_together():
    found = compare(planned(demo()), shown(8))
    assert found.ready_later_min == 3
    whole = (DEMONSTRATION, *BENCHES)
    mixed = Moved("Mix", LOAF, whole, Stretch(35, 55), Stretch(38, 58))
    assert mixed in found.moved
    proofs = [one for one in found.moved if one.title == "Proof"]
    assert proofs == [Moved("Proof", LOAF, whole, Stretch(150, 190), Stretch(153, 193))]


def test_what_only_takes_longer_is_told_too():
    watch = next(one for one in compare(planned(demo()), shown(8)).moved if one.who == (EVERYBODY,))
    assert (watch.before, watch.after) == (Stretch(30, 35), Stretch(30, 38))


def test_more_stations_appear_and_fewer_go():
    small, large = planned(loaves(2)), planned(loaves(3))
    appeared = compare(small, large).appeared
    assert {one.who for one in appeared} == {("Bench 3",)}
    assert all(one.before is None and one.after for one in appeared)
    went = compare(large, small).went
    assert [(one.title, one.before) for one in went] == [(one.title, one.after) for one in appeared]


def test_loads_that_change_are_told_by_oven_and_number():
    found = compare(planned(loaves(3, room=roomy(40))), planned(loaves(6, room=roomy(40))))
    told = {(one.oven, one.number): (one.before, one.after) for one in found.loads}
    before, after = told["O1", 2]
    assert before is None
    assert (after.start, after.filled) == (225, 6)


def test_loads_that_only_hold_another_bench_are_the_same():
    work = loaves(3, 1)
    scheduled, solved = planned(work)
    swapped = tuple(
        Load(
            load.oven,
            load.start,
            load.minutes,
            load.temperature_c,
            tuple(reversed(load.pieces)),
        )
        for load in solved.plan.loads
    )
    other = replace(solved, plan=Plan(solved.plan.slots, swapped))
    assert compare((scheduled, solved), (scheduled, other)).loads == ()


def test_an_oven_that_is_out_loses_its_loads():
    work = demo()
    found = compare(planned(work), planned(replace(work, ovens=work.ovens[1:])))
    assert any(one.oven == "O1" and one.after is None for one in found.loads)


@pytest.mark.parametrize(
    ("minutes", "before", "after"),
    [
        (240, VerdictKind.TIGHT, VerdictKind.DOES_NOT_FIT),
        (260, VerdictKind.FITS, VerdictKind.TIGHT),
        (400, VerdictKind.FITS, VerdictKind.FITS),
    ],
)
def test_the_verdicts_before_and_after_are_told(minutes, before, after):
    work = replace(demo(), hours=replace(demo().hours, minutes=minutes))
    cold = replace(work, room=replace(work.room, rises_in=RisesIn.BENCH, room_c=Decimal(21)))
    found = compare(planned(work), planned(cold))
    assert (found.verdict_before, found.verdict_after) == (before, after)
    assert found.slack_after_min == found.slack_before_min - found.ready_later_min


def test_a_class_without_a_plan_has_a_verdict_and_nothing_that_moved():
    found = compare(planned(demo()), (schedule_of(replace(demo(), ovens=())), None))
    assert (found.verdict_after, found.ready_after) == (VerdictKind.DOES_NOT_FIT, None)
    assert (found.ready_later_min, found.slack_after_min) == (None, None)
    assert (found.moved, found.appeared, found.went, found.loads) == ((), (), (), ())
    assert not found.is_none


def test_an_earlier_start_is_compared_on_the_clock():
    earlier = start_earlier(Changed((), demo(), 0), 40).work
    found = compare(planned(demo()), planned(earlier), starts_earlier_min=40)
    assert (found.ready_before, found.ready_after, found.ready_later_min) == (235, 195, -40)
    assert {one.after.starts - one.before.starts for one in found.moved} == {-40}
    assert (found.slack_before_min, found.slack_after_min) == (5, 45)
    assert found.loads[0].after.start == 150


@settings(max_examples=12, deadline=None)
@given(class_works(most_stations=3), st.integers(1, 30))
def test_a_plan_that_is_all_later_has_moved_as_a_whole(work, minutes):
    scheduled = schedule_of(work)
    try:
        side = scheduled, plan_greedily(scheduled.problem)
    except CannotPlace:
        assume(False)
    found = compare(side, later(side, minutes))
    assert found.ready_later_min == minutes
    assert {one.after.starts - one.before.starts for one in found.moved} == {minutes}
    assert (found.appeared, found.went) == ((), ())
    assert sum(len(one.who) for one in found.moved) == len(scheduled.notes) + len(scheduled.waits)
    assert compare(later(side, minutes), side).ready_later_min == -minutes
    assert compare(side, later(side, minutes), starts_earlier_min=minutes).moved == ()
