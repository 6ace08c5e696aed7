"""What is done before it is needed: when, by whom, and nobody in two places at once."""

from dataclasses import replace
from decimal import Decimal

import pytest

from classes.core.hours.ahead.diary import Diary, degrees, sentences, spelled
from classes.core.hours.ahead.everything import ASSISTANT, INSTRUCTOR, AheadTask
from classes.core.hours.problem.values import Hours, Room
from tests.classes.core.hours.ahead.ahead_times import BATARD, SOFT, ahead, first_start, times
from tests.classes.core.hours.demo_classes import HEARTH, ROLLS, clock, planned, recipe, step, work

# What recipes prepare


def prepared(*steps, **changes):
    """What is done for a loaf with these steps before it is mixed."""
    return ahead(work(recipe((*steps, *HEARTH)), **changes))


def test_a_poolish_is_ripe_when_the_first_dough_is_mixed():
    class_work = work(BATARD)
    task = ahead(class_work)["prepare0|batard"]
    assert task.ready_by == first_start(class_work, "mix")
    assert task.ready_by - task.starts == 720
    assert task.why == "Ripe for the first mixing: 12 h at 20 °C."


def test_a_night_of_another_temperature_is_said_beside_the_recipes_own_time():
    task = ahead(work(BATARD, room={"night_c": Decimal(16)}))["prepare0|batard"]
    assert task.why == (
        "Ripe for the first mixing: 12 h at 20 °C in the recipe, 16 h 7 min at 16 °C."
    )


def test_a_preferment_of_some_hours_stands_in_the_room_of_the_day():
    task = prepared(step("prepare", 5, 180, 21), room={"night_c": Decimal(10)})["prepare0|loaf"]
    assert (task.ready_by - task.starts, task.temperature_c) == (180, 21)


def test_where_nothing_ripens_at_night_the_preferment_is_kept_warm():
    task = ahead(work(BATARD, room={"night_c": Decimal(1)}))["prepare0|batard"]
    assert (task.ready_by - task.starts, task.temperature_c) == (720, 20)
    assert task.text == "Stir the poolish. At 1 °C nothing ripens: keep it warm."


def test_a_soaker_in_the_refrigerator_takes_its_own_time_and_keeps_its_temperature():
    task = prepared(step("prepare", 5, 600, 4), room={"night_c": Decimal(16)})["prepare0|loaf"]
    assert task.ready_by - task.starts - task.hands_min == 600
    assert task.temperature_c == 4


def test_a_roux_that_is_cooked_is_no_preferment():
    task = prepared(step("prepare", 10, 15, 65))["prepare0|loaf"]
    assert times(task) == ("09:45", "09:55")
    assert task.why == "It stands 15 min. It is weighed out for the first mixing."


def test_a_roux_is_done_before_the_class_begins_and_before_it_is_weighed():
    task = ahead(work(SOFT))["prepare0|rolls"]
    assert times(task) == ("09:50", "10:00")
    assert task.ready_by == first_start(work(SOFT), "weigh")


def test_a_roux_is_done_before_the_weighing_of_a_class_without_welcome():
    dry = replace(SOFT, chills=False)
    task = ahead(work(dry, hours=Hours(240, welcome_min=0)))["prepare0|rolls"]
    assert (times(task), clock(task.ready_by)) == (("09:50", "10:00"), "10:00")


def test_steps_that_prepare_follow_one_another_backward():
    made = prepared(step("prepare", 5, 480, 22), step("prepare", 5, 240, 24), step("prepare", 10))
    build, feed, roux = (made[f"prepare{n}|loaf"] for n in range(3))
    assert (build.ready_by, feed.ready_by) == (feed.starts, roux.starts)
    assert build.starts < feed.starts < roux.starts < 0


def test_a_preparing_step_in_the_middle_of_the_class_is_not_ahead():
    made = ahead(work(recipe((*HEARTH[:2], step("prepare", 3), *HEARTH[2:]))))
    assert [key for key in made if key.startswith("prepare")] == []


def test_a_recipe_without_mixing_needs_nothing_ready_for_it():
    made = ahead(work(recipe((step("prepare", 5, 720, 20), *HEARTH[1:]), softens_butter=True)))
    assert {key.partition("|")[0] for key in made} == {"on", "cabinet"}


@pytest.mark.parametrize(("room_c", "minutes"), [("21", 60), ("24.9", 60), ("25", 30), ("31", 30)])
def test_butter_comes_out_an_hour_before_mixing_and_later_in_a_warm_room(room_c, minutes):
    class_work = work(SOFT, room={"room_c": Decimal(room_c)})
    task = ahead(class_work)["butter|rolls"]
    assert task.ready_by == first_start(class_work, "mix")
    assert task.ready_by - task.starts == minutes
    assert "common practice" in task.why


def test_what_is_chilled_stays_cold_until_it_is_weighed():
    task = ahead(work(SOFT))["chilled|rolls"]
    assert times(task) == ("10:09", "10:10")
    assert task.ready_by == first_start(work(SOFT), "weigh")


def test_what_is_chilled_stays_cold_until_mixing_where_nothing_is_weighed():
    class_work = work(SOFT, hours=Hours(240, weighing_min=0))
    assert ahead(class_work)["chilled|rolls"].ready_by == first_start(class_work, "mix")


def test_a_plain_loaf_needs_neither_butter_nor_cold():
    assert set(ahead(work())) == {"on|O1|O2|O3", "cabinet"}


# Who


def test_on_the_day_an_assistant_does_it_and_the_evening_before_the_instructor():
    made = ahead(work(SOFT, BATARD))
    assert made["prepare0|rolls"].who == ASSISTANT
    assert made["prepare0|batard"].who == INSTRUCTOR


def test_without_an_assistant_all_is_done_by_the_instructor():
    assert {task.who for task in ahead(work(SOFT, assistants=0)).values()} == {INSTRUCTOR}


def test_the_instructor_does_it_before_a_part_in_the_class_begins():
    """What is chilled is due at 10:10, when all are still welcomed; before it goes the roux."""
    made = ahead(work(SOFT, assistants=0))
    assert times(made["chilled|rolls"]) == ("09:59", "10:00")
    assert times(made["prepare0|rolls"]) == ("09:49", "09:59")


@pytest.mark.parametrize(("assistants", "apart"), [(1, 10), (2, 0)])
def test_one_person_does_one_thing_at_a_time(assistants, apart):
    rings = recipe(ROLLS, key="rings")
    made = ahead(work(recipe(ROLLS, key="rolls"), rings, assistants=assistants))
    starts = [made[f"prepare0|{key}"].starts for key in ("rolls", "rings")]
    assert starts[0] - starts[1] == apart


def diary_of(**changes):
    scheduled, solved = planned(work(**changes))
    return Diary(scheduled, solved.plan)


TURN = AheadTask("turn", "Turn", "", "", starts=2, hands_min=1, ready_by=20)


def test_what_cannot_be_earlier_waits_until_somebody_is_free():
    assert diary_of(assistants=0).enter_between(TURN, 12).starts == 10


def test_what_cannot_be_earlier_or_later_is_done_in_passing():
    done = diary_of(assistants=0).enter_between(TURN, 8)
    assert (done.starts, done.hands_min, done.who) == (2, 0, INSTRUCTOR)


def test_an_assistant_is_free_while_the_instructor_welcomes():
    done = diary_of(assistants=1).enter_between(TURN, 8)
    assert (done.starts, done.hands_min, done.who) == (2, 1, ASSISTANT)


def test_whoever_loads_an_oven_does_nothing_else_meanwhile():
    scheduled, solved = planned(work(assistants=0))
    [load] = solved.plan.loads_of["bake4|loaf|Demonstration"]
    task = replace(TURN, starts=load.start + 1, ready_by=300)
    assert Diary(scheduled, solved.plan).enter(task).starts == load.start - 1


# Words


@pytest.mark.parametrize(
    ("minutes", "said"), [(0, "0 min"), (40, "40 min"), (60, "1 h"), (967, "16 h 7 min")]
)
def test_a_duration_is_said_in_hours_and_minutes(minutes, said):
    assert spelled(minutes) == said


@pytest.mark.parametrize(
    ("celsius", "said"), [("20.0", "20 °C"), ("25.50", "25.5 °C"), ("0", "0 °C"), ("-5", "−5 °C")]
)
def test_a_temperature_is_said_without_idle_zeros(celsius, said):
    assert degrees(Decimal(celsius), Room(Decimal(21), Decimal(21))) == said


def test_sentences_end_with_one_full_stop():
    assert sentences("Mix", "", " Rest it. ", "Done!") == "Mix. Rest it. Done!"
