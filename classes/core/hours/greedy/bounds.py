"""What no plan can beat: the longest chain, and the work that a scarce resource must do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from classes.core.hours.problem.work import Baking, Lag, Problem, Since, Task, TaskOption


@dataclass(frozen=True, slots=True)
class Paths:
    """For every task the earliest start, its shortest way, and the least from start to ready."""

    head: Mapping[str, int]
    minutes: Mapping[str, int]
    rest: Mapping[str, int]

    def tail(self, key: str) -> int:
        """The least time from the end of a task until everything after it is ready."""
        return self.rest[key] - self.minutes[key]


def _shortest(item: Task | Baking) -> int:
    return min(way.minutes for way in item.ways) if isinstance(item, Task) else item.minutes


def _in_order(problem: Problem) -> Iterator[Task | Baking]:
    """Every item after all that its lags name."""
    done: set[str] = set()

    def visit(key: str) -> Iterator[Task | Baking]:
        if key not in done:
            done.add(key)
            item = problem.items[key]
            for lag in item.after:
                yield from visit(lag.task)
            yield item

    for key in problem.items:
        yield from visit(key)


def paths(problem: Problem) -> Paths:
    """Heads and tails along the least lags, ignoring resources."""
    order = list(_in_order(problem))
    minutes = {item.key: _shortest(item) for item in order}
    head: dict[str, int] = {}
    for item in order:
        own = item.earliest if isinstance(item, Task) else _hot(problem)
        ways = [head[lag.task] + _weight(lag, minutes) for lag in item.after]
        head[item.key] = max([own, *ways])
    rest = {item.key: minutes[item.key] + item.then_min for item in order}
    for item in reversed(order):
        for lag in item.after:
            rest[lag.task] = max(rest[lag.task], _weight(lag, minutes) + rest[item.key])
    return Paths(head, minutes, rest)


def _weight(lag: Lag, minutes: Mapping[str, int]) -> int:
    """The least from the start of the task that a lag names to the start of the other."""
    return lag.least + (minutes[lag.task] if lag.since is Since.END else 0)


def _hot(problem: Problem) -> int:
    known = [oven.hot_from for oven in problem.ovens if oven.hot_from is not None]
    return min(known) if len(known) == len(problem.ovens) and known else 0


def lower_bound(problem: Problem) -> int:
    """The minute before which nobody can be ready: the greatest of all bounds below."""
    span = paths(problem)
    chains = [span.head[key] + span.rest[key] for key in problem.items]
    scarce = [
        _resource_bound(users, problem.capacity[resource])
        for resource, users in _users(problem, span).items()
    ]
    return max([0, *chains, *scarce, _oven_bound(problem, span)])


class _User(NamedTuple):
    """A task at a scarce resource: what it takes of it at least, and for how long at least."""

    head: int
    tail: int
    work: int
    minutes: int
    amount: int


def _resource_bound(users: Sequence[_User], capacity: int) -> int:
    """The bound of everything that must pass through a resource, for the best set of heads."""
    return max(_windows(users, capacity, head) for head in {user.head for user in users})


def _windows(users: Iterable[_User], capacity: int, head: int) -> int:
    """For the users from a head on, and each tail that cuts some of them off.

    It counts both their work at full capacity, and the rounds that it takes one after the other.
    """
    later = sorted((user for user in users if user.head >= head), key=lambda user: -user.tail)
    best = work = 0
    minutes, amount = later[0].minutes, later[0].amount
    for count, user in enumerate(later, start=1):
        work += user.work
        minutes, amount = min(minutes, user.minutes), min(amount, user.amount)
        rounds = ceil_div(count, max(1, capacity // amount))
        best = max(best, head + max(ceil_div(work, capacity), rounds * minutes) + user.tail)
    return best


def ceil_div(count: int, parts: int) -> int:
    """`count` over `parts`, rounded up."""
    return -(-count // parts)


def _users(problem: Problem, span: Paths) -> dict[str, list[_User]]:
    """By resource, the tasks that take some of it in every way, and the least they take."""
    found: dict[str, list[_User]] = {}
    for task in problem.tasks:
        taken = [_taken(way) for way in task.ways]
        for resource in taken[0]:
            amounts = [some.get(resource, 0) for some in taken]
            if all(amounts):
                work = min(way.minutes * n for way, n in zip(task.ways, amounts, strict=True))
                minutes, head = span.minutes[task.key], span.head[task.key]
                user = _User(head, span.tail(task.key), work, minutes, min(amounts))
                found.setdefault(resource, []).append(user)
    return found


def _taken(way: TaskOption) -> dict[str, int]:
    taken: dict[str, int] = {}
    for use in way.uses:
        taken[use.resource] = taken.get(use.resource, 0) + use.amount
    return taken


def _oven_bound(problem: Problem, span: Paths) -> int:
    """Some oven must bake as many loads, one after the other, as all ovens need rounds."""
    places = sum(oven.slots for oven in problem.ovens)
    if not problem.bakings or not places:
        return 0
    turn = min(oven.turnaround_min for oven in problem.ovens)
    return max(_rounds(problem, span, places, turn, head) for head in _heads(problem, span))


def _heads(problem: Problem, span: Paths) -> set[int]:
    return {span.head[baking.key] for baking in problem.bakings}


def _rounds(problem: Problem, span: Paths, places: int, turn: int, head: int) -> int:
    late = [baking for baking in problem.bakings if span.head[baking.key] >= head]
    rounds = ceil_div(sum(baking.pieces for baking in late), places)
    minutes = min(baking.minutes for baking in late)
    tail = min(span.tail(baking.key) for baking in late)
    return head + rounds * (minutes + turn) - turn + tail
