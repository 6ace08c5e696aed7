"""The work of a class as a scheduling problem, and a plan for it.

Times are whole minutes from the start of the class. A plan keeps these hard rules:

1. every task starts once, from `earliest` to `latest`, in one of its ways, and takes that way's
   minutes;
2. a lag holds: a task starts at least `least` and at most `most` minutes after another has
   ended (or started);
3. at no minute do tasks and stays together take more of a resource than its capacity;
4. every piece of a baking is in one load; a load holds pieces of one kind, and never more than
   the oven has places;
5. loads of an oven follow each other with its turnaround between them, or with the time that the
   oven needs to change its temperature if that is longer;
6. the lags of a baking hold for each of its loads; when it is loaded, the hands that load it are
   at no other task (they may serve several loads at once);
7. a stay holds its resource from the end of one task to the start of another, or to the last
   load of a baking;
8. an oven is not loaded while it is out, and not before it can be hot.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from functools import cached_property
from typing import NamedTuple

DEGREES_A_MINUTE = 5


class Since(StrEnum):
    """What a lag counts from: the end or start of a task; for a baking, of its last load."""

    END = "end"
    START = "start"


@dataclass(frozen=True, slots=True)
class Resource:
    """Something that only a limited amount of work can use at once, such as three mixers."""

    key: str
    name: str
    capacity: int


@dataclass(frozen=True, slots=True)
class Use:
    """An amount of a resource."""

    resource: str
    amount: int = 1


@dataclass(frozen=True, slots=True)
class TaskOption:
    """One way of doing a task: how long it takes, and what it uses during that time."""

    minutes: int
    uses: tuple[Use, ...] = ()


@dataclass(frozen=True, slots=True)
class Lag:
    """At least `least` and at most `most` minutes since a task; `most` None means no limit."""

    task: str
    least: int = 0
    most: int | None = None
    since: Since = Since.END


@dataclass(frozen=True, slots=True)
class Task:
    """Work that is not interrupted; `job` names the dough or machine order it belongs to.

    What it makes is ready `then_min` minutes after its end.
    """

    key: str
    job: str
    ways: tuple[TaskOption, ...]
    after: tuple[Lag, ...] = ()
    earliest: int = 0
    latest: int | None = None
    then_min: int = 0


class BakeKind(NamedTuple):
    """The temperature at which a bake begins, all its minutes, and its stages if any."""

    temperature_c: int | None
    minutes: int
    stages: tuple[OvenStage, ...] = ()

    @property
    def ends_c(self) -> int | None:
        """The temperature of the oven at the end."""
        if not self.stages:
            return self.temperature_c
        return whole_degrees(self.stages[-1].temperature_c)


def whole_degrees(celsius: Decimal | None) -> int | None:
    """A temperature as an oven is set; None stays None."""
    return None if celsius is None else int(celsius.to_integral_value(ROUND_HALF_UP))


@dataclass(frozen=True, slots=True)
class OvenStage:
    """A part of a bake: minutes in the oven at a temperature, in °C, None if none is named."""

    minutes: int
    temperature_c: Decimal | None


@dataclass(frozen=True, slots=True)
class Baking:
    """Pieces of one dough that go into ovens, in as many loads as needed.

    `pieces` counts oven places. `minutes` run from opening the door to the last piece out, of which
    `hands_min` at the start need `hands`, the resource of those who load. `temperature_c` is None
    if the recipe names none. `then_min` is the cooling. Only a bake at several temperatures has
    `stages`.
    """

    key: str
    job: str
    pieces: int
    minutes: int
    temperature_c: int | None
    after: tuple[Lag, ...] = ()
    hands: str | None = None
    hands_min: int = 0
    then_min: int = 0
    stages: tuple[OvenStage, ...] = ()

    @property
    def kind(self) -> BakeKind:
        """The kind that can share a load: the same temperatures for the same times."""
        return BakeKind(self.temperature_c, self.minutes, self.stages)


@dataclass(frozen=True, slots=True)
class PlannedOven:
    """An oven: `slots` places, minutes between loads, and the minute from which it is hot.

    `across` is how many places are side by side; None if nobody has said.
    """

    key: str
    name: str
    slots: int
    turnaround_min: int = 5
    hot_from: int | None = None
    preheat_min: int = 0
    has_fan: bool = False
    across: int | None = None


@dataclass(frozen=True, slots=True)
class Stay:
    """Something that stands somewhere between two tasks, such as a basket in the cabinet."""

    resource: str
    amount: int
    after: str
    until: str


@dataclass(frozen=True)
class Problem:
    """Everything that has to happen, in an order in which jobs can be placed one by one.

    Tasks and bakings are grouped by job; `jobs` is the order of placing. A lag with `most` stays
    within one job.
    """

    tasks: tuple[Task, ...]
    resources: tuple[Resource, ...] = ()
    bakings: tuple[Baking, ...] = ()
    ovens: tuple[PlannedOven, ...] = ()
    stays: tuple[Stay, ...] = ()
    degrees_a_minute: int = DEGREES_A_MINUTE

    @cached_property
    def items(self) -> Mapping[str, Task | Baking]:
        """Tasks and bakings by key."""
        members: list[Task | Baking] = [*self.tasks, *self.bakings]
        return {member.key: member for member in members}

    @cached_property
    def jobs(self) -> Mapping[str, tuple[Task | Baking, ...]]:
        """Tasks and bakings by job, in their order, jobs by first appearance."""
        found: dict[str, list[Task | Baking]] = {}
        for task in self.tasks:
            found.setdefault(task.job, []).append(task)
        for baking in self.bakings:
            found.setdefault(baking.job, []).append(baking)
        return {job: tuple(_in_order(members)) for job, members in found.items()}

    @cached_property
    def capacity(self) -> Mapping[str, int]:
        """The capacity of each resource."""
        return {resource.key: resource.capacity for resource in self.resources}

    def change_min(self, first: BakeKind, second: BakeKind) -> int:
        """Minutes that an oven takes to change heat between bakes; 0 if a heat is unknown."""
        first_c, second_c = first.ends_c, second.temperature_c
        if first_c is None or second_c is None:
            return 0
        return -(-abs(second_c - first_c) // self.degrees_a_minute)


def _in_order(members: list[Task | Baking]) -> Iterator[Task | Baking]:
    """Members of a job, each after those of the job that its lags name."""
    waiting = {member.key: member for member in members}
    while waiting:
        free = [
            load for load in waiting.values() if not any(lag.task in waiting for lag in load.after)
        ]
        if not free:
            raise ValueError(f"the lags run in a circle: {sorted(waiting)}")
        for load in free:
            del waiting[load.key]
            yield load


@dataclass(frozen=True, slots=True)
class Slot:
    """When a task starts and in which of its ways."""

    start: int
    way: int = 0


@dataclass(frozen=True, slots=True)
class Load:
    """Pieces of one kind that bake together: (baking key, how many) from a minute on."""

    oven: str
    start: int
    minutes: int
    temperature_c: int | None
    pieces: tuple[tuple[str, int], ...]
    stages: tuple[OvenStage, ...] = ()

    @property
    def kind(self) -> BakeKind:
        """The kind of all bakings in it."""
        return BakeKind(self.temperature_c, self.minutes, self.stages)

    @property
    def end(self) -> int:
        return self.start + self.minutes

    @property
    def turned(self) -> tuple[tuple[int, Decimal | None], ...]:
        """The minutes at which the oven is turned while it bakes, and to which °C."""
        return tuple(
            (
                self.end - sum(stage.minutes for stage in self.stages[n:]),
                self.stages[n].temperature_c,
            )
            for n in range(1, len(self.stages))
        )

    @property
    def celsius(self) -> Decimal | None:
        """The temperature as the recipes name it."""
        return None if self.temperature_c is None else Decimal(self.temperature_c)

    @property
    def filled(self) -> int:
        """How many places are taken."""
        return sum(count for _, count in self.pieces)


@dataclass(frozen=True)
class Plan:
    """Starts of all tasks and the loads of the ovens; it fits the problem it was made for."""

    slots: Mapping[str, Slot]
    loads: tuple[Load, ...] = ()

    @cached_property
    def loads_of(self) -> Mapping[str, tuple[Load, ...]]:
        """The loads that hold pieces of a baking, by its key, in time."""
        found: dict[str, list[Load]] = {}
        for load in sorted(self.loads, key=lambda load: (load.start, load.oven)):
            for key, _ in load.pieces:
                found.setdefault(key, []).append(load)
        return {key: tuple(loads) for key, loads in found.items()}

    def start(self, problem: Problem, key: str) -> int:
        """When a task starts, or the first load of a baking."""
        if isinstance(problem.items[key], Baking):
            return self.loads_of[key][0].start
        return self.slots[key].start

    def last_start(self, problem: Problem, key: str) -> int:
        """When a task starts, or the last load of a baking."""
        if isinstance(problem.items[key], Baking):
            return self.loads_of[key][-1].start
        return self.slots[key].start

    def end(self, problem: Problem, key: str) -> int:
        """When a task ends, or the last load of a baking."""
        item = problem.items[key]
        if isinstance(item, Baking):
            return max(load.end for load in self.loads_of[key])
        slot = self.slots[key]
        return slot.start + item.ways[slot.way].minutes

    def since(self, problem: Problem, lag: Lag) -> int:
        """The minute from which a lag counts."""
        moment = self.last_start if lag.since is Since.START else self.end
        return moment(problem, lag.task)

    def ready(self, problem: Problem) -> int:
        """When the last thing is done or cooled: what the solvers minimize."""
        ends = (self.end(problem, key) + item.then_min for key, item in problem.items.items())
        return max(ends, default=0)


@dataclass(frozen=True)
class Solved:
    """A plan, and the minute before which no plan can be ready; `solver` says who made it."""

    plan: Plan
    ready: int
    bound: int
    solver: str

    @property
    def proved(self) -> bool:
        """Whether no plan can be ready earlier."""
        return self.ready <= self.bound

    @property
    def gap_min(self) -> int:
        """The most minutes by which a better plan could be earlier."""
        return max(0, self.ready - self.bound)
