"""The demo scenario as work for the plan, put together by hand from what the scenario says."""

from dataclasses import replace
from decimal import Decimal

from classes.core.demand import DEMONSTRATION
from classes.core.hours.greedy.placing import plan_greedily
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.values import (
    RISES,
    ClassWork,
    Group,
    Hours,
    MixerKind,
    Mixing,
    RisesIn,
    Room,
    TimedRecipe,
)
from classes.core.hours.problem.work import PlannedOven
from recipes.core.choices import StepKind, TemperatureOf, Worked
from recipes.core.written import WrittenStep

TEN_O_CLOCK = 10 * 60
DAY = 24 * 60


def step(kind, hands=0, waiting=0, celsius=None, text="", of="", worked=""):
    """A step, its text being its kind unless the test says otherwise.

    Mixing is by machine, and the temperature of a rise that of the dough, unless it says so.
    """
    degrees = None if celsius is None else Decimal(celsius)
    if celsius is not None and not of:
        of = "oven" if kind == "bake" else "dough" if kind in RISES else ""
    worked = worked or ("machine" if kind == "mix" else "")
    return WrittenStep(
        StepKind(kind),
        text or f"{kind}.",
        hands,
        waiting,
        degrees,
        TemperatureOf(of) if of not in ("", "unsaid") else None,
        Worked(worked) if worked not in ("", "unsaid") else None,
    )


HEARTH = (
    step("mix", 20),
    step("bulk", 5, 75, 25),
    step("divide", 15),
    step("proof", 0, 40, 26),
    step("score", 2),
    step("bake", 3, 25, 230),
    step("cool", 0, 15),
)
TWO_DAYS = (
    step("prepare", 5, 720, 20, "Stir the poolish."),
    step("mix", 20),
    step("bulk", 6, 84, 25),
    step("divide", 15),
    step("proof", 0, 45, 26),
    step("score", 2),
    step("bake", 3, 32, 235),
    step("cool", 0, 30),
)
ROLLS = (
    step("prepare", 10, text="Whisk the roux."),
    step("mix", 20),
    step("bulk", 0, 75, 26),
    step("divide", 15),
    step("proof", 0, 45, 27),
    step("bake", 5, 20, 190),
    step("cool", 0, 15),
)
HALL = Room(
    room_c=Decimal(21),
    night_c=Decimal(20),
    rises_in=RisesIn.CABINET,
    cabinet_places=16,
    refrigerator_places=8,
    bowls=14,
)


def recipe(steps=HEARTH, *, key="loaf", benches=3, each=4, shown=1, piece_g=520, **changes):
    """A recipe that everybody at so many benches bakes, a piece each."""
    groups = [(f"Bench {n}", each) for n in range(1, benches + 1)]
    shown_group = Group(DEMONSTRATION, shown, shown, Decimal(shown * piece_g))
    values = {
        "title": key.capitalize(),
        "groups": tuple(Group(name, n, n, Decimal(n * piece_g)) for name, n in groups),
        "demonstration": shown_group if shown else None,
        "mixing": Mixing.SHOWN,
    }
    return TimedRecipe(key=key, steps=steps, **(values | changes))


def ovens(*slots, preheat_min=35, **changes):
    return tuple(
        PlannedOven(f"O{n}", f"O{n}", count, 5, preheat_min=preheat_min, **changes)
        for n, count in enumerate(slots, 1)
    )


def work(*recipes, room=None, **changes):
    """A class of four hours in the hall; `room` names what is different there."""
    recipes = recipes or (recipe(),)
    stations = dict.fromkeys(group.station for one in recipes for group in one.groups)
    values = {
        "hours": Hours(240),
        "stations": tuple(stations),
        "ovens": ovens(6, 6, 3),
        "mixers": (MixerKind(2000, 2),),
        "assistants": 1,
    }
    return ClassWork(room=replace(HALL, **(room or {})), recipes=recipes, **(values | changes))


def planned(class_work):
    """The problem of a class, and a greedy plan for it."""
    scheduled = schedule_of(class_work)
    return scheduled, plan_greedily(scheduled.problem)


def clock(minute):
    """The clock of a class that starts at ten; the day before is marked with its count."""
    days, minutes = divmod(TEN_O_CLOCK + minute, DAY)
    time = f"{minutes // 60:02d}:{minutes % 60:02d}"
    return f"{days:+d} {time}" if days else time
