"""What a class leaves unsaid: each gap by itself, and what is none."""

from dataclasses import replace
from decimal import Decimal

import pytest

from classes.core.hours.advice.remedies import remedies_for
from classes.core.hours.checking.unsaid import Gap, unsaid_in, unsaid_of
from classes.core.hours.checking.verdict import VerdictKind, verdict_of
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.values import MixerKind, Mixing, RisesIn
from tests.classes.core.hours.demo_classes import HEARTH, planned, recipe, step, work

MIX, BULK, DIVIDE, PROOF, SCORE, BAKE, COOL = HEARTH


def gaps(*steps, room=None, **changes):
    found = unsaid_of(schedule_of(work(recipe(steps or HEARTH, **changes), room=room)))
    return [(one.gap, one.number) for one in found]


def test_the_demo_leaves_nothing_unsaid():
    assert gaps() == []


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ((MIX, BULK, DIVIDE, PROOF), [(Gap.BAKE, 0)]),
        ((MIX, BULK, DIVIDE, PROOF, step("rest", 3, 25, 230)), [(Gap.BAKE, 0)]),
        ((MIX, BULK, DIVIDE, step("bake", 3, 25)), [(Gap.OVEN, 4)]),
        ((MIX, step("bake", 3, 25, 96, of="dough")), [(Gap.OVEN, 2)]),
        ((MIX, step("bake", 3, 25, 49)), [(Gap.COLD_OVEN, 2)]),
        ((MIX, step("bake", 3, 25, 50)), []),
        ((step("mix"), BAKE), [(Gap.TIMES, 1)]),
        ((MIX, BULK, step("score"), BAKE, step("cool")), [(Gap.TIMES, 3), (Gap.TIMES, 5)]),
        ((MIX, step("bulk", 0, 80, "45.1"), BAKE), [(Gap.RISE, 2)]),
        ((MIX, step("proof", 0, 80, "-2.1"), BAKE), [(Gap.RISE, 2)]),
        ((MIX, step("proof", 0, 80, 45), BAKE), []),
        ((MIX, step("bulk", 0, 600, None, of="refrigerator"), BAKE), [(Gap.REFRIGERATOR, 2)]),
        ((MIX, step("bulk", 0, 600, 4, of="refrigerator"), BAKE), []),
        ((), []),
    ],
)
def test_a_gap_is_named_with_its_step(steps, expected):
    assert gaps(*steps) == expected


@pytest.mark.parametrize(
    ("mixing", "shown", "expected"),
    [
        (Mixing.HAND, 1, []),
        (Mixing.SHOWN, 0, []),
        (Mixing.SHOWN, 1, [(Gap.WORKED, 1)]),
        (Mixing.MIXER, 0, [(Gap.WORKED, 1)]),
    ],
)
def test_how_dough_is_mixed_matters_where_a_mixer_is_used(mixing, shown, expected):
    steps = (step("mix", 20, worked="unsaid"), BULK, DIVIDE, PROOF, BAKE)
    assert gaps(*steps, mixing=mixing, shown=shown) == expected


def test_whose_a_temperature_is_matters_on_the_bench_and_not_in_a_cabinet_set_to_it():
    steps = (MIX, step("bulk", 0, 80, 28, of="unsaid"), DIVIDE, BAKE)
    assert gaps(*steps) == []
    assert gaps(*steps, room={"rises_in": RisesIn.BENCH}) == [(Gap.OF_WHAT, 2)]


def test_dough_and_rooms_have_temperatures_in_which_dough_rises():
    assert gaps(dough_c=Decimal(90)) == [(Gap.DOUGH, 0)]
    warm = {"rises_in": RisesIn.BENCH, "room_c": Decimal(46)}
    assert gaps(room=warm) == [(Gap.PLACE, 0)]
    assert gaps(MIX, BAKE, room=warm) == []


def test_a_gap_is_told_once_however_many_doughs_have_it():
    steps = (MIX, step("bulk", 0, 80, 28, of="unsaid"), DIVIDE, step("bake", 3, 25))
    found = gaps(*steps, room={"rises_in": RisesIn.BENCH})
    assert found == [(Gap.OVEN, 4), (Gap.OF_WHAT, 2)]


@pytest.mark.parametrize("minutes", [240, 30], ids=["time enough", "no time"])
def test_with_a_gap_nothing_is_said_of_the_hours(minutes):
    class_work = work(recipe((MIX, BULK, DIVIDE, PROOF), mixing=Mixing.HAND))
    class_work = replace(class_work, hours=replace(class_work.hours, minutes=minutes))
    verdict = verdict_of(*planned(class_work))
    assert verdict.kind is VerdictKind.CANNOT_SAY
    assert verdict.kind.words == "cannot say"
    assert remedies_for(class_work) == ()


def test_what_recipes_leave_unsaid_needs_no_plan():
    assert [one.gap for one in unsaid_in(work(recipe((MIX,))))] == [Gap.BAKE]


# Mixers


def mixed(*steps, mixing=Mixing.MIXER):
    """Which of the steps of Bench 1 take a mixer, by number, and how long each takes."""
    class_work = work(recipe(steps, mixing=mixing), mixers=(MixerKind(1000, 2),))
    made = schedule_of(class_work).problem
    return {
        n: (task.ways[0].minutes, any("mixers" in use.resource for use in task.ways[0].uses))
        for n in range(len(steps))
        if (task := made.items.get(f"mix{n}|loaf|Bench 1"))
    }


def test_only_what_is_worked_by_machine_goes_into_a_mixer():
    """4 × 520 g take a mixer for 1 kg in 3 turns; whisking and cooking take no turns."""
    whisk, roux = step("mix", 5, worked="hand"), step("mix", 8, worked="pan")
    found = mixed(whisk, roux, MIX, BULK, DIVIDE, PROOF, BAKE)
    assert found == {0: (5, False), 1: (8, False), 2: (60, True)}


def test_what_is_unsaid_takes_no_mixer():
    assert mixed(step("mix", 20, worked="unsaid"), BULK, BAKE) == {0: (20, False)}


def test_a_machine_waits_for_a_class_that_mixes_by_hand():
    assert mixed(MIX, BULK, BAKE, mixing=Mixing.HAND) == {0: (20, False)}


@pytest.mark.parametrize(
    ("steps", "measured"),
    [
        ((MIX, BULK, BAKE), {0}),
        ((step("mix", 5, worked="hand"), step("mix", 8, worked="pan"), MIX, BULK, BAKE), {2}),
        ((MIX, step("rest", 0, 20), step("mix", 5, worked="hand"), BULK, BAKE), {2}),
        ((MIX, BULK, step("mix", 3, worked="hand"), DIVIDE, BAKE), {0}),
        ((step("mix", 8, worked="pan"), BAKE), set()),
    ],
)
def test_dough_is_measured_once_when_it_is_mixed(steps, measured):
    notes = schedule_of(work(recipe(steps))).notes
    found = {key for key, note in notes.items() if note.mixes_dough and note.who == "Bench 1"}
    assert found == {f"mix{n}|loaf|Bench 1" for n in measured}


def test_a_kitchen_without_mixers_lacks_none_where_nothing_is_worked_by_machine():
    by_hand = (step("mix", 20, worked="hand"), BULK, DIVIDE, PROOF, BAKE)
    for steps, lacking in ((HEARTH, ["a mixer"]), (by_hand, [])):
        class_work = work(recipe(steps, mixing=Mixing.MIXER), mixers=())
        verdict = verdict_of(*planned(class_work))
        assert [one.lacking.value for one in verdict.shortages if not one.is_remark] == lacking
