"""What is done before it is needed: when, by whom, and nobody in two places at once."""

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from classes.core.hours.ahead.diary import (
    Diary,
    degrees,
    sentences,
    spelled,
)
from classes.core.hours.ahead.everything import (
    ASSISTANT,
    INSTRUCTOR,
    AheadTask,
    ahead_of,
)
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.values import (
    Hours,
    Mixing,
    RisesIn,
    Stage,
)
from tests.classes.core.hours.demo_classes import (
    HEARTH,
    ROLLS,
    TWO_DAYS,
    clock,
    ovens,
    planned,
    recipe,
    step,
    work,
)

LOAF = recipe()
BATARD = recipe(TWO_DAYS, key="batard")
SOFT = recipe(ROLLS, key="rolls", softens_butter=True, chills=True)


def ahead(class_work):
    """What is done ahead of a class, by key."""
    scheduled, solved = planned(class_work)
    return {task.key: task for task in ahead_of(scheduled, solved.plan)}


def first_start(class_work, what):
    """When the first task of a key that begins so starts in the class."""
    _, solved = planned(class_work)
    return min(slot.start for key, slot in solved.plan.slots.items() if key.startswith(what))


def times(task):
    """From when to when hands are at a task."""
    return clock(task.starts), clock(task.starts + task.hands_min)


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


# Ovens and the cabinet


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
    assert "O2: about 20 °C less, for the fan." in made["on|O1|O2|O3"].text


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


# Doughs that the instructor brings; the times by hand, from the class at the end of each line


def brings(*stages, steps=HEARTH, **changes):
    return work(recipe(steps, brings=frozenset(stages)), **changes)


def test_a_mixed_dough_is_ready_before_the_class_takes_it_up():
    """Taken up at 10:10, after the welcome: mixed until 10:00, then ten minutes in the cold."""
    task = ahead(brings(Stage.MIXED))["mixed|mix0|loaf"]
    assert (times(task), clock(task.ready_by)) == (("09:40", "10:00"), "10:10")
    assert task.text.endswith("Then keep it cold for 10 min.")
    assert task.who == INSTRUCTOR


def test_a_risen_dough_is_through_its_first_rise_when_the_class_divides():
    """Divided at 11:00 after 80 min, with the fold after 37: mixed until 9:40."""
    made = ahead(brings(Stage.RISEN))
    mix, fold = made["risen|mix0|loaf"], made["risen|bulk1|loaf"]
    assert first_start(brings(Stage.RISEN), "divide") == 60
    assert (times(mix), times(fold)) == (("09:20", "09:40"), ("10:17", "10:22"))
    assert (mix.who, fold.who) == (INSTRUCTOR, ASSISTANT)


def test_shaped_pieces_wait_in_the_cold_until_their_proof():
    """Baked at 12:30 after 40 min: out of the cold at 11:50, shaped until the class begins."""
    made = ahead(brings(Stage.SHAPED))
    shape, out = made["shaped|divide2|loaf"], made["shaped|out2|loaf"]
    assert times(shape) == ("09:45", "10:00")
    assert shape.text.endswith("Then keep it cold for 1 h 50 min.")
    assert (clock(out.ready_by), out.who) == ("11:50", ASSISTANT)
    assert out.why == "It has 40 min to go by the recipe."
    assert times(made["shaped|mix0|loaf"]) == ("08:05", "08:25")


def test_a_few_minutes_are_not_worth_a_way_to_the_refrigerator_and_back():
    """Divided at 11:00 after 55 min: mixed until 10:05, but the class begins at 10:00."""
    steps = (HEARTH[0], step("bulk", 0, 55, 25), *HEARTH[2:])
    made = ahead(brings(Stage.RISEN, steps=steps))
    assert made["risen|mix0|loaf"].text.endswith("Then keep it cold for 5 min.")
    assert not [key for key in made if key.startswith("risen|out")]


def test_a_brought_dough_says_how_much_of_it_is_for_whom():
    text = ahead(brings(Stage.RISEN))["risen|mix0|loaf"].text
    assert "13 pieces, 6760 g of dough without handling loss" in text
    assert "1 for Demonstration, 4 for Bench 1, 4 for Bench 2 and 4 for Bench 3." in text


def test_a_single_piece_is_named_as_one():
    class_work = work(recipe(benches=0, brings=frozenset({Stage.RISEN})))
    assert "1 piece, 520 g of dough" in ahead(class_work)["risen|mix0|loaf"].text


def test_a_brought_dough_has_a_preferment_of_its_own():
    made = ahead(brings(Stage.RISEN, steps=TWO_DAYS))
    own, in_class = made["risen|prepare0|loaf"], made["prepare0|loaf"]
    assert own.ready_by == made["risen|mix0|loaf"].starts
    assert own.ready_by - own.starts == 720
    assert in_class.ready_by == first_start(brings(Stage.RISEN, steps=TWO_DAYS), "mix")
    assert own.why == "Ripe for the Loaf that you bring risen: 12 h at 20 °C."


def test_butter_for_a_brought_dough_comes_out_at_home():
    soft = recipe(brings=frozenset({Stage.RISEN}), softens_butter=True, chills=True)
    made = ahead(work(soft))
    assert made["risen|butter|loaf"].ready_by == made["risen|mix0|loaf"].starts
    assert made["risen|butter|loaf"].who == INSTRUCTOR
    assert "risen|chilled|loaf" not in made


def test_rests_and_second_mixings_at_home_take_their_written_times():
    """By hand: 10 min, 30 min of rest and 20 min are an hour until the class begins."""
    steps = (step("mix", 10), step("rest", 0, 30), *HEARTH)
    made = ahead(brings(Stage.RISEN, steps=steps))
    assert times(made["risen|mix0|loaf"]) == ("09:00", "09:10")
    assert times(made["risen|mix2|loaf"]) == ("09:40", "10:00")


@pytest.mark.parametrize(
    ("stage", "without"), [(Stage.MIXED, "mix"), (Stage.RISEN, "bulk"), (Stage.SHAPED, "proof")]
)
def test_a_stage_that_the_recipe_never_reaches_is_not_prepared(stage, without):
    steps = tuple(one for one in HEARTH if one.kind != without)
    assert not [key for key in ahead(brings(stage, steps=steps)) if key.startswith(stage)]


# Whatever the class


@st.composite
def classes(draw):
    """One or two breads of the demo with all that can be set about them and their class."""
    kinds = draw(st.lists(st.sampled_from([HEARTH, TWO_DAYS, ROLLS]), min_size=1, max_size=2))
    recipes = [
        recipe(
            steps,
            key=f"bread{n}",
            benches=draw(st.integers(0, 3)),
            shown=draw(st.integers(0, 1)),
            mixing=draw(st.sampled_from(Mixing)),
            brings=draw(st.frozensets(st.sampled_from(Stage), max_size=2)),
            softens_butter=draw(st.booleans()),
            chills=draw(st.booleans()),
        )
        for n, steps in enumerate(kinds)
    ]
    return work(
        *recipes,
        hours=Hours(240, welcome_min=draw(st.sampled_from([0, 10])), show_min=5),
        room={
            "room_c": Decimal(draw(st.integers(16, 30))),
            "night_c": Decimal(draw(st.integers(0, 30))),
            "rises_in": draw(st.sampled_from(RisesIn)),
            "cabinet_places": 60,
        },
        ovens=ovens(*draw(st.lists(st.integers(2, 8), min_size=1, max_size=3))),
        assistants=draw(st.integers(0, 2)),
    )


def attempt(class_work):
    """The class planned, unless its loaves do not all fit while they last."""
    scheduled = schedule_of(class_work)
    try:
        return scheduled, plan_greedily(scheduled.problem).plan
    except CannotPlace:
        assume(False)
        raise


def most_at_once(spans):
    """How many of the spans overlap at the busiest minute."""
    return max(
        (sum(start <= minute < end for start, end in spans) for minute, _ in spans), default=0
    )


def hands(tasks, who):
    return [(one.starts, one.starts + one.hands_min) for one in tasks if one.who == who]


@given(classes())
def test_everything_is_done_when_it_is_needed(class_work):
    tasks = ahead_of(*attempt(class_work))
    assert all(task.starts + task.hands_min <= task.ready_by for task in tasks)
    assert all(task.title and task.why and task.text for task in tasks)
    assert len({task.key for task in tasks}) == len(tasks)
    assert [task.starts for task in tasks] == sorted(task.starts for task in tasks)


@given(classes())
def test_nobody_has_hands_in_two_places(class_work):
    tasks = ahead_of(*attempt(class_work))
    assert most_at_once(hands(tasks, INSTRUCTOR)) <= 1
    assert most_at_once(hands(tasks, ASSISTANT)) <= class_work.assistants
    assert {task.who for task in tasks} <= {INSTRUCTOR, ASSISTANT}


@given(classes())
def test_the_instructor_misses_no_part_of_the_class(class_work):
    scheduled, plan = attempt(class_work)
    in_class = [
        (plan.slots[task.key].start, plan.end(scheduled.problem, task.key))
        for task in scheduled.problem.tasks
        if any(use.resource == "instructor" for use in task.ways[0].uses)
    ]
    for start, end in hands(ahead_of(scheduled, plan), INSTRUCTOR):
        assert not [one for one in in_class if max(start, one[0]) < min(end, one[1])]


@given(classes())
def test_all_but_folds_of_brought_doughs_is_done_before_the_class(class_work):
    for task in ahead_of(*attempt(class_work)):
        stage, _, what = task.key.partition("|")
        if stage in set(Stage) and what.startswith(("mix", "divide", "prepare")):
            assert task.starts + task.hands_min <= 0
            assert task.who == INSTRUCTOR


# Words


@pytest.mark.parametrize(
    ("minutes", "said"), [(0, "0 min"), (40, "40 min"), (60, "1 h"), (967, "16 h 7 min")]
)
def test_a_duration_is_said_in_hours_and_minutes(minutes, said):
    assert spelled(minutes) == said


@pytest.mark.parametrize(
    ("celsius", "said"), [("20.0", "20 °C"), ("25.50", "25.5 °C"), ("0", "0 °C"), ("-5", "-5 °C")]
)
def test_a_temperature_is_said_without_idle_zeros(celsius, said):
    assert degrees(Decimal(celsius)) == said


def test_sentences_end_with_one_full_stop():
    assert sentences("Mix", "", " Rest it. ", "Done!") == "Mix. Rest it. Done!"
