"""A class as work for the plan, read from its rows, and the plan it keeps."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from classes.core.demand import DEMONSTRATION
from classes.core.hours.greedy.keeping import fingerprint, to_document
from classes.core.hours.problem.values import Group, MixerKind, Mixing, RisesIn
from classes.core.hours.problem.work import Solved
from classes.core.keys import Stage
from classes.hours.selectors import pieces_a_place
from classes.models import ClassSession, KeptPlan
from classes.selectors import class_plan
from recipes.core.choices import StepKind
from recipes.core.written import WrittenStep
from tests.factories import (
    ClassSessionFactory,
    EnrollmentFactory,
    IngredientFactory,
    KitchenFactory,
    RevisionFactory,
    TaughtRecipeFactory,
    UserFactory,
    flour,
    water,
)

pytestmark = pytest.mark.django_db

STEPS = (
    {"kind": "mix", "hands_on_min": 20},
    {"kind": "bulk", "waiting_min": 60, "temperature_c": 25},
    {"kind": "divide", "hands_on_min": 15},
    {"kind": "bake", "hands_on_min": 3, "waiting_min": 27, "temperature_c": 230},
)


def read(session) -> ClassSession:
    return ClassSession.objects.with_plan().get(pk=session.pk)


def work_of(session):
    """The work of a class as it stands in the database now."""
    return class_plan(read(session)).work


def a_class(*, students=2, oven=True, taught=None, revision=None, **fields):
    """Students at the only bench of a kitchen, who bake a recipe with times."""
    fields = {"count_empty_seats": False, "seats": 60} | fields
    session = ClassSessionFactory(**fields)
    if oven:
        session.kitchen.ovens.create(name="O1", slots=40)
    made = RevisionFactory(
        recipe__owner=session.instructor, **({"steps": STEPS} | (revision or {}))
    )
    TaughtRecipeFactory(session=session, revision=made, **(taught or {}))
    for n in range(students):
        EnrollmentFactory(session=session, position=n)
    return session


def only(session):
    """The one recipe of a class, as the plan has it."""
    [found] = work_of(session).recipes
    return found


# Hours, room and what stands there


def test_the_fixed_points_of_a_class_are_read_from_it():
    session = a_class(welcome_min=7, weighing_min=12, show_min=3, cleanup_min=15)
    hours = work_of(session).hours
    assert (hours.minutes, hours.welcome_min, hours.weighing_min) == (240, 7, 12)
    assert (hours.show_min, hours.cleanup_min) == (3, 15)


def test_a_break_counts_from_the_start_of_the_class():
    session = a_class(break_at=datetime(2030, 5, 4, 11, 45, tzinfo=UTC), break_min=20)
    hours = work_of(session).hours
    assert (hours.break_at, hours.break_min) == (105, 20)


def test_a_class_without_a_time_for_its_break_has_none():
    hours = work_of(a_class(break_min=20)).hours
    assert (hours.break_at, hours.break_min) == (None, 0)


def test_the_room_is_that_of_the_kitchen_and_the_night_as_warm_unless_it_says_otherwise():
    session = a_class(rises_in="cabinet")
    kitchen = session.kitchen
    kitchen.room_c, kitchen.proof_places, kitchen.refrigerator_places = 18, 5, 6
    kitchen.bowls, kitchen.cabinet_c = 9, None
    kitchen.save()
    room = work_of(session).room
    assert (room.room_c, room.night_c, room.cabinet_c) == (18, 18, None)
    assert (room.cabinet_places, room.refrigerator_places, room.bowls) == (5, 6, 9)
    assert room.rises_in is RisesIn.CABINET


def test_night_and_cabinet_are_read_where_they_are_set():
    session = a_class()
    session.kitchen.night_c, session.kitchen.cabinet_c = Decimal(14), Decimal("27.5")
    session.kitchen.save()
    room = work_of(session).room
    assert (room.night_c, room.cabinet_c) == (14, Decimal("27.5"))
    assert room.rises_in is RisesIn.BENCH


def test_ovens_come_with_all_that_decides_about_them():
    session = a_class(oven=False)
    oven = session.kitchen.ovens.create(
        name="Deck", slots=8, has_fan=True, preheat_min=50, turnaround_min=7
    )
    [found] = work_of(session).ovens
    assert (found.key, found.name, found.slots) == (f"oven-{oven.pk}", "Deck", 8)
    assert (found.has_fan, found.preheat_min, found.turnaround_min) == (True, 50, 7)
    assert found.hot_from is None


def test_mixers_that_hold_the_same_are_counted_together_the_largest_first():
    session = a_class()
    for name, capacity_g in (("A", 2000), ("B", 5000), ("C", 2000)):
        session.kitchen.mixers.create(name=name, capacity_g=capacity_g)
    assert work_of(session).mixers == (MixerKind(5000, 1), MixerKind(2000, 2))


def test_assistants_are_counted():
    session = a_class(assistants=[UserFactory(role="assistant") for _ in range(2)])
    assert work_of(session).assistants == 2
    assert work_of(a_class()).assistants == 0


# Recipes


def test_steps_come_over_in_their_order():
    found = only(a_class(revision={"steps": STEPS[:2]}))
    assert found.steps == (
        WrittenStep(StepKind.MIX, "Mix until smooth.", 20),
        WrittenStep(StepKind.BULK, "Mix until smooth.", 0, 60, Decimal(25)),
    )


def test_a_bench_has_its_people_their_pieces_and_their_dough():
    session = a_class(students=3, taught={"pieces_each": 2, "piece_g": 400})
    found = only(session)
    assert found.groups == (Group("Bench 1", 3, 6, Decimal(2400)),)
    assert found.demonstration == Group(DEMONSTRATION, 1, 2, Decimal(800))
    assert found.pieces == 8


def test_a_class_without_a_demonstration_has_none():
    assert only(a_class(taught={"demonstration_batches": 0})).demonstration is None


def test_two_demonstration_batches_are_two_bakers():
    found = only(a_class(taught={"demonstration_batches": 2, "pieces_each": 3, "piece_g": 100}))
    assert found.demonstration == Group(DEMONSTRATION, 2, 6, Decimal(600))


def test_a_bench_where_nobody_stands_is_left_out():
    session = a_class(kitchen=KitchenFactory(stations=3), students=0)
    benches = list(session.stations.all())
    EnrollmentFactory(session=session, station=benches[2])
    work = work_of(session)
    assert work.stations == ("Bench 3",)
    assert [group.station for group in work.recipes[0].groups] == ["Bench 3"]


def test_empty_seats_count_where_the_class_plans_for_them():
    session = a_class(students=1, seats=4, count_empty_seats=True)
    assert only(session).groups == (Group("Bench 1", 4, 4, Decimal(640)),)


def test_without_students_the_demonstration_is_planned():
    work = work_of(a_class(students=0))
    assert (work.stations, work.recipes[0].groups) == ((), ())
    assert work.recipes[0].pieces == 1


def test_a_recipe_that_nobody_bakes_is_left_out():
    assert work_of(a_class(students=0, taught={"demonstration_batches": 0})).recipes == ()


def test_how_a_dough_is_mixed_and_what_is_brought_are_read_from_the_class():
    session = a_class(taught={"mixing": "mixer", "brings_mixed": True, "brings_shaped": True})
    found = only(session)
    assert found.mixing is Mixing.MIXER
    assert found.brings == {Stage.MIXED, Stage.SHAPED}


def test_the_temperature_of_a_dough_is_the_recipes_or_the_usual():
    assert only(a_class()).dough_c == 25
    assert only(a_class(revision={"dough_temperature_c": 27})).dough_c == 27


@pytest.mark.parametrize(("water_g", "stiff"), [(55, True), (59.9, True), (60, False), (70, False)])
def test_a_dough_with_little_water_is_stiff(water_g, stiff):
    parts = [{"lines": {flour(): 100, water(): water_g}}]
    water().water_percent = 100
    assert only(a_class(revision={"parts": parts, "steps": STEPS})).stiff is stiff


@pytest.mark.parametrize(
    ("key", "kind", "storage", "softens", "chills"),
    [
        ("butter", "fat", "chilled", True, False),
        ("salted-butter", "fat", "chilled", True, False),
        ("lard", "fat", "chilled", False, False),
        ("buttermilk", "liquid", "chilled", False, True),
        ("peanut-butter", "nut", "ambient", False, False),
        ("whole-milk", "liquid", "chilled", False, True),
        ("skim-milk-powder", "dairy", "ambient", False, False),
        ("egg", "egg", "chilled", False, True),
        ("soy-drink", "liquid", "ambient", False, False),
    ],
)
def test_butter_is_softened_and_what_is_kept_cold_is_kept_so(key, kind, storage, softens, chills):
    more = IngredientFactory(key=key, kind=kind, storage=storage)
    parts = [{"lines": {flour(): 100, water(): 60, more: 10}}]
    found = only(a_class(revision={"parts": parts, "steps": STEPS}))
    assert (found.softens_butter, found.chills) == (softens, chills)


@pytest.mark.parametrize(
    ("taught", "revision", "places"),
    [
        ({"pieces_a_place": 3, "piece_g": 70}, {}, 3),
        ({"piece_g": 520}, {}, 1),
        ({"piece_g": 250}, {}, 1),
        ({"piece_g": Decimal("249.9")}, {}, 2),
        ({"piece_g": 70}, {}, 7),
        ({"piece_g": 70}, {"pan_shape": "round", "pieces": 6}, 6),
        ({"piece_g": 70, "pieces_a_place": 12}, {"pan_shape": "round", "pieces": 6}, 12),
    ],
    ids=["as set", "a loaf", "half a loaf", "a little less", "rolls", "a pan", "set over a pan"],
)
def test_small_pieces_share_a_place_in_the_oven(taught, revision, places):
    session = a_class(taught=taught, revision={"steps": STEPS, **revision})
    [row] = session.taught.all()
    assert pieces_a_place(row) == places
    assert only(session).pieces_a_place == places


# The plan


def test_a_class_has_a_plan_at_once():
    hours = class_plan(read(a_class())).hours
    assert hours.solved.solver == "greedy"
    assert hours.obstacle is None
    assert hours.slack_min == 240 - hours.solved.ready


def test_a_class_without_an_oven_says_what_cannot_be_placed():
    hours = class_plan(read(a_class(oven=False))).hours
    assert (hours.solved, hours.slack_min) == (None, None)
    assert hours.scheduled.notes[hours.obstacle.key].title == "Bake"


def test_a_class_without_recipes_is_planned_as_well():
    hours = class_plan(read(ClassSessionFactory(welcome_min=0, count_empty_seats=False))).hours
    assert hours.solved.ready == 0


def keep(session) -> Solved:
    """Keep the plan of a class as if another solver had made it."""
    hours = class_plan(read(session)).hours
    solved = Solved(hours.solved.plan, hours.solved.ready, hours.solved.bound, "by hand")
    KeptPlan.objects.create(
        session=session,
        made_for=fingerprint(hours.scheduled.problem),
        document=to_document(solved),
        made_at=session.starts_at - timedelta(days=3),
    )
    return solved


def test_a_kept_plan_is_the_plan_of_the_class():
    session = a_class()
    solved = keep(session)
    assert class_plan(read(session)).hours.solved == solved


def colder(session):
    session.kitchen.room_c = 17
    session.kitchen.save()


def larger(session):
    EnrollmentFactory(session=session)


def longer_break(session):
    session.break_at = session.starts_at + timedelta(hours=1)
    session.save()


def another_oven(session):
    session.kitchen.ovens.create(name="O2", slots=2)


@pytest.mark.parametrize("change", [colder, larger, longer_break, another_oven])
def test_a_kept_plan_is_left_aside_as_soon_as_the_class_is_another(change):
    session = a_class(taught={"piece_g": 520})
    keep(session)
    change(session)
    assert class_plan(read(session)).hours.solved.solver == "greedy"


def test_a_kept_plan_serves_again_when_all_is_as_it_was():
    session = a_class()
    keep(session)
    colder(session)
    session.kitchen.room_c = 21
    session.kitchen.save()
    assert class_plan(read(session)).hours.solved.solver == "by hand"


def test_a_roll_that_shares_an_oven_place_leaves_the_kept_plan_in_use():
    """By hand: three pieces of 160 g share a place, so a third student needs none."""
    session = a_class(students=2, taught={"piece_g": 160})
    keep(session)
    larger(session)
    assert class_plan(read(session)).hours.solved.solver == "by hand"


def test_what_changes_no_time_leaves_the_kept_plan_in_use():
    session = a_class()
    keep(session)
    session.title, session.notes = "Another title", "Bring aprons."
    session.ends_at += timedelta(minutes=30)
    session.save()
    hours = class_plan(read(session)).hours
    assert (hours.solved.solver, hours.slack_min) == ("by hand", 270 - hours.solved.ready)


def queries_for(students: int) -> int:
    session = a_class(students=students, kitchen=KitchenFactory(stations=4))
    EnrollmentFactory(session=session, station=list(session.stations.all())[1])
    keep(session)
    with CaptureQueriesContext(
        connection,
    ) as seen:
        assert class_plan(read(session)).hours.scheduled
    return len(seen)


def test_a_class_of_sixty_takes_as_many_queries_as_one_of_six():
    assert queries_for(59) == queries_for(5)
