"""When things can happen at all: the time that lags and neighboring work leave them.

A moment is the start of a task, or the first or the last load of a baking; a step says that one
moment is at least so many minutes after another.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple, TypeVar

from classes.core.hours.problem.work import Baking, Problem, Since, Task

Item = Task | Baking
Key = TypeVar("Key")


class Start(NamedTuple):
    """The start of a task, or of the first load of a baking, or (`last`) of its last load."""

    key: str
    last: bool = False


class Lead(NamedTuple):
    """`later` is at least `least` minutes after `sooner`; a negative number is a limit."""

    sooner: Start
    later: Start
    least: int


@dataclass(frozen=True, slots=True)
class Windows:
    """The earliest and the latest minute of every moment."""

    earliest: Mapping[Start, int]
    latest: Mapping[Start, int]

    @property
    def empty(self) -> bool:
        """Whether some moment has no minute left: there is no such plan."""
        return any(self.earliest[key] > self.latest[key] for key in self.earliest)


def first(item: Item) -> Start:
    """The start of a task, or of the first load of a baking."""
    return Start(item.key)


def last(item: Item) -> Start:
    """The start of a task, or of the last load of a baking, which may be the first."""
    return Start(item.key, isinstance(item, Baking) and item.pieces > 1)


def minutes(item: Item) -> tuple[int, int]:
    """The least and the most minutes that an item takes, over its ways."""
    if isinstance(item, Baking):
        return item.minutes, item.minutes
    every = [way.minutes for way in item.ways]
    return min(every), max(every)


def steps(problem: Problem) -> Iterator[Lead]:
    """Steps from the lags, both ways, and from a last load not coming before the first."""
    for item in problem.items.values():
        if first(item) != last(item):
            yield Lead(first(item), last(item), 0)
        for lag in item.after:
            other = problem.items[lag.task]
            shortest, longest = minutes(other) if lag.since is Since.END else (0, 0)
            yield Lead(last(other), first(item), shortest + lag.least)
            if lag.most is not None:
                yield Lead(last(item), last(other), -longest - lag.most)


def windows(problem: Problem, known: Iterable[Lead], horizon: int) -> Windows:
    """The windows that remain for a plan that is ready at `horizon`."""
    own = list(known)
    earliest = _earliest(problem, own, horizon)
    return Windows(earliest, _latest(problem, own, horizon))


def earliest_ready(problem: Problem, known: Iterable[Lead], horizon: int) -> int:
    """The minute before which no plan that keeps these steps can be ready."""
    earliest = _earliest(problem, list(known), horizon)
    return max(
        earliest[last(item)] + minutes(item)[0] + item.then_min for item in problem.items.values()
    )


def _earliest(problem: Problem, known: list[Lead], horizon: int) -> dict[Start, int]:
    hot = min((oven.hot_from or 0 for oven in problem.ovens), default=0)
    found: dict[Start, int] = {}
    for item in problem.items.values():
        found[first(item)] = found[last(item)] = item.earliest if isinstance(item, Task) else hot
    return raised(found, ((step.sooner, step.later, step.least) for step in known), horizon + 1)


def _latest(problem: Problem, known: list[Lead], horizon: int) -> dict[Start, int]:
    """The same backward: the time left to the horizon after each moment, as negative numbers."""
    found: dict[Start, int] = {}
    for item in problem.items.values():
        latest = horizon - item.then_min - minutes(item)[0]
        if isinstance(item, Task) and item.latest is not None:
            latest = min(latest, item.latest)
        found[first(item)] = found[last(item)] = -latest
    back = ((step.later, step.sooner, step.least) for step in known)
    return {key: -value for key, value in raised(found, back, 1).items()}


def raised(
    values: dict[Key, int], edges: Iterable[tuple[Key, Key, int]], stop: int
) -> dict[Key, int]:
    """The least values, none below its own, that keep the distance of each edge.

    Nothing is raised above `stop`, so that a contradiction comes to an end.
    """
    following = _by_first(edges)
    waiting = deque(values)
    queued = set(values)
    while waiting:
        one = waiting.popleft()
        queued.discard(one)
        for other, least in following.get(one, ()):
            value = min(stop, values[one] + least)
            if value > values[other]:
                values[other] = value
                if other not in queued:
                    queued.add(other)
                    waiting.append(other)
    return values


def _by_first(edges: Iterable[tuple[Key, Key, int]]) -> dict[Key, list[tuple[Key, int]]]:
    found: dict[Key, list[tuple[Key, int]]] = {}
    for start, end, least in edges:
        found.setdefault(start, []).append((end, least))
    return found


class Order:
    """Which moments are known to follow each other, whatever the plan."""

    def __init__(self, known: Iterable[Lead]) -> None:
        self._edges = _by_first(
            (step.sooner, step.later, step.least) for step in known if step.least >= 0
        )
        self._from: dict[Start, dict[Start, int]] = {}

    def apart(self, sooner: Start, later: Start, least: int) -> bool:
        """Whether `later` is certainly at least some minutes after `sooner`."""
        if sooner not in self._from:
            self._from[sooner] = self._longest(sooner)
        return self._from[sooner].get(later, -1) >= least

    def _longest(self, start: Start) -> dict[Start, int]:
        found = {start: 0}
        waiting = deque([start])
        while waiting:
            moment = waiting.popleft()
            for other, least in self._edges.get(moment, ()):
                if found[moment] + least > found.get(other, -1):
                    found[other] = found[moment] + least
                    waiting.append(other)
        return found
