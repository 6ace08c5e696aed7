"""Classes whose plans are drawn in tests: breads of the demo for so many people at benches."""

from dataclasses import replace
from decimal import Decimal

from classes.core.demand import DEMONSTRATION
from classes.core.hours.greedy.placing import plan_greedily
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.values import (
    ClassWork,
    Group,
    Hours,
    MixerKind,
    Mixing,
    RisesIn,
    Room,
    TimedRecipe,
)
from classes.core.hours.problem.work import Plan, PlannedOven
from classes.demo import HEARTH_LOAF, PILLOW_ROLLS, SEEDED_RING

START_MIN = 10 * 60


def label(minute):
    """The clock of a class that starts at ten."""
    hours, minutes = divmod((START_MIN + minute) % (24 * 60), 60)
    return f"{hours}:{minutes:02}"


def recipe_of(demo, at_stations, *, shown=1, pieces_each=None, **changes):
    """A recipe of the demo as the plan knows it; `at_stations` are (station, people)."""
    pieces = pieces_each or demo.pieces
    dough_g = pieces * demo.piece_g
    return TimedRecipe(
        key=demo.title.lower().replace(" ", "-"),
        title=demo.title,
        steps=demo.steps,
        groups=tuple(
            Group(name, people, people * pieces, people * dough_g) for name, people in at_stations
        ),
        demonstration=Group(DEMONSTRATION, shown, shown * pieces, shown * dough_g)
        if shown
        else None,
        dough_c=demo.dough_temperature_c,
        **changes,
    )


def benches(count, people=4):
    return [(f"Bench {n}", people) for n in range(1, count + 1)]


def ovens(*slots):
    return tuple(
        PlannedOven(f"oven-{n}", f"O{n}", places, 5, preheat_min=35, has_fan=n == 2)
        for n, places in enumerate(slots, start=1)
    )


def work_of(*recipes, hours=None, **changes):
    """A class of some recipes in the demo's hall, with a cabinet set to what each bread asks."""
    stations = dict.fromkeys(group.station for recipe in recipes for group in recipe.groups)
    values = {
        "hours": hours or Hours(240),
        "room": Room(
            Decimal(21),
            Decimal(21),
            RisesIn.CABINET,
            cabinet_places=16,
            refrigerator_places=8,
            bowls=14,
        ),
        "recipes": recipes,
        "stations": tuple(stations),
        "ovens": ovens(6, 6, 3),
        "mixers": (MixerKind(2000, 2),),
        "assistants": 1,
    }
    return ClassWork(**{**values, **changes})


def roomy(places):
    """The demo's hall with a cabinet of so many places."""
    return Room(Decimal(21), Decimal(21), RisesIn.CABINET, cabinet_places=places)


def demo():
    """12 students at three benches and the demonstration: ready at 13:55."""
    return work_of(recipe_of(HEARTH_LOAF, benches(3), mixing=Mixing.SHOWN))


def two_loads():
    """24 + 1 bakers at six benches for 15 oven places, with a break."""
    return work_of(
        recipe_of(HEARTH_LOAF, benches(6), mixing=Mixing.SHOWN),
        hours=Hours(300, break_at=105, break_min=15),
        room=roomy(25),
    )


def two_breads():
    """Each bench bakes two breads, one of them in mixers, at different temperatures."""
    return work_of(
        recipe_of(HEARTH_LOAF, benches(3), mixing=Mixing.HAND),
        recipe_of(PILLOW_ROLLS, benches(3), mixing=Mixing.MIXER, pieces_a_place=6),
        hours=Hours(420, break_at=150, break_min=20),
        room=roomy(30),
    )


def twelve_stations():
    """24 people at twelve benches with three mixers, so that not all do the same at a time."""
    return work_of(
        recipe_of(SEEDED_RING, benches(12, 2), mixing=Mixing.MIXER),
        hours=Hours(330),
        room=roomy(40),
        ovens=ovens(8, 8),
        mixers=(MixerKind(2000, 2), MixerKind(5000, 1)),
    )


def many_stations(count=48):
    """So many benches of four with eight mixers and six ovens."""
    return work_of(
        recipe_of(HEARTH_LOAF, benches(count), mixing=Mixing.MIXER),
        hours=Hours(480),
        room=roomy(400),
        ovens=ovens(*[20] * 6),
        mixers=(MixerKind(5000, 8),),
    )


CLASSES = {
    "the demo": demo,
    "two loads": two_loads,
    "two breads": two_breads,
    "twelve stations": twelve_stations,
}


def planned(work):
    """The work as a problem, and a plan for it."""
    scheduled = schedule_of(work)
    return scheduled, plan_greedily(scheduled.problem)


def in_two_loads(plan):
    """The plan with one dough that goes into its oven in two loads; and the key of its baking."""
    whole = next(load for load in plan.loads if len(load.pieces) == 1)
    ((key, count),) = whole.pieces
    first = replace(whole, pieces=((key, 1),))
    second = replace(whole, start=whole.end + 5, pieces=((key, count - 1),))
    others = tuple(load for load in plan.loads if load is not whole)
    return Plan(plan.slots, (*others, first, second)), key
