"""What no plan can beat: the longest chain, and the work that a scarce resource has to do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from classes.planning.hours.work import Baking, Lag, Problem, Since, Task


@dataclass(frozen=True, slots=True)
class Paths:
    """For every task the earliest start, its shortest way, and the least from start to ready."""

    head: Mapping[str, int]
    minutes: Mapping[str, int]
    rest: Mapping[str, int]

    def tail(self, key: str) -> int:
        """The least from the end of a task until all that follows it is ready."""
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
    """Heads and tails along the least lags, resources left aside."""
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
    scarce = [_resource_bound(problem, span, one.key) for one in problem.resources]
    return max([0, *chains, *scarce, _oven_bound(problem, span)])


def _resource_bound(problem: Problem, span: Paths, resource: str) -> int:
    """Least head, all the work that must pass through, least tail; for the best set of heads."""
    users = [
        (span.head[task.key], span.tail(task.key), work)
        for task in problem.tasks
        if (work := _least_work(task, resource))
    ]
    capacity = problem.capacity[resource]
    return max((_windows(users, capacity, head) for head in {user[0] for user in users}), default=0)


def _windows(users: Iterable[tuple[int, int, int]], capacity: int, head: int) -> int:
    """The bound over the users from a head on, for each tail that cuts some of them off."""
    later = sorted((user for user in users if user[0] >= head), key=lambda user: -user[1])
    best, work = 0, 0
    for _, tail, own in later:
        work += own
        best = max(best, head + -(-work // capacity) + tail)
    return best


def _least_work(task: Task, resource: str) -> int:
    """What every way of a task takes of a resource at least, in amounts times minutes."""
    return min(
        way.minutes * sum(use.amount for use in way.uses if use.resource == resource)
        for way in task.ways
    )


def _oven_bound(problem: Problem, span: Paths) -> int:
    """Some oven bakes as many loads, one after the other, as all ovens need rounds."""
    places = sum(oven.slots for oven in problem.ovens)
    if not problem.bakings or not places:
        return 0
    turn = min(oven.turnaround_min for oven in problem.ovens)
    return max(_rounds(problem, span, places, turn, head) for head in _heads(problem, span))


def _heads(problem: Problem, span: Paths) -> set[int]:
    return {span.head[baking.key] for baking in problem.bakings}


def _rounds(problem: Problem, span: Paths, places: int, turn: int, head: int) -> int:
    late = [baking for baking in problem.bakings if span.head[baking.key] >= head]
    rounds = -(-sum(baking.pieces for baking in late) // places)
    minutes = min(baking.minutes for baking in late)
    tail = min(span.tail(baking.key) for baking in late)
    return head + rounds * (minutes + turn) - turn + tail
