"""What would make a class fit: every remedy has a plan that keeps the rules and ends in time."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings

from classes.core.hours.advice.changes import (
    ALTERNATIVES,
    Changed,
    ClassChange,
    RemedyKind,
    fewer_people,
    start_earlier,
    tubs_of,
)
from classes.core.hours.advice.remedies import remedies_for
from classes.core.hours.checking.shortages import people_at, people_in, shortages_of
from classes.core.hours.checking.unsaid import unsaid_of
from classes.core.hours.checking.verdict import TIGHT_BELOW_MIN, VerdictKind, kind_of
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.oven_time import smaller_bake_min
from classes.core.hours.problem.values import Hours, MixerKind, Mixing, RisesIn
from classes.core.hours.problem.work import PlannedOven
from classes.core.keys import Stage
from classes.demo import HEARTH_LOAF, PILLOW_ROLLS, RYE_BATARD
from recipes.core.choices import StepKind
from recipes.core.errors import NoGrowth
from tests.classes.core.hours.drawn_classes import (
    CLASSES,
    benches,
    demo,
    planned,
    recipe_of,
    roomy,
    work_of,
)
from tests.classes.core.hours.random_classes import class_works
from tests.classes.core.hours.rules import faults

ALL = 99


def loaves(count, people=4, *, mixing=Mixing.SHOWN, **changes):
    return work_of(recipe_of(HEARTH_LOAF, benches(count, people), mixing=mixing), **changes)


def lasting(minutes, work=None):
    work = work or demo()
    return replace(work, hours=replace(work.hours, minutes=minutes))


def in_room(work, **changes):
    return replace(work, room=replace(work.room, **changes))


def remedy(work, kind):
    return next(one for one in remedies_for(work, most=ALL) if one.kind is kind)


def kinds(work):
    return [one.kind for one in remedies_for(work, most=ALL)]


def slack_of(work):
    """Minutes left by the plan made anew; None without a plan."""
    scheduled = schedule_of(work)
    try:
        return work.hours.minutes - plan_greedily(scheduled.problem).ready
    except CannotPlace:
        return None


def kind_now(work):
    scheduled = schedule_of(work)
    try:
        solved = plan_greedily(scheduled.problem)
    except CannotPlace:
        solved = None
    return kind_of(scheduled, solved, shortages_of(scheduled), unsaid_of(scheduled))


def assert_sound(work, found):
    """The remedy's own plan keeps the rules of the changed class and ends in time."""
    assert found.changes
    assert found.work != work
    scheduled = schedule_of(found.work)
    assert faults(scheduled.problem, found.solved.plan) == ()
    assert found.ready == found.solved.plan.ready(scheduled.problem)
    assert found.slack_min == found.work.hours.minutes - found.ready
    least = TIGHT_BELOW_MIN if kind_now(work) is VerdictKind.TIGHT else 0
    assert found.slack_min >= least
    assert kind_now(found.work) is not VerdictKind.DOES_NOT_FIT


def test_a_class_that_fits_needs_no_remedy():
    assert remedies_for(lasting(250)) == ()


def test_a_class_keeps_the_better_plan_that_it_has():
    work = lasting(230)
    better = replace(planned(work)[1], ready=225)
    longer = next(
        one
        for one in remedies_for(work, solved=better, most=ALL)
        if one.kind is RemedyKind.START_EARLIER
    )
    assert (longer.changes[0].amount, longer.solved) == (10, better)
    assert remedy(work, RemedyKind.START_EARLIER).changes[0].amount == 5
    assert remedies_for(work, solved=replace(better, ready=215)) == ()


def test_a_tight_class_is_cured_with_15_minutes_to_spare():
    found = remedy(demo(), RemedyKind.START_EARLIER)
    assert found.changes == (ClassChange(RemedyKind.START_EARLIER, 10),)
    assert (found.ready, found.slack_min, found.starts_earlier_min) == (235, 15, 10)


def test_the_demo_in_three_hours_starts_55_minutes_earlier_or_is_mixed_the_evening_before():
    found = remedies_for(lasting(180))
    assert [one.changes for one in found[:3]] == [
        (ClassChange(RemedyKind.EVENING_BEFORE, 4, ("Hearth loaf",), Stage.RISEN),),
        (ClassChange(RemedyKind.START_EARLIER, 55),),
        (ClassChange(RemedyKind.END_LATER, 55),),
    ]
    assert [one.slack_min for one in found[1:3]] == [0, 0]


@pytest.mark.parametrize(("people", "ovens_more"), [(20, 1), (24, 2)])
def test_more_ovens_help_a_class_that_needs_two_loads(people, ovens_more):
    found = remedy(loaves(people // 4, room=roomy(40)), RemedyKind.ANOTHER_OVEN)
    assert found.changes[0] == ClassChange(RemedyKind.ANOTHER_OVEN, ovens_more, thing="O1")
    assert (found.ready, len(found.work.ovens)) == (235, 3 + ovens_more)


def test_another_mixer_helps_where_doughs_take_turns():
    work = loaves(2, 2, mixing=Mixing.MIXER, mixers=(MixerKind(2000, 2),))
    assert slack_of(work) < 0
    found = remedy(work, RemedyKind.ANOTHER_MIXER)
    assert found.work.mixers == (MixerKind(2000, 3),)


def test_mixing_by_hand_helps_where_doughs_take_turns():
    work = loaves(4, 1, mixing=Mixing.MIXER, mixers=(MixerKind(2000, 1),))
    found = remedy(work, RemedyKind.MIX_BY_HAND)
    assert [one.mixing for one in found.work.recipes] == [Mixing.HAND]


def test_a_class_without_a_mixer_mixes_by_hand():
    assert kinds(lasting(300, replace(demo(), mixers=()))) == [RemedyKind.MIX_BY_HAND]


def test_the_warm_cabinet_helps_where_the_bench_is_cold():
    cold = in_room(lasting(260), rises_in=RisesIn.BENCH, room_c=Decimal(18))
    found = remedy(cold, RemedyKind.RISE_WARM)
    room = found.work.room
    assert (room.rises_in, room.cabinet_c) == (RisesIn.CABINET, Decimal(28))
    assert found.slack_min > slack_of(cold)


def test_the_bench_helps_where_the_cabinet_is_small():
    small = in_room(lasting(300), cabinet_places=6)
    assert remedy(small, RemedyKind.RISE_ON_BENCH).work.room.rises_in is RisesIn.BENCH


def test_no_more_is_left_out_of_watching_than_has_to_be():
    found = remedy(lasting(232), RemedyKind.LESS_WATCHING)
    assert found.changes == (ClassChange(RemedyKind.LESS_WATCHING, 3),)
    assert found.work.hours.show_min == 2


def test_rolls_bake_sooner_than_loaves():
    work = lasting(260, loaves(6, room=roomy(40)))
    found = remedy(work, RemedyKind.ROLLS)
    recipe = found.work.recipes[0]
    assert (recipe.pieces, recipe.pieces_a_place) == (6 * 25, 6)
    bake = next(step for step in recipe.steps if step.kind is StepKind.BAKE)
    assert (bake.waiting_min, found.changes[0].amount) == (12, 12)


@pytest.mark.parametrize(("loaf", "roll"), [(20, 12), (30, 12), (45, 14), (60, 18), (90, 27)])
def test_rolls_of_a_sixth_take_the_time_of_mass_to_the_two_thirds(loaf, roll):
    assert smaller_bake_min(loaf) == roll


def test_pieces_that_share_a_place_are_rolls_already():
    work = work_of(recipe_of(PILLOW_ROLLS, benches(2), pieces_a_place=6), hours=Hours(150))
    assert RemedyKind.ROLLS not in kinds(work)


def test_dough_is_not_mixed_the_evening_before_without_room_for_its_tubs():
    full = in_room(lasting(180), refrigerator_places=3)
    found = remedies_for(full, most=ALL)
    assert RemedyKind.EVENING_BEFORE not in {one.kind for one in found}
    assert remedy(full, RemedyKind.PREPARED).changes[0].stage is Stage.RISEN


def test_tubs_hold_three_kilograms():
    work = loaves(1, 6)
    assert tubs_of(work, ("Hearth loaf",)) == 1 + 2
    assert tubs_of(work, ("Another",)) == 0


def test_bowls_are_brought_where_they_are_all_that_is_missing():
    found = remedies_for(in_room(lasting(300), bowls=5), most=ALL)
    assert [one.changes for one in found] == [
        (ClassChange(RemedyKind.MORE_BOWLS, 8),),
        (ClassChange(RemedyKind.FEWER_PEOPLE, 4),),
    ]


def test_missing_bowls_come_with_what_else_has_to_change():
    found = remedy(in_room(lasting(180), bowls=5), RemedyKind.START_EARLIER)
    assert [one.kind for one in found.changes] == [
        RemedyKind.MORE_BOWLS,
        RemedyKind.START_EARLIER,
    ]


def test_the_largest_number_of_people_is_found():
    work = loaves(6, room=roomy(40))
    found = remedy(work, RemedyKind.FEWER_PEOPLE)
    assert found.changes == (ClassChange(RemedyKind.FEWER_PEOPLE, 14),)
    assert slack_of(fewer_people(Changed((), work, 0), 15).work) < 0


def test_people_are_taken_from_the_fullest_stations():
    work = work_of(recipe_of(HEARTH_LOAF, [("Bench 1", 4), ("Bench 2", 2), ("Bench 3", 1)]))
    found = fewer_people(Changed((), work, 0), 3).work
    assert [people_at(found, station) for station in found.stations] == [1, 1, 1]
    fewer = fewer_people(Changed((), work, 0), 2).work
    assert fewer.stations == ("Bench 1", "Bench 2")
    assert [group.dough_g for group in fewer.recipes[0].groups] == [520, 520]


def test_a_break_keeps_its_time_on_the_clock_when_a_class_starts_earlier():
    work = replace(demo(), hours=Hours(200, break_at=60, break_min=10))
    found = start_earlier(Changed((), work, 0), 25).work.hours
    assert (found.minutes, found.break_at) == (225, 85)


def test_two_changes_are_put_together_only_where_no_one_is_enough():
    narrow = loaves(1, 10, ovens=(PlannedOven("oven-3", "O3", 3, 5),), room=roomy(16))
    found = remedies_for(narrow, most=ALL)
    single = [one.kind for one in found if len(one.changes) == 1]
    assert single == [RemedyKind.FEWER_PEOPLE]
    assert any(len(one.changes) == 2 for one in found)
    for one in found:
        assert_sound(narrow, one)
    assert all(len(one.changes) == 1 for one in remedies_for(lasting(180), most=ALL))


def test_no_half_of_a_pair_is_enough_alone():
    narrow = loaves(1, 10, ovens=(PlannedOven("oven-3", "O3", 3, 5),), room=roomy(16))
    for variants in ALTERNATIVES:
        for one in variants(Changed((), narrow, 0)):
            slack = slack_of(one.work)
            assert slack is None or slack < 0


def test_a_class_that_no_change_helps_is_offered_none():
    assert remedies_for(loaves(1, 1, hours=Hours(5))) == ()


def test_only_the_smallest_are_offered():
    whole = remedies_for(lasting(232), most=ALL)
    assert remedies_for(lasting(232), most=2) == whole[:2]
    assert [one.cost for one in whole] == sorted(one.cost for one in whole)


def test_dough_that_does_not_rise_at_all_has_no_remedy():
    cold = in_room(demo(), rises_in=RisesIn.BENCH, room_c=Decimal(0))
    frozen = replace(cold.recipes[0], dough_c=Decimal(0))
    with pytest.raises(NoGrowth):
        remedies_for(replace(cold, recipes=(frozen,)))


def test_prepared_dough_is_offered_for_one_bread_of_two():
    work = work_of(
        recipe_of(HEARTH_LOAF, benches(2)), recipe_of(RYE_BATARD, benches(2)), room=roomy(40)
    )
    ready = plan_greedily(schedule_of(work).problem).ready
    found = remedy(lasting(ready - 1, work), RemedyKind.PREPARED)
    assert len(found.changes[0].recipes) == 1


@pytest.mark.parametrize("make", CLASSES.values(), ids=CLASSES)
def test_remedies_of_a_class_in_little_time_are_sound(make):
    work = make()
    short = lasting(planned(work)[1].ready - 20, work)
    found = remedies_for(short, most=ALL)
    assert found
    for one in found:
        assert_sound(short, one)


@settings(max_examples=12, deadline=None)
@given(class_works(most_stations=3))
def test_remedies_of_any_class_are_sound_and_the_smallest_first(work):
    found = remedies_for(work, most=ALL)
    for one in found:
        assert_sound(work, one)
    assert [one.cost for one in found] == sorted(one.cost for one in found)
    if kind_now(work) is VerdictKind.FITS:
        assert found == ()


@settings(max_examples=12, deadline=None)
@given(class_works(most_stations=3))
def test_a_class_starts_no_earlier_than_it_has_to(work):
    found = [one for one in remedies_for(work, most=ALL) if one.starts_earlier_min > 5]
    for one in found:
        *others, _ = one.changes
        hours = one.work.hours
        pause = None if hours.break_at is None else hours.break_at - 5
        less = replace(one.work, hours=replace(hours, minutes=hours.minutes - 5, break_at=pause))
        least = TIGHT_BELOW_MIN if kind_now(work) is VerdictKind.TIGHT else 0
        slack = slack_of(less)
        assert slack is None or slack < least, others


@settings(max_examples=12, deadline=None)
@given(class_works(most_stations=4))
def test_fewer_people_are_as_many_as_asked_for(work):
    before = people_in(work)
    for people in range(1, before):
        changed = fewer_people(Changed((), work, 0), people).work
        assert people_in(changed) == people
        assert all(people_at(changed, station) for station in changed.stations)
