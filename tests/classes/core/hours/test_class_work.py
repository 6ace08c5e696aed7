"""Each rule by which a class becomes tasks, bakings, stays and waits."""

from dataclasses import replace
from decimal import Decimal

import pytest

from classes.core.demand import DEMONSTRATION
from classes.core.hours.problem.chain import IDLE_MOST_MIN
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.doughs import WATCHED_MOST_MIN
from classes.core.hours.problem.keys import INSTRUCTOR, hands_key, mixer_key
from classes.core.hours.problem.notes import EVERYBODY, Doing
from classes.core.hours.problem.rising import Window, on_the_bench, rise_of
from classes.core.hours.problem.steps import first_mix, in_class, is_ahead, steps_behind
from classes.core.hours.problem.values import ClassWork, Hours, MixerKind, Mixing, RisesIn
from classes.core.hours.problem.work import Lag, Resource, Since, Stay, Use
from classes.core.keys import Stage
from recipes.core.choices import StepKind
from recipes.core.errors import NoGrowth
from tests.classes.core.hours.demo_classes import (
    HALL,
    HEARTH,
    ROLLS,
    TWO_DAYS,
    planned,
    recipe,
    step,
    work,
)
from tests.classes.core.hours.rules import faults

ALL_HANDS = {INSTRUCTOR, "hands|Bench 1", "hands|Bench 2", "hands|Bench 3"}
MIX, BULK, DIVIDE, PROOF, SCORE, BAKE, COOL = HEARTH


def problem(*recipes, **changes):
    return schedule_of(work(*recipes, **changes)).problem


def of(made, what, who="Bench 1", key="loaf"):
    """A task or baking of somebody's loaf."""
    return made.items[f"{what}|{key}|{who}"]


def after(made, what, who="Bench 1", key="loaf"):
    """What it waits for: (the first part of the other's key, least, most)."""
    return {
        (lag.task.partition("|")[0], lag.least, lag.most) for lag in of(made, what, who, key).after
    }


def uses(task, way=0):
    return {use.resource for use in task.ways[way].uses}


def kinds(made):
    """The first parts of all keys."""
    return {key.partition("|")[0] for key in made.items}


def loaf(*steps, **changes):
    return recipe(steps, **changes)


# Steps


def test_preparing_before_the_first_mixing_is_ahead_of_the_class():
    first, later = step("prepare", 5, 720, 20), step("prepare", 5)
    bread = loaf(first, MIX, later, BAKE)
    assert [is_ahead(bread, one) for one in bread.steps] == [True, False, False, False]
    assert in_class(bread) == (MIX, later, BAKE)


def test_preparing_is_not_ahead_of_anything_where_nothing_is_mixed():
    wash = step("prepare", 5)
    bread = loaf(wash, BAKE)
    assert first_mix(bread) is None
    assert in_class(bread) == (wash, BAKE)


@pytest.mark.parametrize(
    ("stage", "behind"), [(Stage.MIXED, 1), (Stage.RISEN, 2), (Stage.SHAPED, 4)]
)
def test_a_brought_dough_has_the_steps_of_its_stage_behind_it(stage, behind):
    assert steps_behind(HEARTH, stage) == behind
    assert steps_behind((BAKE,), stage) == 0


def test_a_dough_is_mixed_before_its_first_rise():
    assert steps_behind((MIX, step("rest", 0, 20), MIX, BULK, MIX, BULK), Stage.MIXED) == 3
    assert steps_behind((MIX, MIX, DIVIDE), Stage.MIXED) == 2


# Fixed points


def test_everybody_is_welcomed_at_the_start():
    [welcome] = [one for one in problem(work().recipes[0]).tasks if one.key == "welcome"]
    assert (welcome.earliest, welcome.latest, welcome.ways[0].minutes) == (0, 0, 10)
    assert uses(welcome) == ALL_HANDS


def test_the_break_has_its_time_and_stops_everybody():
    made = problem(hours=Hours(240, break_at=100, break_min=15))
    pause = made.items["break"]
    assert (pause.earliest, pause.latest, pause.ways[0].minutes) == (100, 100, 15)
    assert uses(pause) == ALL_HANDS


@pytest.mark.parametrize("hours", [Hours(240), Hours(240, break_at=100), Hours(240, break_min=9)])
def test_a_class_without_a_time_or_minutes_for_it_has_no_break(hours):
    assert "break" not in problem(hours=hours).items


def test_nobody_works_in_the_break():
    scheduled, solved = planned(work(hours=Hours(300, break_at=60, break_min=15)))
    spans = [
        (solved.plan.start(scheduled.problem, one.key), solved.plan.end(scheduled.problem, one.key))
        for one in scheduled.problem.tasks
        if one.key != "break"
    ]
    assert [span for span in spans if span[0] < 75 and span[1] > 60] == []


def test_fixed_points_of_no_minutes_are_left_out():
    made = problem(hours=Hours(240, 0, 0, 0, 0))
    assert kinds(made) == {"mix0", "fold1", "divide2", "bake4"}
    assert of(made, "mix0").after == ()


def test_every_group_weighs_after_the_welcome_before_it_mixes():
    made = problem()
    assert after(made, "weigh") == {("welcome", 0, None)}
    assert of(made, "weigh").ways[0].minutes == 20
    assert ("weigh", 0, None) in after(made, "mix0")


def test_the_demonstration_weighs_nothing_in_class():
    assert f"weigh|loaf|{DEMONSTRATION}" not in problem().items


def test_each_station_cleans_up_when_it_has_loaded_and_done_all_else():
    made = problem(work().recipes[0], recipe(ROLLS, key="rolls"))
    clean = made.items["clean|Bench 1"]
    loaded = {lag for lag in clean.after if lag.since is Since.START}
    assert loaded == {
        Lag("bake4|loaf|Bench 1", 5, since=Since.START),
        Lag("bake4|rolls|Bench 1", 5, since=Since.START),
    }
    done = {lag.task for lag in clean.after} - {lag.task for lag in loaded}
    assert done == {one.key for one in made.tasks if one.key.endswith("|Bench 1")} - {clean.key}


def test_nobody_cleans_up_a_bench_before_its_bread_is_in_the_oven():
    scheduled, solved = planned(work())
    for name in scheduled.work.stations:
        load = solved.plan.last_start(scheduled.problem, f"bake4|loaf|{name}")
        assert solved.plan.slots[f"clean|{name}"].start >= load + 5


# What everybody watches


def test_what_is_shown_comes_before_everybody_does_it():
    made = problem()
    for who in (DEMONSTRATION, "Bench 1", "Bench 3"):
        assert ("show", 0, WATCHED_MOST_MIN if who == DEMONSTRATION else None) in after(
            made, "mix0", who
        )
    show = made.items["show|mix|loaf"]
    assert (uses(show), show.ways[0].minutes) == (ALL_HANDS, 5)
    assert {lag.task for lag in show.after} == {f"weigh|loaf|Bench {n}" for n in (1, 2, 3)}


def test_shaping_is_shown_after_the_lead_dough_was_folded():
    made = problem()
    assert {lag.task for lag in made.items["show|divide|loaf"].after} == {
        f"fold1|loaf|{DEMONSTRATION}"
    }
    assert ("show", 0, WATCHED_MOST_MIN) in after(made, "divide2", DEMONSTRATION)


def test_watching_is_said_of_everybody():
    scheduled = schedule_of(work())
    note = scheduled.notes["show|mix|loaf"]
    assert (note.who, note.doing, note.title) == (EVERYBODY, Doing.WATCH, "Watch: mix")


@pytest.mark.parametrize(
    "changes", [{"hours": Hours(240, show_min=0)}, {"recipes": (recipe(shown=0),)}]
)
def test_without_minutes_or_a_demonstration_nothing_is_shown(changes):
    class_work = replace(work(), **changes)
    assert "show" not in kinds(schedule_of(class_work).problem)


def test_a_second_mixing_or_shaping_is_not_tied_to_what_was_shown_before_the_first():
    made = problem(
        loaf(
            step("mix", 5), step("rest", 0, 30), step("mix", 15), BULK,
            step("divide", 10), step("rest", 0, 20), step("divide", 5), *HEARTH[3:],
        )
    )  # fmt: skip
    assert len([key for key in made.items if key.startswith("show|")]) == 2
    assert after(made, "mix2", DEMONSTRATION) == {("mix0", 30, 45), ("show", 0, None)}
    assert after(made, "divide6", DEMONSTRATION) == {("divide4", 20, 30), ("show", 0, None)}


# Mixing


def mixed(mixing, who="Bench 1", **changes):
    """The ways of mixing 4 x 520 g in mixers for 2 kg."""
    values = {"mixers": (MixerKind(2000, 2),)} | changes.pop("kitchen", {})
    return of(problem(recipe(mixing=mixing, **changes), **values), "mix0", who).ways


def test_mixing_by_hand_takes_the_hands_alone():
    [way] = mixed(Mixing.HAND)
    assert (way.minutes, way.uses) == (20, (Use("hands|Bench 1"),))


def test_what_is_shown_is_mixed_by_mixer_and_the_rest_by_hand():
    [shown], [own] = mixed(Mixing.SHOWN, DEMONSTRATION), mixed(Mixing.SHOWN)
    assert {use.resource for use in shown.uses} == {INSTRUCTOR, mixer_key(2000)}
    assert own.uses == (Use("hands|Bench 1"),)


def test_dough_that_is_too_much_for_a_mixer_is_mixed_in_turns():
    """By hand: 2080 g are two turns of 2000 g, so twice 20 min."""
    [way] = mixed(Mixing.MIXER)
    assert way.minutes == 40
    [small] = mixed(Mixing.MIXER, piece_g=500)
    assert small.minutes == 20


@pytest.mark.parametrize(("stiff", "turns"), [(False, 1), (True, 2)])
def test_a_mixer_holds_a_tenth_less_of_stiff_dough(stiff, turns):
    """By hand: 4 x 475 are 1900 g, in a mixer for 2000 g or for 1800 g of stiff dough."""
    [way] = mixed(Mixing.MIXER, piece_g=475, stiff=stiff)
    assert way.minutes == turns * 20


@pytest.mark.parametrize(("piece_g", "turns"), [(450, 1), (451, 2)])
def test_a_mixer_takes_stiff_dough_up_to_nine_tenths_exactly(piece_g, turns):
    [way] = mixed(Mixing.MIXER, piece_g=piece_g, stiff=True)
    assert way.minutes == turns * 20


def test_every_size_of_mixer_is_a_way_of_its_own():
    ways = mixed(Mixing.MIXER, kitchen={"mixers": (MixerKind(5000, 1), MixerKind(700, 2))})
    assert [way.minutes for way in ways] == [20, 60]
    assert [way.uses[1] for way in ways] == [Use(mixer_key(5000)), Use(mixer_key(700))]


def test_in_a_kitchen_without_mixers_all_is_mixed_by_hand():
    [way] = mixed(Mixing.MIXER, kitchen={"mixers": ()})
    assert way.uses == (Use("hands|Bench 1"),)


def test_mixers_of_a_size_are_one_resource_with_their_count():
    made = problem(mixers=(MixerKind(5000, 1), MixerKind(700, 2)))
    assert Resource("mixers|700", "the mixers", 2) in made.resources
    assert made.capacity["mixers|5000"] == 1


def test_two_mixings_both_take_the_mixer():
    made = problem(loaf(step("mix", 5), step("mix", 15), *HEARTH[1:], mixing=Mixing.MIXER))
    assert [mixer_key(2000) in uses(of(made, what)) for what in ("mix0", "mix1")] == [True, True]
    assert ("mix0", 0, IDLE_MOST_MIN) in after(made, "mix1")


# Rises, rests and folds


def test_a_rise_lasts_from_its_target_to_its_latest():
    made = problem(loaf(MIX, step("bulk", 0, 80, 25), *HEARTH[2:]))
    assert ("mix0", 80, 104) in after(made, "divide2")
    assert after(made, "bake4") == {("divide2", 40, 50)}


def test_a_fold_stands_in_the_middle_and_the_whole_rise_keeps_its_window():
    """By hand: (80 - 5) / 2 are 37 min before the fold and 38 after it, 15 less or 24 more."""
    made = problem()
    assert after(made, "fold1") == {("mix0", 37, 52)}
    assert after(made, "divide2") == {("mix0", 80, 104), ("fold1", 23, 62), ("show", 0, None)}
    scheduled = schedule_of(work())
    waits = [
        one for one in scheduled.waits if one.who == "Bench 1" and one.title.startswith("Bulk")
    ]
    assert [(one.after[:4], one.until[:4]) for one in waits] == [("mix0", "fold"), ("fold", "divi")]
    assert waits[0].window == Window(37, 37, 52)
    assert waits[1].window == Window(23, 38, 62)


def test_a_rest_before_a_rise_with_a_fold_is_no_part_of_its_window():
    """By hand: 40 to 60 min of rest are added to the 80 to 104 of the rise."""
    made = problem(loaf(MIX, step("rest", 0, 40), *HEARTH[1:]))
    assert after(made, "fold2") == {("mix0", 40 + 37, 60 + 52)}
    assert ("mix0", 120, 164) in after(made, "divide3")


def test_each_of_two_folds_keeps_the_whole_of_its_rise():
    """By hand: each rise is 45 to 58 min (130 % are 58.5)."""
    made = problem(loaf(MIX, step("bulk", 5, 40, 25), step("bulk", 5, 40, 25), *HEARTH[2:]))
    assert ("mix0", 45 + 20, 58 + 35) in after(made, "fold2")
    assert ("mix0", 90, 116) in after(made, "divide3")


def test_a_fold_that_takes_longer_than_its_rise_is_done_at_once():
    """By hand: 20 min at 25 °C are 12.8 at 31 °C, and the hands need 20."""
    hot = {"rises_in": RisesIn.BENCH, "room_c": Decimal(31)}
    bread = loaf(MIX, step("bulk", 20, 0, 25), *HEARTH[2:], dough_c=Decimal(31))
    class_work = work(bread, room=hot)
    scheduled, solved = planned(class_work)
    made = scheduled.problem
    assert after(made, "fold1") == {("mix0", 0, 15)}
    mixed_at = solved.plan.end(made, "mix0|loaf|Bench 1")
    assert solved.plan.start(made, "fold1|loaf|Bench 1") - mixed_at <= 15


def test_a_bench_rest_is_as_written_and_half_as_long_again_at_most():
    made = problem(loaf(MIX, BULK, DIVIDE, step("rest", 0, 20), step("divide", 5), *HEARTH[3:]))
    assert ("divide2", 20, 30) in after(made, "divide4")


def test_waiting_of_a_step_with_hands_comes_after_the_hands():
    made = problem(loaf(MIX, BULK, step("divide", 10, 20), step("divide", 5), *HEARTH[3:]))
    assert ("divide2", 20, 30) in after(made, "divide3")


def test_work_without_a_wait_between_follows_soon():
    made = problem(loaf(MIX, DIVIDE, BAKE))
    assert after(made, "bake2") == {("divide1", 0, IDLE_MOST_MIN)}


def test_two_rises_without_work_between_are_one_wait():
    """By hand: 40 and 20 min, 52 and 26 at the latest."""
    made = problem(loaf(MIX, step("bulk", 0, 40, 25), step("bulk", 0, 20, 25), *HEARTH[2:]))
    assert ("mix0", 60, 78) in after(made, "divide3")


def test_dough_is_as_warm_as_the_recipe_wants_it_when_it_is_mixed():
    bench = {"rises_in": RisesIn.BENCH, "room_c": Decimal(18)}
    class_work = work(loaf(MIX, step("bulk", 0, 80, 25), *HEARTH[2:]), room=bench)
    [bulk, *_] = schedule_of(class_work).waits
    assert bulk.rise == rise_of(step("bulk", 0, 80, 25), class_work.room, Decimal(25))


def test_dough_cools_on_the_bench_while_it_is_shaped_and_rests():
    bench = {"rises_in": RisesIn.BENCH, "room_c": Decimal(18)}
    rise = step("bulk", 0, 80, 25)
    class_work = work(loaf(MIX, rise, step("divide", 15, 20), *HEARTH[3:]), room=bench)
    scheduled = schedule_of(class_work)
    risen_c = rise_of(rise, class_work.room, Decimal(25)).dough_c
    shaped_c = on_the_bench(risen_c, class_work.room, 15)
    rested_c = on_the_bench(shaped_c, class_work.room, 20)
    [proof] = [one for one in scheduled.waits if one.title == "Proof" and one.who == "Bench 1"]
    assert proof.rise == rise_of(PROOF, class_work.room, rested_c)


def test_dough_that_never_rises_is_refused():
    with pytest.raises(NoGrowth):
        problem(
            loaf(MIX, step("bulk", 0, 900, 25), DIVIDE),
            room={"rises_in": RisesIn.BENCH, "room_c": Decimal(0)},
        )


def test_a_rise_without_minutes_is_no_obstacle():
    _, solved = planned(work(loaf(MIX, step("bulk"), DIVIDE, step("proof"), BAKE)))
    assert solved.ready == 55 + 5 + 15 + 28


# The cabinet and the refrigerator


def stays_of(made, resource):
    return {
        (one.after.partition("|")[0], one.until.partition("|")[0]): one.amount
        for one in made.stays
        if one.resource == resource and one.until.endswith("Bench 1")
    }


def test_bowls_stand_in_the_cabinet_one_a_person_and_shaped_pieces_one_a_place():
    rolls = recipe(ROLLS, pieces_a_place=3)
    pieces = tuple(replace(group, pieces=24) for group in rolls.groups)
    made = problem(replace(rolls, groups=pieces))
    assert stays_of(made, "cabinet") == {("mix0", "divide2"): 4, ("divide2", "bake4"): 8}


def test_a_retarded_dough_stands_in_the_refrigerator():
    made = problem(loaf(MIX, BULK, DIVIDE, step("proof", 0, 600, 4), BAKE))
    assert stays_of(made, "refrigerator") == {("divide2", "bake4"): 4}
    assert made.capacity["refrigerator"] == 8


def test_on_the_bench_there_is_room_for_all():
    assert problem(room={"rises_in": RisesIn.BENCH}).stays == ()


def test_a_kitchen_without_a_cabinet_counts_no_places_in_it():
    made = problem(room={"cabinet_places": 0})
    assert made.stays == ()
    assert "cabinet" not in made.capacity


def test_a_bench_rest_takes_no_place_in_the_cabinet():
    made = problem(loaf(MIX, DIVIDE, step("rest", 0, 20), step("divide", 5), BAKE))
    assert made.stays == ()


def test_a_stay_is_between_the_tasks_of_one_dough():
    assert Stay("cabinet", 4, "divide2|loaf|Bench 2", "bake4|loaf|Bench 2") in problem().stays


# The oven


def test_scoring_belongs_to_the_oven():
    made = problem()
    bake = of(made, "bake4")
    assert "score4" not in kinds(made)
    assert (bake.minutes, bake.hands_min, bake.temperature_c) == (2 + 3 + 25, 2 + 3, 230)
    assert (bake.hands, bake.then_min) == (hands_key("Bench 1"), 15)
    assert schedule_of(work()).notes[bake.key].text == "score. bake."


def test_scoring_before_other_work_is_work_at_the_bench():
    made = problem(loaf(*HEARTH[:5], step("prepare", 3, text="Brush it."), BAKE))
    assert after(made, "score4") == {("divide2", 40, 50)}
    assert after(made, "prepare5") == {("score4", 0, IDLE_MOST_MIN)}
    assert of(made, "bake6").minutes == 28


def test_scoring_of_bread_that_goes_home_raw_needs_no_oven():
    made = problem(loaf(*HEARTH[:5]))
    assert made.bakings == ()
    assert of(made, "score4").ways[0].minutes == 2


def test_work_in_the_middle_of_baking_needs_no_hands_of_the_bench():
    """By hand: 5 min of hands, then 15 + 1 + 10 min, of which turning is part of the baking."""
    made = problem(loaf(*HEARTH[:4], step("bake", 5, 15, 240), step("bake", 1, 10, 200), COOL))
    bake = of(made, "bake4")
    assert (bake.minutes, bake.hands_min, bake.temperature_c) == (31, 5, 240)


@pytest.mark.parametrize(
    ("pieces", "a_place", "places"), [(4, 1, 4), (24, 6, 4), (25, 6, 5), (3, 8, 1)]
)
def test_small_pieces_share_a_place_in_the_oven(pieces, a_place, places):
    bread = recipe(pieces_a_place=a_place)
    groups = tuple(replace(group, pieces=pieces) for group in bread.groups)
    assert of(problem(replace(bread, groups=groups)), "bake4").pieces == places


def test_the_instructor_loads_the_demonstration():
    assert of(problem(), "bake4", DEMONSTRATION).hands == INSTRUCTOR


@pytest.mark.parametrize(("celsius", "asked"), [("229.5", 230), ("230.4", 230), (None, None)])
def test_an_oven_is_set_to_whole_degrees(celsius, asked):
    made = problem(loaf(*HEARTH[:4], step("bake", 3, 25, celsius)))
    assert of(made, "bake4").temperature_c == asked


# Doughs that are brought


def brought(*stages, steps=HEARTH, **changes):
    return schedule_of(work(recipe(steps, brings=frozenset(stages)), **changes))


def test_a_brought_mixed_dough_rises_while_the_own_one_is_mixed_to_go_home():
    made = brought(Stage.MIXED).problem
    assert after(made, "unpack") == {("welcome", 0, None)}
    assert after(made, "fold1") == {("unpack", 37, 52)}
    assert of(made, "mix0").job == "own|loaf|Bench 1"
    assert not [lag for one in made.items.values() for lag in one.after if lag.task[:4] == "mix0"
                and not one.key.startswith("clean")]  # fmt: skip


def test_two_mixings_of_a_dough_that_goes_home_keep_their_order_and_rest():
    steps = (step("mix", 5, 30), step("mix", 15), *HEARTH[1:])
    made = brought(Stage.MIXED, steps=steps).problem
    assert ("mix0", 30, 45) in after(made, "mix1")


def test_a_brought_mixed_dough_without_a_first_rise_is_taken_up_for_shaping():
    made = brought(Stage.MIXED, steps=(MIX, DIVIDE, PROOF, BAKE)).problem
    assert ("unpack", 0, IDLE_MOST_MIN) in after(made, "divide1")


def test_a_brought_risen_dough_is_divided_without_waiting():
    scheduled = brought(Stage.RISEN)
    assert ("mix0", 0, None) in after(scheduled.problem, "divide2")
    assert "fold1" not in kinds(scheduled.problem)
    assert {one.title for one in scheduled.waits} == {"Proof"}


def test_a_rest_of_the_own_dough_is_no_rest_of_the_brought_one():
    made = brought(Stage.RISEN, steps=(MIX, step("rest", 0, 30), *HEARTH[1:])).problem
    assert ("mix0", 0, None) in after(made, "divide3")


def test_brought_shaped_pieces_are_baked_without_waiting():
    scheduled = brought(Stage.SHAPED)
    assert after(scheduled.problem, "bake4") == {("divide2", 0, None)}
    assert {one.title for one in scheduled.waits} == {"Bulk fermentation"}


def test_with_all_stages_brought_a_class_touches_every_step_without_waiting():
    """By hand: 10 + 20 + 5 + 20 min to the end of mixing, watch, shape, bake and cool."""
    scheduled, solved = planned(work(recipe(brings=frozenset(Stage))))
    assert scheduled.waits == ()
    assert "unpack" not in kinds(scheduled.problem)
    assert solved.ready <= 55 + 5 + 15 + 30 + 15
    assert kinds(scheduled.problem) >= {"mix0", "divide2", "bake4"}


# What a class can lack


def test_a_recipe_that_mixes_nothing_takes_up_dough_that_is_there():
    made = problem(loaf(*HEARTH[1:]))
    assert not kinds(made) & {"weigh", "mix0"}
    assert after(made, "fold0") == {("unpack", 37, 52)}
    assert ("unpack", 80, 104) in after(made, "divide1")
    assert after(made, "bake3") == {("divide1", 40, 50)}


def test_a_recipe_that_begins_with_shaping_begins_after_the_welcome():
    made = problem(loaf(DIVIDE, PROOF, BAKE, shown=0))
    assert after(made, "divide0") == {("welcome", 0, None)}


def test_a_recipe_of_the_oven_alone_begins_after_the_welcome():
    assert after(problem(loaf(BAKE)), "bake0") == {("welcome", 0, None)}


def test_a_recipe_without_an_oven_ends_with_its_shaping():
    scheduled, solved = planned(work(loaf(MIX, BULK, DIVIDE)))
    assert scheduled.problem.bakings == ()
    shaped = solved.plan.end(scheduled.problem, "divide2|loaf|Bench 1")
    assert solved.ready == shaped + 10


def test_a_recipe_without_steps_leaves_welcome_and_cleaning():
    assert kinds(problem(loaf())) == {"welcome", "clean"}


def test_with_nobody_at_a_station_the_demonstration_goes_on():
    scheduled, solved = planned(work(recipe(benches=0)))
    made = scheduled.problem
    assert not kinds(made) & {"weigh", "clean"}
    assert made.items["show|mix|loaf"].after == (Lag("welcome"),)
    assert uses(made.items["show|mix|loaf"]) == {INSTRUCTOR}
    assert solved.ready == 10 + 5 + 20 + 80 + 15 + 40 + 30 + 15


def test_with_nobody_at_all_there_is_only_the_welcome():
    nobody = replace(recipe(), groups=(), demonstration=None)
    assert kinds(problem(nobody)) == {"welcome"}


def test_a_class_without_anything_is_ready_at_once():
    empty = ClassWork(Hours(240, welcome_min=0), HALL, (), ())
    _, solved = planned(empty)
    assert solved.ready == 0


def test_without_a_demonstration_the_first_bench_leads():
    made = problem(recipe(shown=0))
    assert after(made, "mix0") == {("weigh", 0, None)}


def test_a_station_has_one_pair_of_hands_for_all_its_recipes():
    scheduled, solved = planned(work(recipe(), recipe(ROLLS, key="rolls"), hours=Hours(600)))
    assert Resource("hands|Bench 1", "Bench 1", 1) in scheduled.problem.resources
    assert faults(scheduled.problem, solved.plan) == ()


# All kinds of recipes

SOME = {
    "hearth loaf": HEARTH,
    "two days": TWO_DAYS,
    "rolls": ROLLS,
    "two mixings": (step("mix", 5, 30), *HEARTH),
    "a rest before the fold": (MIX, step("rest", 0, 45), *HEARTH[1:]),
    "three folds": (MIX, *(step("bulk", 3, 30, 25),) * 3, *HEARTH[2:]),
    "shaped twice": (MIX, BULK, DIVIDE, step("rest", 0, 20), *HEARTH[2:]),
    "retarded": (MIX, BULK, DIVIDE, step("proof", 0, 600, 4), BAKE, COOL),
    "no mixing": HEARTH[1:],
    "no rise": (MIX, DIVIDE, BAKE),
    "no baking": HEARTH[:3],
    "baked twice": (*HEARTH, step("divide", 5), step("bake", 2, 20, 150)),
}


@pytest.mark.parametrize("brings", [(), *((stage,) for stage in Stage), tuple(Stage)], ids=str)
@pytest.mark.parametrize("steps", SOME.values(), ids=SOME)
def test_every_kind_of_recipe_has_a_plan_that_keeps_the_rules(steps, brings):
    bread = recipe(steps, brings=frozenset(brings), mixing=Mixing.MIXER)
    room = {"refrigerator_places": 13}
    scheduled, solved = planned(work(bread, room=room, hours=Hours(900)))
    assert faults(scheduled.problem, solved.plan) == ()
    assert solved.ready >= solved.bound
    assert scheduled.notes.keys() == scheduled.problem.items.keys()


def test_a_note_says_what_a_task_is_to_whom():
    note = schedule_of(work()).notes["divide2|loaf|Bench 1"]
    assert (note.title, note.who, note.doing) == ("Divide and shape", "Bench 1", Doing.HANDS)
    assert (note.kind, note.recipe, note.text) == (StepKind.DIVIDE, "loaf", "divide.")
