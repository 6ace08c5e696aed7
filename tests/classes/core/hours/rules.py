"""Whether a plan keeps the rules of `work`: a second opinion that shares no code with the solvers.

It reads the plain fields of a problem and of a plan, and computes by itself when things end, what
lies in a load and how long an oven needs between two.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from classes.core.hours.problem.work import (
    Baking,
    Lag,
    Load,
    Plan,
    PlannedOven,
    Problem,
    Since,
    Stay,
    Task,
)


@dataclass(frozen=True, slots=True)
class Fault:
    """A rule that a plan breaks: its number in `work`, in words, and the keys it is about."""

    rule: int
    what: str
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Times:
    """When an item starts (a baking once for each load), and when the last of it ends."""

    starts: tuple[int, ...]
    end: int


@dataclass(frozen=True, slots=True)
class _TakenTime:
    """So much of a resource, from a minute up to another."""

    key: str
    amount: int
    start: int
    end: int
    stays: bool = False


@dataclass(frozen=True, slots=True)
class _Case:
    """A problem and a plan by keys, with the times of all that the plan has sound times for."""

    problem: Problem
    plan: Plan
    tasks: Mapping[str, Task]
    bakings: Mapping[str, Baking]
    ovens: Mapping[str, PlannedOven]
    times: Mapping[str, _Times]


def faults(problem: Problem, plan: Plan) -> tuple[Fault, ...]:
    """Every rule that the plan breaks, in the order of the rules; none for a sound plan."""
    case = _case(problem, plan)
    found = (
        *_slot_faults(case),
        *_task_lag_faults(case),
        *_capacity_faults(case),
        *_piece_faults(case),
        *_load_faults(case),
        *_turnaround_faults(case),
        *_baking_lag_faults(case),
        *_hands_faults(case),
        *_stay_faults(case),
        *_oven_faults(case),
    )
    return tuple(sorted(found, key=lambda fault: fault.rule))


def _case(problem: Problem, plan: Plan) -> _Case:
    tasks = {task.key: task for task in problem.tasks}
    bakings = {baking.key: baking for baking in problem.bakings}
    ovens = {oven.key: oven for oven in problem.ovens}
    times = {**_task_times(tasks, plan), **_baking_times(bakings, plan)}
    return _Case(problem, plan, tasks, bakings, ovens, times)


def _task_times(tasks: Mapping[str, Task], plan: Plan) -> dict[str, _Times]:
    found = {}
    for key, slot in plan.slots.items():
        if key in tasks and 0 <= slot.way < len(tasks[key].ways):
            end = slot.start + tasks[key].ways[slot.way].minutes
            found[key] = _Times((slot.start,), end)
    return found


def _baking_times(bakings: Mapping[str, Baking], plan: Plan) -> dict[str, _Times]:
    starts: dict[str, set[int]] = {}
    for load in plan.loads:
        for key, count in load.pieces:
            if count > 0:
                starts.setdefault(key, set()).add(load.start)
    return {
        key: _Times(tuple(sorted(found)), max(found) + bakings[key].minutes)
        for key, found in starts.items()
        if key in bakings
    }


def _slot_faults(case: _Case) -> Iterator[Fault]:
    """Rule 1: each task once, in a way that it has, from `earliest` to `latest`."""
    for key in case.plan.slots:
        if key not in case.tasks:
            yield Fault(1, f"{key} is planned, but is no task", (key,))
    for key, task in case.tasks.items():
        slot = case.plan.slots.get(key)
        if slot is None:
            yield Fault(1, f"{key} is not planned", (key,))
            continue
        if not 0 <= slot.way < len(task.ways):
            yield Fault(1, f"{key} has no way {slot.way}", (key,))
        if slot.start < task.earliest:
            what = f"{key} starts at minute {slot.start}, before minute {task.earliest}"
            yield Fault(1, what, (key,))
        if task.latest is not None and slot.start > task.latest:
            what = f"{key} starts at minute {slot.start}, after minute {task.latest}"
            yield Fault(1, what, (key,))


def _task_lag_faults(case: _Case) -> Iterator[Fault]:
    """Rule 2, for tasks."""
    for key, task in case.tasks.items():
        for lag in task.after:
            yield from _lag_faults(case, 2, key, lag)


def _baking_lag_faults(case: _Case) -> Iterator[Fault]:
    """Rule 6: the lags of a baking, for each of its loads."""
    for key, baking in case.bakings.items():
        for lag in baking.after:
            yield from _lag_faults(case, 6, key, lag)


def _lag_faults(case: _Case, rule: int, key: str, lag: Lag) -> Iterator[Fault]:
    if lag.task not in case.tasks and lag.task not in case.bakings:
        yield Fault(rule, f"{key} waits for {lag.task}, which nobody does", (key, lag.task))
    if key not in case.times or lag.task not in case.times:
        return
    before = case.times[lag.task]
    since = before.end if lag.since is Since.END else before.starts[-1]
    for start in case.times[key].starts:
        passed = start - since
        told = f"{key} starts {passed} min after the {lag.since} of {lag.task}"
        if passed < lag.least:
            yield Fault(rule, f"{told}, which is under {lag.least} min", (key, lag.task))
        if lag.most is not None and passed > lag.most:
            yield Fault(rule, f"{told}, which is over {lag.most} min", (key, lag.task))


def _task_holds(case: _Case) -> dict[str, list[_TakenTime]]:
    """What tasks take, by resource."""
    found: dict[str, list[_TakenTime]] = {}
    for key, task in case.tasks.items():
        if key not in case.times:
            continue
        start, end = case.times[key].starts[0], case.times[key].end
        for use in task.ways[case.plan.slots[key].way].uses:
            found.setdefault(use.resource, []).append(_TakenTime(key, use.amount, start, end))
    return found


def _stay_hold(case: _Case, stay: Stay) -> _TakenTime | None:
    """From when to when something is there, where the plan says both."""
    if stay.after not in case.times or stay.until not in case.times:
        return None
    start, end = case.times[stay.after].end, case.times[stay.until].starts[-1]
    return _TakenTime(stay.until, stay.amount, start, end, stays=True)


def _capacity_faults(case: _Case) -> Iterator[Fault]:
    """Rules 3 and 7: what tasks and stays take at once; rule 7 where tasks alone have room."""
    capacity = {one.key: one.capacity for one in case.problem.resources}
    names = {one.key: one.name for one in case.problem.resources}
    held = _task_holds(case)
    for stay in case.problem.stays:
        hold = _stay_hold(case, stay)
        if hold is not None:
            held.setdefault(stay.resource, []).append(hold)
    for resource, holds in held.items():
        room = capacity.get(resource, 0)
        for rule, minute, present in _crowds(holds, room):
            taken = sum(hold.amount for hold in present)
            name = names.get(resource, resource)
            what = f"{name} from minute {minute}: {taken} are taken of {room}"
            yield Fault(rule, what, (resource, *sorted({hold.key for hold in present})))


def _crowds(holds: list[_TakenTime], room: int) -> Iterator[tuple[int, int, list[_TakenTime]]]:
    """Minutes at which a resource comes to be overfull, by whom, and which rule that breaks."""
    before = 0
    for minute in sorted({minute for hold in holds for minute in (hold.start, hold.end)}):
        present = [hold for hold in holds if hold.start <= minute < hold.end]
        broken = _broken(present, room)
        if broken and broken != before:
            yield broken, minute, present
        before = broken


def _broken(present: list[_TakenTime], room: int) -> int:
    if sum(hold.amount for hold in present if not hold.stays) > room:
        return 3
    return 7 if sum(hold.amount for hold in present) > room else 0


def _piece_faults(case: _Case) -> Iterator[Fault]:
    """Rule 4: every piece in one load, and none that is not there to bake."""
    laid: Counter[str] = Counter()
    for load in case.plan.loads:
        for key, count in load.pieces:
            laid[key] += count
    for key in laid:
        if key not in case.bakings:
            yield Fault(4, f"{key} is in an oven, but is no baking", (key,))
    for key, baking in case.bakings.items():
        if laid[key] != baking.pieces:
            what = f"{key} has {laid[key]} pieces in the ovens, not {baking.pieces}"
            yield Fault(4, what, (key,))


def _load_faults(case: _Case) -> Iterator[Fault]:
    """Rule 4: a load has pieces of one kind, and no more than the oven has places."""
    for load in case.plan.loads:
        at = f"the load of {load.oven} at minute {load.start}"
        keys = [key for key, _ in load.pieces]
        if not keys or any(count < 1 for _, count in load.pieces):
            yield Fault(4, f"{at} is empty, or a part of it", (load.oven, *keys))
        if len(set(keys)) < len(keys):
            yield Fault(4, f"{at} names a baking twice", (load.oven, *keys))
        filled = sum(count for _, count in load.pieces)
        if load.oven in case.ovens and filled > case.ovens[load.oven].slots:
            places = case.ovens[load.oven].slots
            yield Fault(4, f"{at} has {filled} pieces in {places} places", (load.oven, *keys))
        for key in _strangers(case, load):
            what = f"{at} bakes for {load.minutes} min at {load.temperature_c} °C; {key} does not"
            yield Fault(4, what, (load.oven, key))


def _strangers(case: _Case, load: Load) -> Iterator[str]:
    """Bakings in a load that want another time or temperature."""
    for key, _ in load.pieces:
        baking = case.bakings.get(key)
        if baking and _heats(baking) != _heats(load):
            yield key


def _heats(bakes: Baking | Load) -> tuple[object, ...]:
    return bakes.minutes, bakes.temperature_c, bakes.stages


def _turnaround_faults(case: _Case) -> Iterator[Fault]:
    """Rule 5: the time that an oven needs between its loads."""
    for key, oven in case.ovens.items():
        loads = [load for load in case.plan.loads if load.oven == key]
        loads.sort(key=lambda load: load.start)
        for before, after in pairwise(loads):
            last_c = before.stages[-1].temperature_c if before.stages else before.temperature_c
            left_c = None if last_c is None else int(last_c + Decimal("0.5"))
            both = (after.temperature_c, left_c)
            degrees = 0 if None in both else abs(int(both[0] or 0) - int(both[1] or 0))
            change, rest = divmod(degrees, case.problem.degrees_a_minute)
            needed = max(oven.turnaround_min, change + 1 if rest else change)
            gap = after.start - (before.start + before.minutes)
            if gap < needed:
                what = f"{oven.name} has {gap} min before minute {after.start} and needs {needed}"
                yield Fault(5, what, (key, *_keys((before, after))))


def _keys(loads: Iterable[Load]) -> list[str]:
    return sorted({key for load in loads for key, _ in load.pieces})


def _hands_faults(case: _Case) -> Iterator[Fault]:
    """Rule 6: whoever loads an oven does no other task at the time."""
    holds = _task_holds(case)
    for key, baking in case.bakings.items():
        if baking.hands is None or key not in case.times:
            continue
        for start in case.times[key].starts:
            for hold in holds.get(baking.hands, ()):
                if max(start, hold.start) < min(start + baking.hands_min, hold.end):
                    what = f"{baking.hands} load {key} at minute {start}, but are at {hold.key}"
                    yield Fault(6, what, (key, hold.key))


def _stay_faults(case: _Case) -> Iterator[Fault]:
    """Rule 7: a stay does not end before it begins."""
    for stay in case.problem.stays:
        hold = _stay_hold(case, stay)
        if hold is not None and hold.end < hold.start:
            what = f"{stay.until} takes from {stay.resource} what {stay.after} has not put there"
            yield Fault(7, what, (stay.resource, stay.after, stay.until))


def _oven_faults(case: _Case) -> Iterator[Fault]:
    """Rule 8: an oven that exists and is hot; one that is out of order is in no problem."""
    for load in case.plan.loads:
        oven = case.ovens.get(load.oven)
        keys = (load.oven, *_keys((load,)))
        if oven is None:
            yield Fault(8, f"{load.oven} is no oven that there is", keys)
        elif oven.hot_from is not None and load.start < oven.hot_from:
            what = f"{oven.name} is loaded at minute {load.start}, hot from {oven.hot_from}"
            yield Fault(8, what, keys)
