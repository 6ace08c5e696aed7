"""Ovens and the cabinet are hot when the first load goes in, and turned between two."""

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

from classes.core.hours.ahead.everything import ahead_of
from classes.core.hours.problem.values import Hours, RisesIn
from tests.classes.core.hours.ahead.ahead_times import LOAF, ahead, times
from tests.classes.core.hours.demo_classes import (
    HEARTH,
    ROLLS,
    clock,
    ovens,
    planned,
    recipe,
    step,
    work,
)


def test_an_oven_is_hot_when_its_first_load_goes_in():
    scheduled, solved = planned(work())
    on = {task.key: task for task in ahead_of(scheduled, solved.plan)}["on|O1|O2|O3"]
    assert {load.start for load in solved.plan.loads} == {on.ready_by}
    assert (on.ready_by - on.starts, on.temperature_c) == (35, 230)
    assert "Look inside first" in on.text
    assert "It is hot from now on" in on.text


def test_an_oven_that_bakes_nothing_stays_cold():
    class_work = work(recipe(benches=1, each=2))
    _, solved = planned(class_work)
    used = sorted({load.oven for load in solved.plan.loads})
    assert len(used) < 3
    assert [key for key in ahead(class_work) if key.startswith("on")] == ["|".join(["on", *used])]


def test_ovens_that_heat_for_different_times_are_turned_on_apart():
    quick, slow, third = ovens(6, 6, 3)
    made = ahead(work(ovens=(quick, replace(slow, preheat_min=60), third)))
    assert made["on|O2"].starts == made["on|O1|O3"].starts - 25


def test_an_oven_that_is_always_hot_is_turned_on_a_moment_before():
    on = ahead(work(ovens=ovens(20, preheat_min=0)))["on|O1"]
    assert on.starts + on.hands_min == on.ready_by


def test_an_oven_with_a_fan_is_set_lower():
    made = ahead(work(ovens=(*ovens(6), *ovens(0, 6, has_fan=True)[1:], *ovens(0, 0, 3)[2:])))
    assert "O2: about 20 °C (36 °F) less, for the fan." in made["on|O1|O2|O3"].text


def test_a_recipe_without_a_temperature_sets_no_oven():
    cold = recipe((*HEARTH[:5], step("bake", 3, 25), HEARTH[6]))
    assert ahead(work(cold))["on|O1|O2|O3"].temperature_c is None


def two_breads(**changes):
    """Loaves at 230 °C and rolls at 190 °C that share an oven of twenty places."""
    return work(LOAF, recipe(ROLLS, key="rolls"), ovens=ovens(20), **changes)


def test_an_oven_is_turned_as_soon_as_the_load_before_is_out():
    scheduled, solved = planned(two_breads())
    turn = {task.key: task for task in ahead_of(scheduled, solved.plan)}["turn0|O1"]
    loads = sorted(solved.plan.loads, key=lambda load: load.start)
    [(first, second)] = [
        (one, other) for one, other in pairwise(loads) if one.temperature_c > other.temperature_c
    ]
    assert (turn.starts, turn.ready_by) == (first.end, second.start)
    assert (first.temperature_c, turn.temperature_c) == (230, 190)
    assert turn.title == "Turn O1 down"
    assert turn.why == "For the next load: Rolls. It takes about 8 min to change."


def test_an_oven_is_turned_after_the_break_where_the_instructor_is_alone():
    """The loaves are out at 13:55, in the break from 13:53 to 13:57; the rolls come at 14:30."""
    slow = (*ROLLS[:2], step("bulk", 0, 120, 26), *ROLLS[3:])
    quiet = {"shown": 0, "benches": 1}
    class_work = work(
        recipe(**quiet),
        recipe(slow, key="rolls", **quiet),
        ovens=ovens(20),
        assistants=0,
        hours=Hours(300, break_at=233, break_min=4),
    )
    _, solved = planned(class_work)
    assert [clock(load.start) for load in solved.plan.loads] == ["13:25", "14:30"]
    assert times(ahead(class_work)["turn0|O1"]) == ("13:57", "13:58")


def test_an_oven_between_loads_of_one_temperature_is_left_alone():
    made = ahead(work(ovens=ovens(7), room={"cabinet_places": 40}))
    assert [key for key in made if key.startswith("turn")] == []


def test_the_cabinet_is_warm_when_the_first_dough_goes_in():
    class_work = work()
    scheduled, solved = planned(class_work)
    mixed = min(
        solved.plan.end(scheduled.problem, key) for key in solved.plan.slots if key[:3] == "mix"
    )
    on = ahead(class_work)["cabinet"]
    assert (on.ready_by, on.starts, on.temperature_c) == (mixed, mixed - 30, 25)
    assert "Later dough wants 26 °C." in on.text


def test_the_cabinet_is_set_to_what_the_kitchen_says():
    on = ahead(work(room={"cabinet_c": Decimal("28.5")}))["cabinet"]
    assert on.temperature_c == Decimal("28.5")
    assert "Later" not in on.text


def test_a_class_that_lets_dough_rise_on_the_bench_leaves_the_cabinet_off():
    assert "cabinet" not in ahead(work(room={"rises_in": RisesIn.BENCH}))
