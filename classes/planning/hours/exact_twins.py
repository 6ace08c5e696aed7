"""Jobs that are alike, such as those of stations that all bake the same: any two can change places.

Two jobs are twins when the problem stays the same with their tasks, and the resources that are
theirs alone, exchanged. Of all plans that differ only in who is first, one is enough; `Twins.rows`
says how far they can be put in order:

* always by the start of one of their tasks;
* by the start of every task, when nothing in a job depends on the order of its own tasks but lags.
  Starts of one row, put in order, keep every lag that each job kept (if a <= b in every pair, the
  smallest a <= the smallest b, and so on), and tasks and stays take together what they took before.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from classes.planning.hours.exact_windows import Item, Order, Step, first, last, minutes
from classes.planning.hours.work import Baking, Problem, Stay, Task

Names = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Twins:
    """Jobs that are alike: for each task of theirs a row of its keys, job by job.

    `in_order` is whether every row can be put in order, and not only the first one.
    """

    rows: tuple[tuple[str, ...], ...]
    in_order: bool

    @property
    def jobs(self) -> tuple[tuple[str, ...], ...]:
        """The keys of each job, in the order of the rows."""
        return tuple(zip(*self.rows, strict=True))


def all_twins(problem: Problem, order: Order) -> tuple[Twins, ...]:
    """All groups of at least two jobs that are alike."""
    facts = _Facts(problem)
    groups: list[list[str]] = []
    for job in problem.jobs:
        for group in groups:
            if facts.are_twins(group[-1], job):
                group.append(job)
                break
        else:
            groups.append([job])
    return tuple(_twins(problem, facts, order, group) for group in groups if len(group) > 1)


def _twins(problem: Problem, facts: _Facts, order: Order, group: list[str]) -> Twins:
    rows = zip(*([one.key for one in problem.jobs[job]] for job in group), strict=True)
    return Twins(tuple(rows), _can_be_ordered(problem, facts, order, group))


class _Facts:
    """The problem taken apart by what each part names, to compare it with names exchanged."""

    def __init__(self, problem: Problem) -> None:
        self._problem = problem
        self._shapes = {job: _shape(members) for job, members in problem.jobs.items()}
        self._naming: dict[str, list[object]] = {}
        for item in problem.items.values():
            for name in _names(item):
                self._naming.setdefault(name, []).append(item)
        for stay in problem.stays:
            for name in {stay.resource, stay.after, stay.until}:
                self._naming.setdefault(name, []).append(stay)

    def are_twins(self, one: str, other: str) -> bool:
        """Whether the problem stays the same with the two jobs exchanged."""
        if self._shapes[one] != self._shapes[other]:
            return False
        names = self.exchange(one, other)
        if names is None:
            return False
        concerned = [part for name in names for part in self._naming.get(name, ())]
        before = {_plain(part) for part in concerned}
        return before == {_plain(_renamed(part, names)) for part in concerned}

    def exchange(self, one: str, other: str) -> Names | None:
        """Each name of one job to that of the other and back; None where they do not match."""
        found: dict[str, str] = {}
        pairs = zip(self._problem.jobs[one], self._problem.jobs[other], strict=True)
        for left, right in pairs:
            for a, b in zip(_ordered_names(left), _ordered_names(right), strict=True):
                if a == b and a not in found:
                    continue
                if found.setdefault(a, b) != b or found.setdefault(b, a) != a:
                    return None
        capacity = self._problem.capacity
        if any(capacity.get(a) != capacity.get(b) for a, b in found.items()):
            return None
        return {**found, one: other, other: one}


def _shape(members: Iterable[Item]) -> object:
    """What twins have in common at the least."""
    return tuple(
        (type(item), minutes(item), item.then_min, len(_ordered_names(item))) for item in members
    )


def _ordered_names(item: Item) -> list[str]:
    """The names of an item, those of the same meaning in the same place."""
    lags = [lag.task for lag in item.after]
    if isinstance(item, Baking):
        return [item.key, *lags, *([item.hands] if item.hands else [])]
    return [item.key, *lags, *(use.resource for way in item.ways for use in way.uses)]


def _names(item: Item) -> set[str]:
    return {*_ordered_names(item), item.job}


def _renamed(part: object, names: Names) -> object:
    def new(name: str) -> str:
        return names.get(name, name)

    if isinstance(part, Stay):
        return Stay(new(part.resource), part.amount, new(part.after), new(part.until))
    assert isinstance(part, Task | Baking)  # noqa: S101
    lags = tuple(replace(lag, task=new(lag.task)) for lag in part.after)
    if isinstance(part, Baking):
        hands = part.hands and new(part.hands)
        return replace(part, key=new(part.key), job=new(part.job), after=lags, hands=hands)
    ways = tuple(
        replace(way, uses=tuple(replace(use, resource=new(use.resource)) for use in way.uses))
        for way in part.ways
    )
    return replace(part, key=new(part.key), job=new(part.job), after=lags, ways=ways)


def _plain(part: object) -> object:
    """A part without the order in which it names lags and uses."""
    if isinstance(part, Task):
        ways = tuple((way.minutes, frozenset(way.uses)) for way in part.ways)
        return replace(part, after=(), ways=()), frozenset(part.after), ways
    if isinstance(part, Baking):
        return replace(part, after=()), frozenset(part.after)
    return part


def _can_be_ordered(problem: Problem, facts: _Facts, order: Order, group: list[str]) -> bool:
    members = problem.jobs[group[0]]
    names = facts.exchange(group[0], group[1]) or {}
    keys = {one.key for one in members}
    return (
        all(minutes(one)[0] == minutes(one)[1] for one in members)
        and all(stay.resource not in names for stay in problem.stays)
        and all(_own_in_order(problem, order, keys, name) for name in names)
        and not any(_needs_its_end(problem, one) for one in members if isinstance(one, Baking))
    )


def _own_in_order(problem: Problem, order: Order, keys: set[str], resource: str) -> bool:
    """Whether lags alone keep the tasks of a job apart that take a resource of its own."""
    users = [item for item in problem.items.values() if item.key in keys]
    taking = [(item, held) for item in users if (held := held_for(item, resource))]
    return all(
        in_turn(order, left, right) or (isinstance(left[0], Baking) and isinstance(right[0], Baking))
        for left, right in combinations(taking, 2)
    )


def held_for(item: Item, resource: str) -> int:
    """For how long an item takes a resource from its start on, at the most; 0 for not at all."""
    if isinstance(item, Baking):
        return item.hands_min if item.hands == resource else 0
    taking = [way for way in item.ways if any(use.resource == resource for use in way.uses)]
    return max((way.minutes for way in taking), default=0)


def in_turn(order: Order, one: tuple[Item, int], other: tuple[Item, int]) -> bool:
    """Whether lags alone keep two items apart that each take something for so long."""
    (left, left_min), (right, right_min) = one, other
    return order.apart(last(left), first(right), left_min) or order.apart(
        last(right), first(left), right_min
    )


def _needs_its_end(problem: Problem, baking: Baking) -> bool:
    """Whether something must not be late after the last load, so that it must stay where it is."""
    lags = [lag for item in problem.items.values() for lag in item.after]
    return any(lag.task == baking.key and lag.most is not None for lag in lags) or any(
        stay.after == baking.key for stay in problem.stays
    )


def steps_between(problem: Problem, twins: Twins) -> Iterator[Step]:
    """What the order of twins adds to the lags."""
    rows = twins.rows if twins.in_order else twins.rows[:1]
    for row in rows:
        for sooner, later in pairwise(problem.items[key] for key in row):
            yield Step(last(sooner), first(later), 0)
    if twins.in_order:
        for row in twins.rows:
            yield from _steps_of_tasks(problem, [problem.items[key] for key in row])
        for stay in problem.stays:
            yield from _steps_of_stays(problem, twins, stay)


def _steps_of_tasks(problem: Problem, row: list[Item]) -> Iterator[Step]:
    """With room for so many at once, each starts after the one so many before it has ended."""
    if not isinstance(row[0], Task) or len(row[0].ways) > 1:
        return
    for use in row[0].ways[0].uses:
        if all(use in item.ways[0].uses for item in row if isinstance(item, Task)):
            at_once = problem.capacity[use.resource] // use.amount
            for sooner, later in zip(row, row[at_once:], strict=False):
                yield Step(first(sooner), first(later), minutes(sooner)[0])


def _steps_of_stays(problem: Problem, twins: Twins, stay: Stay) -> Iterator[Step]:
    """The same for stays: with room for so many, one begins when an earlier one has ended."""
    if stay.after != twins.rows[0][0]:
        pass
    after = next((row for row in twins.rows if row[0] == stay.after), None)
    until = next((row for row in twins.rows if row[0] == stay.until), None)
    if after is None or until is None:
        return
    at_once = problem.capacity[stay.resource] // stay.amount
    for sooner, later in zip(until, after[at_once:], strict=False):
        start = problem.items[later]
        yield Step(last(problem.items[sooner]), first(start), -minutes(start)[0])
