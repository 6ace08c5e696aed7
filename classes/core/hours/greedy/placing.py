"""A plan at once: jobs placed one after the other, each as early as the rules allow.

Within a job every task takes the first minute at which its lags and resources allow it. If a task
comes too late after another, the earlier one is delayed by the difference and everything after it
is placed again, so a dough is mixed later rather than left to rise too long. A plan is tried in two
orders of the jobs, as written and the longest first, and the better one is taken.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from classes.core.hours.greedy.bounds import lower_bound, paths
from classes.core.hours.greedy.loading import Loading, Ovens
from classes.core.hours.greedy.timelines import Timeline
from classes.core.hours.problem.work import (
    Baking,
    Lag,
    Plan,
    Problem,
    Since,
    Slot,
    Solved,
    Stay,
    Task,
    TaskOption,
)

MOST_TRIES = 3000
SOLVER = "greedy"

Item = Task | Baking
Undo = Callable[[], None]


@dataclass(eq=False)
class CannotPlace(ValueError):
    """A job that fits nowhere, however late: `key` is the item that could not be placed."""

    job: str
    key: str


def plan_greedily(problem: Problem) -> Solved:
    """A plan that keeps all hard rules, and the bound to compare it with.

    Raises CannotPlace if a job by itself breaks its own rules, such as more loaves than fit before
    the first ones would be over-proofed.
    """
    bound = lower_bound(problem)
    best: Solved | None = None
    failed: CannotPlace | None = None
    for order in _orders(problem):
        try:
            plan = _Placing(problem).place(order)
        except CannotPlace as error:
            failed = failed or error
            continue
        ready = plan.ready(problem)
        if best is None or ready < best.ready:
            best = Solved(plan, ready, min(bound, ready), SOLVER)
        if ready <= bound:
            break
    if best is None:
        raise failed or CannotPlace("", "")
    return best


def _orders(problem: Problem) -> Iterator[tuple[str, ...]]:
    """Jobs as written, then the longest first; a job always after those its lags name."""
    written = _sorted(problem, dict.fromkeys(problem.jobs, 0))
    yield written
    span = paths(problem)
    lengths = {
        job: -max(span.head[member.key] + span.rest[member.key] for member in members)
        for job, members in problem.jobs.items()
    }
    longest = _sorted(problem, lengths)
    if longest != written:
        yield longest


def _sorted(problem: Problem, priority: dict[str, int]) -> tuple[str, ...]:
    """Jobs by priority and then as written, each after the jobs it waits for."""
    rank = {job: n for n, job in enumerate(problem.jobs)}
    waits = {job: _jobs_before(problem, job) for job in problem.jobs}
    followers: dict[str, list[str]] = {job: [] for job in problem.jobs}
    for job, before in waits.items():
        for earlier in before:
            followers[earlier].append(job)
    free = [(priority[job], rank[job], job) for job, before in waits.items() if not before]
    heapq.heapify(free)
    order = []
    while free:
        *_, job = heapq.heappop(free)
        order.append(job)
        for follower in followers[job]:
            waits[follower].discard(job)
            if not waits[follower]:
                heapq.heappush(free, (priority[follower], rank[follower], follower))
    if len(order) < len(rank):
        raise ValueError("jobs wait for each other in a circle")
    return tuple(order)


def _jobs_before(problem: Problem, job: str) -> set[str]:
    named = {lag.task for item in problem.jobs[job] for lag in item.after}
    return {problem.items[key].job for key in named} - {job}


def _all(undos: Iterable[Undo]) -> None:
    for undo in undos:
        undo()


class _Placing:
    """One run over all jobs; everything it places can be removed again."""

    def __init__(self, problem: Problem) -> None:
        self._problem = problem
        self._lines = {resource.key: Timeline(resource.capacity) for resource in problem.resources}
        self._ovens = Ovens(problem, self._lines)
        self._slots: dict[str, Slot] = {}
        self._ends: dict[str, int] = {}
        self._starts: dict[str, int] = {}
        self._stays: dict[str, list[Stay]] = {}
        for stay in problem.stays:
            self._stays.setdefault(stay.until, []).append(stay)

    def place(self, order: Iterable[str]) -> Plan:
        for job in order:
            self._place_job(job, self._problem.jobs[job])
        return Plan(dict(self._slots), self._ovens.loads())

    def _place_job(self, job: str, members: Sequence[Item]) -> None:
        index = {member.key: n for n, member in enumerate(members)}
        not_before = {
            member.key: member.earliest if isinstance(member, Task) else 0 for member in members
        }
        laid: list[Undo] = []
        tries = 0
        while len(laid) < len(members):
            item = members[len(laid)]
            later = self._lay(item, not_before[item.key], index, laid)
            if later is None:
                continue
            tries += 1
            key, minutes = later
            if tries > MOST_TRIES or key not in index:
                raise CannotPlace(job, item.key)
            not_before[key] = self._starts[key] + minutes
            while len(laid) > index[key]:
                laid.pop()()

    def _lay(
        self, item: Item, not_before: int, index: dict[str, int], laid: list[Undo]
    ) -> tuple[str, int] | None:
        """Place an item and note how to remove it; or say what must be delayed, and how far."""
        earliest = max([not_before, *(self._since(lag) + lag.least for lag in item.after)])
        if isinstance(item, Task):
            start, way = self._first_way(item, earliest)
            if item.latest is not None and start > item.latest:
                raise CannotPlace(item.job, item.key)
            last, end = start, start + item.ways[way].minutes
            loading = None
        elif not self._problem.ovens:
            raise CannotPlace(item.job, item.key)
        else:
            loading = self._ovens.offer(item, earliest)
            start, last, end = loading.first, loading.last, loading.end
        if late := self._too_late(item, last) or self._no_room(item, last):
            return late
        self._starts[item.key], self._ends[item.key] = last, end
        undo = self._occupy(item, start, loading, way if isinstance(item, Task) else 0)
        undos = [undo, *(self._stand(stay, last) for stay in self._stays.get(item.key, ()))]
        laid.append(lambda: _all(undos))
        return None

    def _since(self, lag: Lag) -> int:
        known = self._ends if lag.since is Since.END else self._starts
        return known[lag.task]

    def _first_way(self, task: Task, earliest: int) -> tuple[int, int]:
        """The start and way that end first; the earlier way if two end together."""
        found = [(self._first_start(way, earliest), n) for n, way in enumerate(task.ways)]
        return min(found, key=lambda option: (option[0] + task.ways[option[1]].minutes, option[1]))

    def _first_start(self, way: TaskOption, start: int) -> int:
        while True:
            moved = start
            for use in way.uses:
                line = self._lines[use.resource]
                moved = line.next_room(moved, way.minutes, use.amount)
                moved = self._ovens.hands_free(use.resource, moved, way.minutes)
            if moved == start:
                return start
            start = moved

    def _too_late(self, item: Item, last: int) -> tuple[str, int] | None:
        for lag in item.after:
            if lag.most is not None and last > self._since(lag) + lag.most:
                return lag.task, last - self._since(lag) - lag.most
        return None

    def _no_room(self, item: Item, last: int) -> tuple[str, int] | None:
        for stay in self._stays.get(item.key, ()):
            since = self._ends[stay.after]
            try:
                room = self._lines[stay.resource].next_room(since, last - since, stay.amount)
            except ValueError:
                raise CannotPlace(item.job, item.key) from None
            if room > since:
                return stay.after, room - since
        return None

    def _occupy(self, item: Item, start: int, loading: Loading | None, way: int) -> Undo:
        if loading is not None:
            return self._ovens.load(loading)
        assert isinstance(item, Task)  # noqa: S101
        chosen = item.ways[way]
        end = start + chosen.minutes
        self._slots[item.key] = Slot(start, way)
        for use in chosen.uses:
            self._lines[use.resource].add(start, end, use.amount)

        def lift() -> None:
            for use in chosen.uses:
                self._lines[use.resource].add(start, end, -use.amount)

        return lift

    def _stand(self, stay: Stay, until: int) -> Undo:
        since, line = self._ends[stay.after], self._lines[stay.resource]
        line.add(since, until, stay.amount)
        return lambda: line.add(since, until, -stay.amount)
