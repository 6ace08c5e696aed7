"""What all parts of the exact model share: its variables, and what is known of them beforehand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from classes.core.hours.exact.twins import Twins
from classes.core.hours.exact.windows import Item, Lead, Order, Start, Windows, first, last, minutes
from classes.core.hours.problem.work import Problem, Task, TaskOption

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import CpModel, IntervalVar, IntVar, LinearExpr


@dataclass(frozen=True, slots=True)
class Before:
    """A decision: whether what starts at `one` comes before what starts at `other`, or after it."""

    decided: IntVar
    one: IntVar
    other: IntVar


class ModelDraft:
    """The model while it is being built: a variable for every moment and every way."""

    def __init__(
        self,
        model: CpModel,
        problem: Problem,
        known: Iterable[Lead],
        twins: Iterable[Twins],
        windows: Windows,
    ) -> None:
        self.model = model
        self.problem = problem
        self.known = tuple(known)
        self.twins = tuple(twins)
        self.windows = windows
        self.order = Order(self.known)
        self.moments: dict[Start, IntVar] = {
            moment: model.new_int_var(earliest, windows.latest[moment], "")
            for moment, earliest in windows.earliest.items()
        }
        self.ways: dict[str, tuple[IntVar, ...]] = {}
        self.ends: dict[str, IntVar] = {}
        self.befores: list[Before] = []
        for task in problem.tasks:
            if len(task.ways) > 1:
                self._choose_way(task)

    def _choose_way(self, task: Task) -> None:
        ways = tuple(self.model.new_bool_var("") for _ in task.ways)
        self.model.add_exactly_one(ways)
        for way, chosen in zip(task.ways, ways, strict=True):
            if not self._has_room(way):
                self.model.add(chosen == 0)
        taken = sum(way.minutes * is_taken for way, is_taken in zip(task.ways, ways, strict=True))
        shortest, longest = minutes(task)
        span = self.windows.earliest[first(task)], self.windows.latest[first(task)]
        end = self.model.new_int_var(span[0] + shortest, span[1] + longest, "")
        self.model.add(end == self.start(task) + taken)
        self.ways[task.key], self.ends[task.key] = ways, end

    def _has_room(self, way: TaskOption) -> bool:
        """Whether a way takes no more than there is."""
        taken = Counter[str]()
        for use in way.uses:
            taken[use.resource] += use.amount
        capacity = self.problem.capacity
        return not way.minutes or all(taken[name] <= capacity[name] for name in taken)

    def start(self, item: Item) -> IntVar:
        """When a task starts, or the first load of a baking."""
        return self.moments[first(item)]

    def last_start(self, item: Item) -> IntVar:
        """When a task starts, or the last load of a baking."""
        return self.moments[last(item)]

    def end(self, item: Item) -> LinearExpr | IntVar:
        """When a task ends, or the last load of a baking."""
        if item.key in self.ends:
            return self.ends[item.key]
        return self.last_start(item) + minutes(item)[0]

    def interval(self, task: Task, way: int) -> IntervalVar:
        """The time of a task, if it is done that way."""
        start, taken = self.start(task), task.ways[way].minutes
        if task.key not in self.ways:
            return self.model.new_fixed_size_interval_var(start, taken, "")
        chosen = self.ways[task.key][way]
        return self.model.new_optional_fixed_size_interval_var(start, taken, chosen, "")

    def working_ways(self) -> Iterator[tuple[Task, int, TaskOption]]:
        """All ways of all tasks that take a resource for any time."""
        for task in self.problem.tasks:
            for n, way in enumerate(task.ways):
                if way.minutes and any(use.amount for use in way.uses):
                    yield task, n, way

    def decision(self, one: IntVar, other: IntVar) -> IntVar:
        """A new decision on which of two comes first: true if `one` does."""
        decided = self.model.new_bool_var("")
        self.befores.append(Before(decided, one, other))
        return decided

    def decide(self, one: IntVar, one_min: int, other: IntVar, other_min: int) -> IntVar:
        """The decision on which comes first of two that cannot be at the same time."""
        decided = self.decision(one, other)
        self.model.add(one + one_min <= other).only_enforce_if(decided)
        self.model.add(other + other_min <= one).only_enforce_if(~decided)
        return decided
