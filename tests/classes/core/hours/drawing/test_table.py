"""The plan in a table: everything that happens, once, with those who do it side by side."""

from collections import Counter
from dataclasses import replace
from decimal import Decimal

import pytest

from classes.core.demand import DEMONSTRATION
from classes.core.hours.drawing.spans import ActivityKind, held_mass
from classes.core.hours.drawing.table import rows_of
from classes.core.hours.problem.oven_time import OvenTime
from classes.core.hours.problem.values import Hours, MixerKind, Mixing, RisesIn, Room
from classes.core.hours.problem.work import Baking
from classes.demo import HEARTH_LOAF
from tests.classes.core.hours.drawn_classes import (
    CLASSES,
    benches,
    demo,
    in_two_loads,
    label,
    planned,
    recipe_of,
    roomy,
    two_breads,
    two_loads,
    work_of,
)

NBSP = "\N{NO-BREAK SPACE}"


def rows(work):
    scheduled, solved = planned(work)
    return rows_of(scheduled, solved.plan, label)


def told(row):
    return row.from_label, row.to_label, row.who_words, row.what, row.kind, row.where


def test_the_demo_is_told_by_the_clock():
    assert [told(row) for row in rows(demo())] == [
        ("10:00", "10:10", "Everybody", "Welcome and cautions", "watching", ""),
        ("10:10", "10:30", "Bench 1, 2 and 3", "Weigh", "hands on", "bench"),
        ("10:30", "10:35", "Everybody", "Watch: mix", "watching", ""),
        ("10:35", "10:55", "Instructor", "Mix", "hands on", f"mixer for 2{NBSP}kg"),
        ("10:35", "10:55", "Bench 1, 2 and 3", "Mix", "hands on", "bench"),
        ("10:55", "11:32", ALL, "Bulk fermentation", "rising", "proof cabinet"),
        ("11:32", "11:37", ALL, "Fold", "hands on", "bench"),
        ("11:37", "12:15", ALL, "Bulk fermentation", "rising", "proof cabinet"),
        ("11:55", "12:00", "Everybody", "Watch: divide and shape", "watching", ""),
        ("12:15", "12:30", ALL, "Divide and shape", "hands on", "bench"),
        ("12:30", "13:10", ALL, "Proof", "rising", "proof cabinet"),
        ("12:35", "13:10", "", "Preheat", "preheating", "O1, O2 and O3"),
        ("13:10", "13:40", "Bench 1 and 3", "Bake", "baking", "O1, 6 of 6 places"),
        ("13:10", "13:40", "Bench 2", "Bake", "baking", "O2, 4 of 6 places"),
        ("13:10", "13:40", "Instructor and Bench 3", "Bake", "baking", "O3, 3 of 3 places"),
        ("13:15", "13:25", "Bench 1, 2 and 3", "Clean up", "hands on", "bench"),
        ("13:40", "13:55", ALL, "Cool", "cooling", "cooling rack"),
    ]


ALL = "Instructor, Bench 1, 2 and 3"


def test_rows_carry_the_words_and_heat_of_their_steps():
    found = {(row.what, row.who[0]): row for row in rows(demo()) if row.who}
    bulk, bake = found["Bulk fermentation", "Instructor"], found["Bake", "Bench 2"]
    assert bulk.temperature_c == Decimal(25)
    assert bulk.text.startswith("Cover the bowl.")
    assert bake.temperature_c == Decimal(230)
    assert bake.text.startswith("Turn the loaf out and cut the top once")
    assert bake.oven_time == OvenTime(bake_min=25, load_min=5, scored=True)
    assert bake.recipe == "Hearth loaf"
    assert found["Cool", "Instructor"].text == "Cool on a rack before cutting."
    assert found["Welcome and cautions", "Everybody"].recipe == ""


def test_a_rise_says_when_it_may_end():
    windows = [row.window for row in rows(demo()) if row.kind is ActivityKind.RISE]
    assert windows[0] == "may end from 11:32 to 11:47, best at 11:32"
    assert windows[2] == "may end from 13:06 to 13:20, best at 13:10"
    # The whole of the rise, 80 min from 10:55 on, from 90 % to 130 % of them.
    assert windows[1] == "may end from 12:07 to 12:39, best at 12:15"


def test_a_load_says_whose_pieces_it_holds():
    holds = {row.where: row.holds for row in rows(demo()) if row.kind is ActivityKind.BAKE}
    assert holds == {
        "O1, 6 of 6 places": "Bench 1: 4, Bench 3: 2",
        "O2, 4 of 6 places": "Bench 2: 4",
        "O3, 3 of 3 places": "Instructor: 1, Bench 3: 2",
    }


def test_two_loads_of_a_dough_say_that_it_goes_in_one_after_the_other():
    scheduled, solved = planned(demo())
    plan, key = in_two_loads(solved.plan)
    found = rows_of(scheduled, plan, label)
    split = [row for row in found if row.kind is ActivityKind.RISE and row.who == ("Bench 2",)]
    assert [(row.to_label, row.window.partition("; ")[2]) for row in split] == [
        ("13:45", "the first pieces go on at 13:10")
    ]
    baked = [
        (row.from_label, row.holds)
        for row in found
        if key in row.keys and row.kind is ActivityKind.BAKE
    ]
    assert baked == [("13:10", "Bench 2: 1"), ("13:45", "Bench 2: 3")]


@pytest.mark.parametrize("make", CLASSES.values(), ids=CLASSES)
def test_everything_is_told_once_and_by_the_clock(make):
    scheduled, solved = planned(make())
    problem, plan = scheduled.problem, solved.plan
    found = rows_of(scheduled, plan, label)
    assert [row.starts for row in found] == sorted(row.starts for row in found)
    tasks = Counter(
        (key, who)
        for row in found
        if row.kind in WORK
        for key, who in zip(row.keys, row.who, strict=True)
    )
    expected = Counter((task.key, who_of(scheduled.notes[task.key].who)) for task in problem.tasks)
    assert tasks == expected
    loads = Counter((row.starts, row.keys) for row in found if row.kind is ActivityKind.BAKE)
    keys = [one.key for one in problem.bakings]
    assert loads == Counter(
        (load.start, tuple(sorted((key for key, _ in load.pieces), key=keys.index)))
        for load in plan.loads
    )
    waits = sum(
        len(row.keys) for row in found if row.kind in (ActivityKind.RISE, ActivityKind.REST)
    )
    assert waits == len(scheduled.waits)


WORK = (ActivityKind.HANDS, ActivityKind.WATCH, ActivityKind.BREAK)


def who_of(who):
    return "Instructor" if who == DEMONSTRATION else who


@pytest.mark.parametrize("make", CLASSES.values(), ids=CLASSES)
def test_a_row_is_true_of_everybody_in_it(make):
    scheduled, solved = planned(make())
    problem, plan = scheduled.problem, solved.plan
    for row in rows_of(scheduled, plan, label):
        assert (row.from_label, row.to_label) == (label(row.starts), label(row.ends))
        assert len(set(row.who)) == len(row.who)
        for key in row.keys:
            if row.kind in WORK:
                assert (row.starts, row.ends) == (plan.start(problem, key), plan.end(problem, key))
            elif isinstance(problem.items[key], Baking) and row.kind is ActivityKind.COOL:
                assert row.starts in {load.end for load in plan.loads_of[key]}


def test_two_breads_at_a_time_have_rows_of_their_own():
    found = rows(two_breads())
    weighing = [(row.from_label, row.recipe) for row in found if row.what == "Weigh"]
    assert weighing == [("10:10", "Hearth loaf"), ("10:30", "Pillow rolls")]
    heats = [
        (row.what, row.where, row.temperature_c) for row in found if row.kind is ActivityKind.HEAT
    ]
    assert heats[0] == ("Preheat", "O1, O2 and O3", Decimal(230))
    assert ("Change the heat", "O1 and O3", Decimal(190)) in heats


def test_a_break_is_a_row():
    (pause,) = [row for row in rows(two_loads()) if row.kind is ActivityKind.BREAK]
    assert told(pause) == ("11:45", "12:00", "Everybody", "Break", "break", "")


def test_dough_on_the_bench_rises_at_the_temperature_of_the_room():
    work = replace(demo(), room=Room(Decimal("18.5"), Decimal(18), RisesIn.BENCH))
    rises = [row for row in rows(work) if row.kind is ActivityKind.RISE]
    assert {(row.where, row.temperature_c) for row in rises} == {("bench", Decimal("18.5"))}


def test_minutes_before_the_class_are_told_by_the_clock_too():
    work = replace(demo(), ovens=tuple(replace(oven, preheat_min=200) for oven in demo().ovens))
    first = rows(work)[0]
    assert (first.what, first.starts, first.from_label) == ("Preheat", -10, "9:50")


@pytest.mark.parametrize(
    ("grams", "shown"), [(2000, "2 kg"), (1500, "1.5 kg"), (800, "800 g"), (10000, "10 kg")]
)
def test_a_mixer_is_told_by_what_it_holds(grams, shown):
    assert held_mass(MixerKind(grams, 1)) == shown.replace(" ", NBSP)
    kind = MixerKind(grams, 1)
    small = recipe_of(HEARTH_LOAF, benches(1, 1), shown=0, mixing=Mixing.MIXER)
    work = work_of(small, hours=Hours(300), room=roomy(2), mixers=(kind,))
    (mixed,) = [row for row in rows(work) if row.what == "Mix"]
    assert mixed.where == f"mixer for {held_mass(kind)}"
