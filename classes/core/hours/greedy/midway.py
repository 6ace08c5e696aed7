"""A plan interrupted while it runs: what has begun stays, all that comes later is free again."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Set
from dataclasses import dataclass, replace

from classes.core.hours.problem.work import (
    Baking,
    Lag,
    Load,
    Plan,
    PlannedOven,
    Problem,
    Task,
    TaskOption,
    Use,
)

BEGUN = "begun"


def from_minute(problem: Problem, plan: Plan, at: int, *, seen: Set[str] = frozenset()) -> Problem:
    """What is left of a problem at a minute of its plan.

    Tasks and loads that have begun keep their times. An oven is hot when the plan has it hot, or
    after preheating from now if that is sooner; one that bakes is free after its load. `seen` are
    tasks that, once begun, need not be followed at once.
    """
    return _Rest(problem, plan, at, seen).problem()


def with_lags(
    problem: Problem, change: Callable[[str, tuple[Lag, ...]], tuple[Lag, ...]]
) -> Problem:
    """The problem with other lags, given by a function of an item's key and its lags."""
    return replace(
        problem,
        tasks=tuple(replace(task, after=change(task.key, task.after)) for task in problem.tasks),
        bakings=tuple(
            replace(baking, after=change(baking.key, baking.after)) for baking in problem.bakings
        ),
    )


@dataclass(frozen=True, slots=True)
class _Rest:
    whole: Problem
    plan: Plan
    at: int
    seen: Set[str]

    def problem(self) -> Problem:
        bakings = tuple(self._bakings_left())
        tasks = (
            *self._begun_tasks(),
            *self._begun_bakings(),
            *self._loading(),
            *self._tasks_left(),
        )
        ovens = tuple(self._oven(oven, bakings) for oven in self.whole.ovens)
        rest = replace(self.whole, tasks=tasks, bakings=bakings, ovens=ovens)
        return with_lags(rest, lambda _, lags: tuple(self._followed(lag) for lag in lags))

    def _followed(self, lag: Lag) -> Lag:
        """A lag, without its limit if it follows what was already seen."""
        has_begun = lag.task in self.seen and self.plan.slots[lag.task].start < self.at
        return replace(lag, most=None) if has_begun else lag

    def _tasks_left(self) -> Iterator[Task]:
        for task in self.whole.tasks:
            if self.plan.slots[task.key].start >= self.at:
                yield replace(task, earliest=max(task.earliest, self.at))

    def _begun_tasks(self) -> Iterator[Task]:
        for task in self.whole.tasks:
            slot = self.plan.slots[task.key]
            if slot.start < self.at:
                yield _fixed(task.key, slot.start, task.ways[slot.way], task.then_min)

    def _loads_begun(self, baking: Baking) -> list[Load]:
        return [load for load in self.plan.loads_of[baking.key] if load.start < self.at]

    def _begun_bakings(self) -> Iterator[Task]:
        """What is in the ovens as a task; it keeps the baking's key where nothing of it is left."""
        for baking in self.whole.bakings:
            if loads := self._loads_begun(baking):
                is_all = len(loads) == len(self.plan.loads_of[baking.key])
                key = baking.key if is_all else f"{BEGUN}|{baking.key}"
                way = TaskOption(baking.minutes)
                yield _fixed(key, loads[-1].start, way, baking.then_min)

    def _bakings_left(self) -> Iterator[Baking]:
        for baking in self.whole.bakings:
            begun = sum(dict(load.pieces)[baking.key] for load in self._loads_begun(baking))
            if begun < baking.pieces:
                yield replace(baking, pieces=baking.pieces - begun)

    def _loading(self) -> Iterator[Task]:
        """Hands that are still at an oven."""
        until: dict[str, int] = {}
        for baking in self.whole.bakings:
            for load in self._loads_begun(baking):
                if baking.hands is not None:
                    end = load.start + baking.hands_min
                    until[baking.hands] = max(until.get(baking.hands, self.at), end)
        for hands, end in until.items():
            if end > self.at:
                way = TaskOption(end - self.at, (Use(hands),))
                yield _fixed(f"{BEGUN}|loading|{hands}", self.at, way)

    def _oven(self, oven: PlannedOven, bakings: tuple[Baking, ...]) -> PlannedOven:
        loads = [load for load in self.plan.loads if load.oven == oven.key]
        begun = [load for load in loads if load.start < self.at]
        if begun:
            last = max(begun, key=lambda load: load.end)
            changes = [self.whole.change_min(last.kind, baking.kind) for baking in bakings]
            return replace(oven, hot_from=last.end + max([oven.turnaround_min, *changes]))
        hot = min([self.at + oven.preheat_min, *(load.start for load in loads)])
        return replace(oven, hot_from=max(hot, self.at if oven.hot_from is None else oven.hot_from))


def _fixed(key: str, start: int, way: TaskOption, then_min: int = 0) -> Task:
    return Task(key, BEGUN, (way,), (), start, start, then_min)
