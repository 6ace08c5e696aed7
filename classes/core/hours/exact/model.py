"""The whole problem as a model for the constraint solver."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from classes.core.hours.exact.draft import Before, ModelDraft
from classes.core.hours.exact.hands import add_gatherings, add_hands
from classes.core.hours.exact.ovens import OvenVars, add_ovens
from classes.core.hours.exact.twins import in_turn
from classes.core.hours.exact.windows import Item, Start, first, last, minutes
from classes.core.hours.problem.work import Since, Stay, Task, TaskOption

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import IntervalVar, IntVar, LinearExpr


@dataclass(frozen=True, slots=True)
class TakenInterval:
    """An amount of a resource for the time of an interval.

    `longest` is the most minutes of the interval and `work` its minutes times the amount; both are
    None for a stay, whose length is open.
    """

    item: Item
    interval: IntervalVar
    amount: int
    longest: int | None = None
    work: LinearExpr | int | None = None


def add_resources(draft: ModelDraft, decided: frozenset[str]) -> None:
    """The capacity of every resource, except those that are already decided."""
    for resource, capacity in draft.problem.capacity.items():
        taken = list(_of_one(draft, resource))
        if resource not in decided and not _is_plenty(draft, taken, capacity):
            _add_capacity(draft, taken, capacity)
    for pool in _pools(draft):
        taken = list(_of_pool(draft, pool))
        capacity = sum(draft.problem.capacity[resource] for resource in pool)
        if not _is_plenty(draft, taken, capacity):
            _add_capacity(draft, taken, capacity)


def _of_one(draft: ModelDraft, resource: str) -> Iterator[TakenInterval]:
    for task, n, way in draft.working_ways():
        if amount := _amount(way, {resource}):
            chosen = draft.ways[task.key][n] if task.key in draft.ways else 1
            work = amount * way.minutes * chosen
            yield TakenInterval(task, draft.interval(task, n), amount, way.minutes, work)
    for stay in draft.problem.stays:
        if stay.resource == resource:
            yield _stay(draft, stay)


def _amount(way: TaskOption, resources: Iterable[str]) -> int:
    return sum(use.amount for use in way.uses if use.resource in resources)


def _stay(draft: ModelDraft, stay: Stay) -> TakenInterval:
    after, until = draft.problem.items[stay.after], draft.problem.items[stay.until]
    longest = draft.windows.latest[last(until)] - draft.windows.earliest[last(after)]
    size = draft.model.new_int_var(0, max(0, longest), "")
    interval = draft.model.new_interval_var(draft.end(after), size, draft.last_start(until), "")
    return TakenInterval(after, interval, stay.amount)


def _is_plenty(draft: ModelDraft, taken: list[TakenInterval], capacity: int) -> bool:
    """Whether there is enough for all at once, or lags or ways keep all apart."""
    return sum(interval.amount for interval in taken) <= capacity or all(
        one.longest is not None
        and other.longest is not None
        and (
            one.item.key == other.item.key
            or in_turn(draft.order, (one.item, one.longest), (other.item, other.longest))
        )
        for one, other in combinations(taken, 2)
    )


def _add_capacity(draft: ModelDraft, taken: list[TakenInterval], capacity: int) -> None:
    if capacity == 1 and all(interval.longest is not None for interval in taken):
        draft.model.add_no_overlap(interval.interval for interval in taken)
        return
    _add_work(draft, taken, capacity)
    everything = [*taken, *_in_the_way(draft, taken, capacity)]
    draft.model.add_cumulative(
        [item.interval for item in everything], [item.amount for item in everything], capacity
    )


def _add_work(draft: ModelDraft, taken: list[TakenInterval], capacity: int) -> None:
    """If tasks have several ways: no more work than there is time for."""
    if not any(interval.item.key in draft.ways for interval in taken):
        return
    works = [interval.work for interval in taken if interval.work is not None]
    if len(works) == len(taken):
        earliest = min(draft.windows.earliest[first(interval.item)] for interval in taken)
        latest = max(
            draft.windows.latest[first(interval.item)] + (interval.longest or 0)
            for interval in taken
        )
        draft.model.add(sum(works) <= capacity * (latest - earliest))


def _in_the_way(
    draft: ModelDraft, taken: list[TakenInterval], capacity: int
) -> Iterator[TakenInterval]:
    """Tasks during which nobody can take the resource, such as a demonstration that all watch.

    They share something that exists once with everybody who takes it. The rules hold without them,
    but with them the solver sees that the time is lost.
    """
    tasks = {interval.item.key: interval.item for interval in taken if interval.longest is not None}
    needed = [_single(draft, task) for task in tasks.values() if isinstance(task, Task)]
    if any(interval.longest is None for interval in taken) or not all(needed):
        return
    for task in draft.problem.tasks:
        own, length = _single(draft, task), task.ways[0].minutes
        if task.key in tasks or len(task.ways) > 1 or not length:
            continue
        if all(own & other for other in needed) and not all(
            in_turn(draft.order, (task, length), (interval.item, interval.longest or 0))
            for interval in taken
        ):
            yield TakenInterval(task, draft.interval(task, 0), capacity, length)


def _single(draft: ModelDraft, task: Task) -> set[str]:
    """What a task takes, in each of its ways, of resources that exist once."""
    capacity = draft.problem.capacity
    every = [{use.resource for use in way.uses if use.amount} for way in task.ways]
    return {
        name
        for name in every[0]
        if capacity[name] == 1 and all(name in interval for interval in every)
    }


def _pools(draft: ModelDraft) -> set[frozenset[str]]:
    """Resources that tasks can choose from, such as large and small mixers."""
    found = set()
    for task in draft.problem.tasks:
        ways = [{use.resource for use in way.uses if use.amount} for way in task.ways]
        found.add(frozenset(ways[0].union(*ways) - ways[0].intersection(*ways)))
    return {pool for pool in found if len(pool) > 1}


def _of_pool(draft: ModelDraft, pool: frozenset[str]) -> Iterator[TakenInterval]:
    """What is taken from a pool as a whole, by tasks that take the same amount in every way."""
    for task in draft.problem.tasks:
        amounts = [_amount(way, pool) for way in task.ways]
        if amounts[0] and len(set(amounts)) == 1 and minutes(task)[0]:
            yield _any_way(draft, task, amounts[0])


def _any_way(draft: ModelDraft, task: Task, amount: int) -> TakenInterval:
    shortest, longest = minutes(task)
    if task.key not in draft.ways:
        return TakenInterval(task, draft.interval(task, 0), amount, longest, amount * longest)
    start, size = draft.start(task), draft.model.new_int_var(shortest, longest, "")
    interval = draft.model.new_interval_var(start, size, draft.end(task), "")
    return TakenInterval(task, interval, amount, longest, amount * size)


@dataclass(frozen=True, slots=True)
class Vars:
    """What the solver decides."""

    ready: IntVar
    moments: Mapping[Start, IntVar]
    ways: Mapping[str, tuple[IntVar, ...]]
    ovens: tuple[OvenVars, ...]
    befores: tuple[Before, ...]


def add_problem(draft: ModelDraft, bound: int, horizon: int) -> Vars:
    """All rules for the moments of a draft, and its end, from `bound` to `horizon`."""
    for step in draft.known:
        draft.model.add(draft.moments[step.later] >= draft.moments[step.sooner] + step.least)
    for item in draft.problem.items.values():
        _add_lags(draft, item)
    decided = add_gatherings(draft)
    ovens = add_ovens(draft)
    add_resources(draft, decided)
    add_hands(draft, ovens)
    ready = draft.model.new_int_var(bound, horizon, "")
    for item in draft.problem.items.values():
        draft.model.add(ready >= draft.end(item) + item.then_min)
    return Vars(ready, draft.moments, draft.ways, ovens, tuple(draft.befores))


def _add_lags(draft: ModelDraft, item: Item) -> None:
    """Lags after a task of several ways, whose end depends on the way that is taken."""
    for lag in item.after:
        other = draft.problem.items[lag.task]
        if lag.since is Since.START or other.key not in draft.ways:
            continue
        draft.model.add(draft.start(item) >= draft.end(other) + lag.least)
        if lag.most is not None:
            draft.model.add(draft.last_start(item) <= draft.end(other) + lag.most)
