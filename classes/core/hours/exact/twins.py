"""Work that is alike, such as that of stations that bake the same: any two can change places.

Two parts of the work are twins if the problem stays the same when their tasks, and the resources
that only they use, are exchanged. Of all plans that differ only in who is first, one is enough;
`Twins.rows` says how far they can be put in order:

* always by the start of one of their tasks;
* by the start of every task, when nothing in a part depends on the order of its own tasks but
  lags. Starts of one row, put in order, keep every lag that each part kept (if a <= b in every
  pair, the smallest a <= the smallest b, and so on), and tasks and stays take together what they
  took before.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations, pairwise

from classes.core.hours.exact.windows import Item, Lead, Order, first, last, minutes
from classes.core.hours.problem.work import Baking, Problem, Stay, Task

Names = Mapping[str, str]
Part = Task | Baking | Stay


@dataclass(frozen=True, slots=True)
class Twins:
    """Parts of the work that are alike: for each of their tasks a row of keys, part by part.

    `in_order` is whether every row can be put in order, and not only the first one.
    """

    rows: tuple[tuple[str, ...], ...]
    in_order: bool

    @property
    def parts(self) -> tuple[tuple[str, ...], ...]:
        """The keys of each part, in the order of the rows."""
        return tuple(zip(*self.rows, strict=True))


def all_twins(problem: Problem, order: Order) -> tuple[Twins, ...]:
    """All groups of at least two parts of the work that are alike."""
    search = _Separation(problem)
    groups: list[list[Names]] = []
    taken: set[str] = set()
    for job, members in problem.jobs.items():
        if members[0].key in taken:
            continue
        group = search.twins_of(job, taken)
        if group:
            taken.update(name for names in group for pair in names.items() for name in pair)
            groups.append(group)
    return tuple(_twins(problem, order, group) for group in groups)


def _twins(problem: Problem, order: Order, group: list[Names]) -> Twins:
    """From the names of the first part to those of each other one."""
    keys = [key for key in group[0] if key in problem.items]
    rows = [(key, *(names[key] for names in group)) for key in keys]
    in_order = _can_be_ordered(problem, order, group, rows)
    if not in_order:
        rows.sort(key=lambda row: _scarcity(problem, row), reverse=True)
    return Twins(tuple(rows), in_order)


def _scarcity(problem: Problem, row: tuple[str, ...]) -> Fraction:
    """How much of a resource's time the tasks of a row need, if all of them take it."""
    ways = [way for key in row if isinstance(item := problem.items[key], Task) for way in item.ways]
    scarce = [
        Fraction(use.amount * ways[0].minutes, problem.capacity[use.resource])
        for use in (ways[0].uses if ways else ())
        if all(use in way.uses for way in ways)
    ]
    return max(scarce, default=Fraction(0))


class _Separation:
    """The problem split by what each part of it names."""

    def __init__(self, problem: Problem) -> None:
        self._problem = problem
        self._naming: dict[str, list[Part]] = {}
        parts: list[Part] = [*problem.items.values(), *problem.stays]
        for part in parts:
            for name in dict.fromkeys(_names(part)):
                self._naming.setdefault(name, []).append(part)

    def twins_of(self, job: str, taken: set[str]) -> list[Names]:
        """The names of a job and of everything tied to it, in each part that is its twin."""
        found: list[Names] = []
        own = self._problem.jobs[job]
        for other, members in self._problem.jobs.items():
            if other == job or len(members) != len(own) or members[0].key in taken:
                continue
            if any(members[0].key in names.values() or other in names for names in found):
                continue
            names = self._exchange(job, other)
            if names and (not found or names.keys() == found[0].keys()) and self._same(names):
                found.append(names)
        return found

    def _exchange(self, job: str, other: str) -> Names | None:
        """Names to exchange, starting from two jobs, with everything tied to them."""
        found = _Pairs()
        pairs = zip(self._problem.jobs[job], self._problem.jobs[other], strict=True)
        waiting = deque[tuple[str, str]]()
        for part, another in pairs:
            if not found.match(part, another, waiting):
                return None
        while waiting:
            left, right = waiting.popleft()
            if not self._tied(left, right, found, waiting):
                return None
        return found.names

    def _tied(self, left: str, right: str, found: _Pairs, waiting: deque[tuple[str, str]]) -> bool:
        """Match what names only one of two names; what names both stays in place."""
        if self._problem.capacity.get(left) != self._problem.capacity.get(right):
            return False
        for_left, for_right = self._naming.get(left, []), self._naming.get(right, [])
        both = {id(part) for part in for_left} & {id(part) for part in for_right}
        ones = [part for part in for_left if id(part) not in both]
        others = [part for part in for_right if id(part) not in both]
        return len(ones) == len(others) and all(
            found.match(one, other, waiting) for one, other in zip(ones, others, strict=True)
        )

    def _same(self, names: Names) -> bool:
        """Whether the problem stays the same with these names exchanged."""
        both = {**names, **{new: old for old, new in names.items()}}
        concerned = {id(part): part for name in both for part in self._naming.get(name, ())}
        before = Counter(_plain(part) for part in concerned.values())
        return before == Counter(_plain(_renamed(part, both)) for part in concerned.values())


class _Pairs:
    """Names of one side and those of the other that they are exchanged with."""

    def __init__(self) -> None:
        self.names: dict[str, str] = {}
        self._back: dict[str, str] = {}

    def match(self, one: Part, other: Part, waiting: deque[tuple[str, str]]) -> bool:
        """Pair the names of two parts; whether they can be."""
        left, right = _names(one), _names(other)
        return (
            type(one) is type(other)
            and len(left) == len(right)
            and all(self._pair(a, b, waiting) for a, b in zip(left, right, strict=True))
        )

    def _pair(self, left: str, right: str, waiting: deque[tuple[str, str]]) -> bool:
        if left == right:
            return left not in self.names and left not in self._back
        if self.names.get(left) == right:
            return True
        if {left, right} & (self.names.keys() | self._back.keys()):
            return False
        self.names[left], self._back[right] = right, left
        waiting.append((left, right))
        return True


def _names(part: Part) -> list[str]:
    """What a part of the problem names, with names of the same meaning in the same place."""
    if isinstance(part, Stay):
        return [part.resource, part.after, part.until]
    lags = [lag.task for lag in part.after]
    if isinstance(part, Baking):
        return [part.key, part.job, *lags, *([part.hands] if part.hands else [])]
    return [part.key, part.job, *lags, *(use.resource for way in part.ways for use in way.uses)]


def _renamed(part: Part, names: Names) -> Part:
    def new(name: str) -> str:
        return names.get(name, name)

    if isinstance(part, Stay):
        return Stay(new(part.resource), part.amount, new(part.after), new(part.until))
    lags = tuple(replace(lag, task=new(lag.task)) for lag in part.after)
    if isinstance(part, Baking):
        hands = part.hands and new(part.hands)
        return replace(part, key=new(part.key), job=new(part.job), after=lags, hands=hands)
    ways = tuple(
        replace(way, uses=tuple(replace(use, resource=new(use.resource)) for use in way.uses))
        for way in part.ways
    )
    return replace(part, key=new(part.key), job=new(part.job), after=lags, ways=ways)


def _plain(part: Part) -> object:
    """A part with its lags and uses in no particular order."""
    if isinstance(part, Task):
        ways = tuple((way.minutes, frozenset(Counter(way.uses).items())) for way in part.ways)
        return replace(part, after=(), ways=()), frozenset(part.after), ways
    if isinstance(part, Baking):
        return replace(part, after=()), frozenset(part.after)
    return part


def _can_be_ordered(
    problem: Problem, order: Order, group: list[Names], rows: list[tuple[str, ...]]
) -> bool:
    members = [problem.items[row[0]] for row in rows]
    parts = {key: n for row in rows for n, key in enumerate(row)}
    return (
        all(minutes(member)[0] == minutes(member)[1] for member in members)
        and all(stay.resource not in group[0] for stay in problem.stays)
        and all(_own_in_order(problem, order, parts, name) for name in group[0])
        and not any(
            needs_its_end(problem, member) for member in members if last(member) != first(member)
        )
    )


def _own_in_order(problem: Problem, order: Order, parts: Mapping[str, int], resource: str) -> bool:
    """Whether only one twin takes a resource, and lags alone keep its tasks apart there."""
    taking = [
        (item, held)
        for item in problem.items.values()
        if item.key in parts and (held := held_for(item, resource))
    ]
    return len({parts[item.key] for item, _ in taking}) < 2 and all(
        in_turn(order, one, other) or (isinstance(one[0], Baking) and isinstance(other[0], Baking))
        for one, other in combinations(taking, 2)
    )


def held_for(item: Item, resource: str) -> int:
    """The most time that an item takes a resource from its start on; 0 if not at all."""
    if isinstance(item, Baking):
        return item.hands_min if item.hands == resource else 0
    taking = [way for way in item.ways if any(use.resource == resource for use in way.uses)]
    return max((way.minutes for way in taking), default=0)


def in_turn(order: Order, one: tuple[Item, int], other: tuple[Item, int]) -> bool:
    """Whether lags alone keep apart two items that each take something for some minutes."""
    (left, left_min), (right, right_min) = one, other
    return order.apart(last(left), first(right), left_min) or order.apart(
        last(right), first(left), right_min
    )


def needs_its_end(problem: Problem, item: Item) -> bool:
    """Whether something relies on a last load not being earlier than stated."""
    lags = [lag for other in problem.items.values() for lag in other.after]
    return any(lag.task == item.key and lag.most is not None for lag in lags) or any(
        stay.after == item.key for stay in problem.stays
    )


def steps_between(problem: Problem, twins: Twins) -> Iterator[Lead]:
    """What the order of twins adds to the lags."""
    rows = [[problem.items[key] for key in row] for row in twins.rows]
    if not twins.in_order:
        for sooner, later in pairwise(rows[0]):
            yield Lead(first(sooner), first(later), 0)
        yield from _steps_of_tasks(problem, rows[0])
        return
    for row in rows:
        for sooner, later in pairwise(row):
            yield Lead(last(sooner), first(later), 0)
        yield from _steps_of_tasks(problem, row)
    for stay in problem.stays:
        yield from _steps_of_stays(problem, twins, stay)


def _steps_of_tasks(problem: Problem, row: list[Item]) -> Iterator[Lead]:
    """With room for a number at once, each starts after one of those before it has ended.

    None of them has ended before the first of them could have.
    """
    tasks = [item for item in row if isinstance(item, Task)]
    at_once = sum(_at_once(problem, tasks, n) for n in range(len(tasks[0].ways))) if tasks else 0
    for sooner, later in zip(tasks, tasks[at_once:], strict=False):
        if at_once:
            yield Lead(first(sooner), first(later), minutes(sooner)[0])


def _at_once(problem: Problem, tasks: list[Task], way: int) -> int:
    """How many of a row can be done in one way at the same time."""
    shared = [
        problem.capacity[use.resource] // use.amount
        for use in tasks[0].ways[way].uses
        if use.amount and all(use in task.ways[way].uses for task in tasks)
    ]
    return min(shared, default=len(tasks))


def _steps_of_stays(problem: Problem, twins: Twins, stay: Stay) -> Iterator[Lead]:
    """With room for only a number, a stay begins when an earlier one has ended."""
    after = next((row for row in twins.rows if row[0] == stay.after), None)
    until = next((row for row in twins.rows if row[0] == stay.until), None)
    if after is None or until is None or not stay.amount:
        return
    at_once = problem.capacity[stay.resource] // stay.amount
    for sooner, later in zip(until, after[at_once:], strict=False):
        start = problem.items[later]
        yield Lead(last(problem.items[sooner]), first(start), -minutes(start)[0])
