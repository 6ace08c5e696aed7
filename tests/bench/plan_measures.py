"""How fast and how good the plans of the hours are, for a school with many equal stations."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from math import inf
from time import perf_counter

from classes.core.demand import DEMONSTRATION
from classes.core.hours.exact.solving import improve
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
from classes.core.hours.problem.work import PlannedOven, Problem
from recipes.core.choices import StepKind
from recipes.core.written import WrittenStep
from tests.bench.result import Result, median_ms

PIECE_G = Decimal(520)
STEPS = (
    WrittenStep(StepKind.MIX, "Mix.", 12),
    WrittenStep(StepKind.BULK, "Let it rise.", 0, 80, Decimal(25)),
    WrittenStep(StepKind.DIVIDE, "Shape.", 15),
    WrittenStep(StepKind.PROOF, "Proof.", 0, 40, Decimal(26)),
    WrittenStep(StepKind.BAKE, "Bake.", 5, 25, Decimal(230)),
    WrittenStep(StepKind.COOL, "Cool.", 0, 15),
)


def school(stations: int) -> Problem:
    """Equal stations of four people who share three mixers, four ovens and a cabinet."""
    names = tuple(f"Bench {n + 1}" for n in range(stations))
    recipe = TimedRecipe(
        "loaf",
        "Loaf",
        STEPS,
        tuple(Group(name, 4, 4, 4 * PIECE_G) for name in names),
        Group(DEMONSTRATION, 1, 1, PIECE_G),
        Mixing.MIXER,
    )
    work = ClassWork(
        hours=Hours(480),
        room=Room(Decimal(21), Decimal(20), RisesIn.CABINET, cabinet_places=4 * stations + 1),
        recipes=(recipe,),
        stations=names,
        ovens=tuple(PlannedOven(f"oven-{n}", f"Oven {n}", 12) for n in range(1, 5)),
        mixers=(MixerKind(2500, 3),),
    )
    return schedule_of(work).problem


def plan_greedy_ms_48() -> Result:
    """A greedy plan for 48 stations, its bound included."""
    problem = school(48)
    took_ms = median_ms(lambda: plan_greedily(problem), runs=15)
    return Result("plan_greedy_ms_48", took_ms, "ms", "goal", 50)


def plan_greedy_over_bound_48() -> Result:
    """How late the greedy plan for 48 stations is against what no plan can beat."""
    solved = plan_greedily(school(48))
    return Result(
        "plan_greedy_over_bound_48", solved.ready / solved.bound, "ratio", "lower bound", 1.03
    )


def _proved_s(stations: int, limit_s: int) -> float:
    """Seconds until the solver has proved the best plan; endless if it has not.

    It starts from the greedy plan without its bound, which alone would prove some of these.
    """
    problem = school(stations)
    began = perf_counter()
    solved = improve(problem, replace(plan_greedily(problem), bound=0), limit_s=limit_s)
    took_s = perf_counter() - began
    return took_s if solved.proved else inf


def plan_proved_s_12() -> Result:
    """The best plan for 12 stations, proved; OR-Tools is loaded already."""
    _proved_s(2, 5)
    return Result("plan_proved_s_12", _proved_s(12, 10), "s", "goal", 1)


def plan_proved_s_24() -> Result:
    """The best plan for 24 stations, proved."""
    return Result("plan_proved_s_24", _proved_s(24, 60), "s", "goal", 15)


PLAN_MEASURES = (
    plan_greedy_ms_48,
    plan_greedy_over_bound_48,
    plan_proved_s_12,
    plan_proved_s_24,
)
