"""What holds a class up most: the thing that, if unlimited, would let it finish soonest.

For each thing a new plan is made as if it were unlimited (ovens: twice as many). If no single thing
makes a difference, two are tried together. If those do not either, it is the dough's own time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import combinations

from classes.core.hours.checking.obstacles import stuck_bakings
from classes.core.hours.greedy.bounds import paths
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.keys import CABINET, INSTRUCTOR, REFRIGERATOR
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.work import Problem, Solved

PLENTY = 10**4
HANDS, MIXERS = "hands|", "mixers|"


class Scarce(StrEnum):
    """What can be scarce."""

    OVENS = "ovens"
    MIXERS = "mixers"
    CABINET = "cabinet"
    REFRIGERATOR = "refrigerator"
    INSTRUCTOR = "instructor"
    HANDS = "hands"


@dataclass(frozen=True, slots=True)
class Thing:
    """Something scarce; for mixers, those that hold `capacity_g`."""

    scarce: Scarce
    capacity_g: int = 0


@dataclass(frozen=True, slots=True)
class Bottleneck:
    """One thing, or two together; nothing means the dough's own time.

    Without it the class would be ready `gain_min` earlier; None if there is no plan now.
    """

    things: tuple[Thing, ...] = ()
    gain_min: int | None = 0


def bottleneck_of(scheduled: Scheduled, solved: Solved | None) -> Bottleneck:
    """The thing, or else the pair of things, that would save the most time."""
    problem = scheduled.problem
    if solved is not None and solved.ready <= _own_time(problem):
        return Bottleneck()
    things = tuple(_things(problem))
    for together in (1, 2):
        found = [
            (ready, chosen)
            for chosen in combinations(things, together)
            if (ready := _ready_without(problem, chosen)) is not None
            and (solved is None or ready < solved.ready)
        ]
        if found:
            ready, chosen = min(found, key=lambda option: option[0])
            return Bottleneck(chosen, None if solved is None else solved.ready - ready)
    return Bottleneck((), None if solved is None else 0)


def _own_time(problem: Problem) -> int:
    """The longest chain of work and waiting, ignoring resources."""
    span = paths(problem)
    return max((span.head[key] + span.rest[key] for key in problem.items), default=0)


def _things(problem: Problem) -> Iterator[Thing]:
    """What the work uses."""
    used = {use.resource for task in problem.tasks for way in task.ways for use in way.uses}
    used |= {stay.resource for stay in problem.stays}
    if problem.ovens and problem.bakings:
        yield Thing(Scarce.OVENS)
    for key in sorted(used):
        if key.startswith(MIXERS):
            yield Thing(Scarce.MIXERS, int(key.removeprefix(MIXERS)))
    for key, scarce in (
        (CABINET, Scarce.CABINET),
        (REFRIGERATOR, Scarce.REFRIGERATOR),
        (INSTRUCTOR, Scarce.INSTRUCTOR),
    ):
        if key in used:
            yield Thing(scarce)
    if any(key.startswith(HANDS) for key in used):
        yield Thing(Scarce.HANDS)


def _ready_without(problem: Problem, things: tuple[Thing, ...]) -> int | None:
    """When the class is ready without the limits of some things; None without a plan."""
    for thing in things:
        problem = without_limit(problem, thing)
    if stuck_bakings(problem):
        return None
    try:
        return plan_greedily(problem).ready
    except CannotPlace:
        return None


def without_limit(problem: Problem, thing: Thing) -> Problem:
    """The same work with as much of a thing as it could use; ovens are doubled."""
    if thing.scarce is Scarce.OVENS:
        more = tuple(
            replace(oven, key=f"{oven.key}|again", name=f"{oven.name}, again")
            for oven in problem.ovens
        )
        return replace(problem, ovens=problem.ovens + more)
    resources = tuple(
        replace(resource, capacity=PLENTY) if _is(thing, resource.key) else resource
        for resource in problem.resources
    )
    bakings = tuple(
        replace(baking, hands=None) if baking.hands and _is(thing, baking.hands) else baking
        for baking in problem.bakings
    )
    return replace(problem, resources=resources, bakings=bakings)


def _is(thing: Thing, key: str) -> bool:
    if thing.scarce is Scarce.MIXERS:
        return key == f"{MIXERS}{thing.capacity_g}"
    if thing.scarce is Scarce.HANDS:
        return key.startswith(HANDS)
    return key == thing.scarce.value
