"""The figures of the demo scenario, worked by hand, and what the plan makes of them."""

from dataclasses import replace
from decimal import Decimal

import pytest

from classes.core.demand import DEMONSTRATION
from classes.core.hours.ahead.everything import ahead_of
from classes.core.hours.checking.verdict import VerdictKind, verdict_of
from classes.core.hours.problem.notes import Doing
from classes.core.hours.problem.values import Hours
from classes.selectors import class_plan
from tests.classes.core.hours.demo_classes import TWO_DAYS, clock, ovens, planned, recipe, work
from tests.classes.core.hours.rules import faults
from tests.classes.demo_class import demo_class

# Demo scenario, worked by hand: each end is the start before it and the minutes of the step.
BASE = {
    "mix done": "10:55",
    "bulk to": "12:15",
    "shape to": "12:30",
    "proof to": "13:10",
    "bake to": "13:40",
    "ready": "13:55",
}
PREHEAT_FROM = "12:35"
LOAVES = 13
WATCHED = {"Welcome and cautions", "Weigh", "Watch: mix"}


def base_times(scheduled, plan):
    """When each step of the demonstration's loaf ends, as the scenario counts them."""
    problem = scheduled.problem

    def ends(what):
        return plan.end(problem, f"{what}|{scheduled.work.recipes[0].key}|{DEMONSTRATION}")

    def starts(what):
        return plan.start(problem, f"{what}|{scheduled.work.recipes[0].key}|{DEMONSTRATION}")

    return {
        "mix done": clock(ends("mix0")),
        "bulk to": clock(starts("divide2")),
        "shape to": clock(ends("divide2")),
        "proof to": clock(starts("bake4")),
        "bake to": clock(ends("bake4")),
        "ready": clock(plan.ready(problem)),
    }


def rounds(plan):
    """How many loads the busiest oven bakes."""
    loads = [load.oven for load in plan.loads]
    return max(loads.count(oven) for oven in loads)


def tasks_of(scheduled, solved, key):
    return [one for one in ahead_of(scheduled, solved.plan) if one.key.startswith(key)]


def test_the_base_class_goes_by_the_times_of_the_scenario():
    scheduled, solved = planned(work())
    assert base_times(scheduled, solved.plan) == BASE
    assert solved.proved
    assert faults(scheduled.problem, solved.plan) == ()


def test_everybody_has_bread_when_the_demonstration_has():
    scheduled, solved = planned(work())
    ends = [solved.plan.end(scheduled.problem, one.key) for one in scheduled.problem.bakings]
    assert [clock(end) for end in ends] == [BASE["bake to"]] * 4


def test_the_ovens_of_the_base_class_are_turned_on_in_time():
    [on] = tasks_of(*planned(work()), "on|")
    assert (clock(on.starts), clock(on.ready_by)) == (PREHEAT_FROM, BASE["proof to"])
    assert on.title == "Turn on O1, O2 and O3"


def test_thirteen_loaves_bake_in_one_round_of_all_three_ovens():
    _, solved = planned(work())
    assert sum(load.filled for load in solved.plan.loads) == LOAVES
    assert {load.oven for load in solved.plan.loads} == {"O1", "O2", "O3"}
    assert rounds(solved.plan) == 1


def test_one_place_in_the_third_oven_is_enough_for_them():
    _, solved = planned(work(ovens=ovens(6, 6, 1)))
    assert (clock(solved.ready), rounds(solved.plan)) == (BASE["ready"], 1)


def test_without_the_third_oven_a_loaf_waits_for_a_second_round():
    _, solved = planned(work(ovens=ovens(6, 6)))
    assert rounds(solved.plan) == 2
    assert solved.bound > 235


def test_25_bakers_need_two_rounds_in_15_places():
    """By hand: the second load goes in 5 min after the first, at 13:45, and is cool at 14:30."""
    room = {"cabinet_places": 30}
    _, solved = planned(work(recipe(benches=6), room=room))
    assert sum(load.filled for load in solved.plan.loads) == 24 + 1
    assert rounds(solved.plan) == 2
    assert (clock(solved.ready), solved.proved) == ("14:30", True)


def test_the_same_class_in_three_hours_does_not_fit():
    scheduled, solved = planned(work(hours=Hours(180)))
    verdict = verdict_of(scheduled, solved)
    assert verdict.kind is VerdictKind.DOES_NOT_FIT
    assert (verdict.slack_min, verdict.proved) == (180 - 235, True)


def test_what_decides_the_three_hours_is_the_dough_from_mixing_to_cooling():
    scheduled, solved = planned(work(hours=Hours(180)))
    critical = verdict_of(scheduled, solved).critical
    assert [link.title for link in critical if link.title not in WATCHED] == [
        "Mix", "Bulk fermentation", "Divide and shape", "Proof", "Bake", "Cool",
    ]  # fmt: skip
    assert sum(link.ends - link.starts for link in critical) == 235


# Demo scenario, worked by hand: 12 h at 20 °C, and 720 x 2^(4 / 9.4) = 967 min at 16 °C.
@pytest.mark.parametrize(
    ("night_c", "starts"), [(20, "-1 22:30"), (16, "-1 18:23")], ids=["20 °C", "16 °C"]
)
def test_the_poolish_of_the_two_day_dough_starts_the_evening_before(night_c, starts):
    dough = recipe(TWO_DAYS, benches=2, piece_g=600)
    room = {"night_c": Decimal(night_c)}
    scheduled, solved = planned(work(dough, hours=Hours(300, welcome_min=5), room=room))
    mixings = [
        solved.plan.start(scheduled.problem, key)
        for key, note in scheduled.notes.items()
        if note.title == "Mix" and note.doing is Doing.HANDS
    ]
    assert clock(min(mixings)) == "10:30"
    [poolish] = tasks_of(scheduled, solved, "prepare0|")
    assert (clock(poolish.starts), clock(poolish.ready_by)) == (starts, "10:30")
    assert (poolish.who, poolish.temperature_c) == ("Instructor", night_c)
    assert poolish.text == "Stir the poolish."


@pytest.mark.django_db
class TestTheDemoInTheDatabase:
    def test_it_goes_by_the_times_of_the_scenario(self):
        hours = class_plan(demo_class()).hours
        assert base_times(hours.scheduled, hours.solved.plan) == BASE
        assert f"{hours.at(hours.solved.ready):%H:%M}" == BASE["ready"]
        assert hours.slack_min == 5

    def test_it_turns_the_ovens_on_by_the_clock_of_the_scenario(self):
        hours = class_plan(demo_class()).hours
        [on] = tasks_of(hours.scheduled, hours.solved, "on|")
        assert f"{hours.at(on.starts):%H:%M}" == PREHEAT_FROM
        assert "O2: about 20 °C (36 °F) less, for the fan." in on.text

    def test_the_work_by_hand_is_the_work_from_the_rows(self):
        from_rows = class_plan(demo_class()).hours.scheduled.work
        by_hand = work()
        assert from_rows.hours == by_hand.hours
        assert from_rows.stations == by_hand.stations
        assert from_rows.mixers == by_hand.mixers
        assert from_rows.assistants == by_hand.assistants
        assert [one.slots for one in from_rows.ovens] == [one.slots for one in by_hand.ovens]
        [rows], [hand] = from_rows.recipes, by_hand.recipes
        assert [replace(one, text="") for one in rows.steps] == [
            replace(one, text="") for one in hand.steps
        ]
        assert (rows.groups, rows.demonstration) == (hand.groups, hand.demonstration)
        assert rows.mixing is hand.mixing
