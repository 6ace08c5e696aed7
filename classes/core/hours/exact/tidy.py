"""A plan in which everything is as early as its order allows.

A solver leaves things where they do no harm, such as a dough weighed an hour before it is mixed.
Here the order stays the same: who is first at every resource, oven and pair of hands, the ways, and
what is in which load. What was apart stays apart, so nothing overlaps that did not before.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from classes.core.hours.exact.windows import Item, raised
from classes.core.hours.problem.work import (
    Baking,
    Lag,
    Plan,
    PlannedOven,
    Problem,
    Since,
    Slot,
    Stay,
)

Thing = str | int
Edge = tuple[Thing, Thing, int]


@dataclass(frozen=True, slots=True)
class _Point:
    """A minute of a plan that moves with `things`; if `last`, with the last of them.

    Each thing is the key of a task or the number of a load, with minutes since its start.
    """

    minute: int
    things: tuple[tuple[Thing, int], ...]
    last: tuple[Thing, int]


@dataclass(frozen=True, slots=True)
class _Hold:
    """Something that takes a resource, from one point to another."""

    start: _Point
    end: _Point


def tidy(problem: Problem, plan: Plan) -> Plan:
    """The same plan, with nothing later and everything as early as it can be in this order."""
    work = _Tidying(problem, plan)
    starts = raised(work.first_starts(), work.edges(), plan.ready(problem))
    slots = {key: Slot(starts[key], slot.way) for key, slot in plan.slots.items()}
    loads = [replace(load, start=starts[n]) for n, load in enumerate(plan.loads)]
    return Plan(slots, tuple(sorted(loads, key=lambda load: (load.start, load.oven))))


class _Tidying:
    def __init__(self, problem: Problem, plan: Plan) -> None:
        self._problem = problem
        self._plan = plan
        self._loads: dict[str, list[int]] = {baking.key: [] for baking in problem.bakings}
        for n, load in enumerate(plan.loads):
            for key, _ in load.pieces:
                self._loads[key].append(n)

    def first_starts(self) -> dict[Thing, int]:
        """The minute before which each thing cannot start by itself."""
        hot = {oven.key: oven.hot_from or 0 for oven in self._problem.ovens}
        found: dict[Thing, int] = {task.key: task.earliest for task in self._problem.tasks}
        found.update({n: hot[load.oven] for n, load in enumerate(self._plan.loads)})
        return found

    def edges(self) -> Iterator[Edge]:
        """Every second thing is at least so many minutes after the first, as in the plan."""
        for item in self._problem.items.values():
            for lag in item.after:
                yield from self._lag(item, lag)
        for stay in self._problem.stays:
            yield from self._stay_edges(stay)
        for resource in self._problem.capacity:
            yield from _in_turn(list(self._holds(resource)))
        for baking in self._problem.bakings:
            yield from self._loading(baking)
        for oven in self._problem.ovens:
            yield from self._oven(oven)

    def _start(self, key: str) -> _Point:
        """The start of a task, or of the last load of a baking."""
        if key in self._plan.slots:
            return _Point(self._plan.slots[key].start, ((key, 0),), (key, 0))
        numbers = self._loads[key]
        last = max(numbers, key=lambda n: self._plan.loads[n].start)
        return _Point(self._plan.loads[last].start, tuple((n, 0) for n in numbers), (last, 0))

    def _end(self, key: str) -> _Point:
        """The end of a task, or of the last load of a baking."""
        item, start = self._problem.items[key], self._start(key)
        if isinstance(item, Baking):
            length = item.minutes
        else:
            length = item.ways[self._plan.slots[key].way].minutes
        things = tuple((thing, since + length) for thing, since in start.things)
        return _Point(start.minute + length, things, (start.last[0], start.last[1] + length))

    def _lag(self, item: Item, lag: Lag) -> Iterator[Edge]:
        since = self._end(lag.task) if lag.since is Since.END else self._start(lag.task)
        for own, _ in self._start(item.key).things:
            for thing, minutes in since.things:
                yield thing, own, minutes + lag.least
            if lag.most is not None:
                thing, minutes = since.last
                yield own, thing, -minutes - lag.most

    def _stay_edges(self, stay: Stay) -> Iterator[Edge]:
        """A stay does not end before it begins; one without length gets no edge."""
        start, end = self._end(stay.after), self._start(stay.until)
        yield from _not_before(start, end)
        if start.minute == end.minute:
            yield from _not_before(end, start)

    def _holds(self, resource: str) -> Iterator[_Hold]:
        for task in self._problem.tasks:
            way = task.ways[self._plan.slots[task.key].way]
            if way.minutes and any(use.resource == resource for use in way.uses):
                yield _Hold(self._start(task.key), self._end(task.key))
        for stay in self._problem.stays:
            if stay.resource == resource:
                hold = _Hold(self._end(stay.after), self._start(stay.until))
                if hold.start.minute < hold.end.minute:
                    yield hold

    def _loading(self, baking: Baking) -> Iterator[Edge]:
        """Edges for people who come to a loading from a task, or go to one."""
        if baking.hands is None or not baking.hands_min:
            return
        for task in self._problem.tasks:
            way = task.ways[self._plan.slots[task.key].way]
            if way.minutes and any(use.resource == baking.hands for use in way.uses):
                for n in self._loads[baking.key]:
                    if self._plan.loads[n].start < self._plan.slots[task.key].start:
                        yield n, task.key, baking.hands_min
                    else:
                        yield task.key, n, way.minutes

    def _oven(self, oven: PlannedOven) -> Iterator[Edge]:
        loads = self._plan.loads
        own = [n for n, load in enumerate(loads) if load.oven == oven.key]
        for sooner, later in pairwise(sorted(own, key=lambda n: loads[n].start)):
            change = self._problem.change_min(loads[sooner].kind, loads[later].kind)
            yield sooner, later, loads[sooner].minutes + max(oven.turnaround_min, change)


def _in_turn(holds: list[_Hold]) -> Iterator[Edge]:
    for one, other in combinations(holds, 2):
        if one.end.minute <= other.start.minute:
            yield from _not_before(one.end, other.start)
        elif other.end.minute <= one.start.minute:
            yield from _not_before(other.end, one.start)


def _not_before(sooner: _Point, later: _Point) -> Iterator[Edge]:
    thing, minutes = later.last
    for other, since in sooner.things:
        yield other, thing, since - minutes
