"""From a plan to the solver's hints, and from what it found back to a plan."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from classes.core.hours.exact.model import Vars
from classes.core.hours.exact.ovens import LoadVars, like
from classes.core.hours.exact.twins import Twins
from classes.core.hours.exact.windows import first, last
from classes.core.hours.problem.work import Baking, Load, Plan, Problem, Slot

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import IntVar

Value = Callable[["IntVar"], int]


def put_in_order(problem: Problem, plan: Plan, twins: Iterable[Twins]) -> Plan:
    """The same plan with twins, and ovens that are alike, in the order that the model keeps."""
    for group in twins:
        plan = (
            _rows_in_order(problem, plan, group) if group.in_order else _jobs(problem, plan, group)
        )
    return Plan(plan.slots, _ovens_in_order(problem, plan.loads))


def _rows_in_order(problem: Problem, plan: Plan, twins: Twins) -> Plan:
    slots, loads = dict(plan.slots), plan.loads
    for row in twins.rows:
        if isinstance(problem.items[row[0]], Baking):
            loads = _filled_in_turn(problem, loads, row)
        else:
            inside = sorted((slots[key] for key in row), key=lambda slot: (slot.start, slot.way))
            slots.update(zip(row, inside, strict=True))
    return Plan(slots, loads)


def _filled_in_turn(
    problem: Problem, loads: tuple[Load, ...], row: tuple[str, ...]
) -> tuple[Load, ...]:
    """The same loads, with pieces of a row's first baking in the first ones, and so on."""
    waiting = [key for key in row for _ in range(_pieces(problem, key))]
    found = []
    for load in sorted(loads, key=lambda load: (load.start, load.oven)):
        others = [(key, count) for key, count in load.pieces if key not in row]
        own = sum(count for key, count in load.pieces if key in row)
        now, waiting = waiting[:own], waiting[own:]
        pieces = (*others, *((key, now.count(key)) for key in dict.fromkeys(now)))
        found.append(replace(load, pieces=pieces))
    return tuple(found)


def _pieces(problem: Problem, key: str) -> int:
    item = problem.items[key]
    return item.pieces if isinstance(item, Baking) else 0


def _jobs(problem: Problem, plan: Plan, twins: Twins) -> Plan:
    """Jobs exchange names as a whole, by the start of each one's first task."""
    ranked = sorted(twins.parts, key=lambda keys: plan.start(problem, keys[0]))
    names = {
        old: new
        for was, is_now in zip(ranked, twins.parts, strict=True)
        for old, new in zip(was, is_now, strict=True)
    }
    slots = {names.get(key, key): slot for key, slot in plan.slots.items()}
    loads = [
        replace(load, pieces=tuple((names.get(key, key), count) for key, count in load.pieces))
        for load in plan.loads
    ]
    return Plan(slots, tuple(loads))


def _ovens_in_order(problem: Problem, loads: tuple[Load, ...]) -> tuple[Load, ...]:
    starts = {
        oven.key: [load.start for load in loads if load.oven == oven.key] for oven in problem.ovens
    }
    names: dict[str, str] = {}
    for kind in {like(oven) for oven in problem.ovens}:
        keys = [oven.key for oven in problem.ovens if like(oven) == kind]
        ranked = sorted(keys, key=lambda key: min(starts[key], default=10**9))
        names.update(zip(ranked, keys, strict=True))
    moved = [replace(load, oven=names[load.oven]) for load in loads]
    return tuple(sorted(moved, key=lambda load: (load.start, load.oven)))


def hints(problem: Problem, plan: Plan, found: Vars) -> Iterator[tuple[IntVar, int]]:
    """Every variable with its value in an ordered plan."""
    known = dict[int, int]()
    for variable, value in _decided(problem, plan, found):
        known[variable.index] = value
        yield variable, value
    for before in found.befores:
        yield before.decided, int(known[before.one.index] < known[before.other.index])


def _decided(problem: Problem, plan: Plan, found: Vars) -> Iterator[tuple[IntVar, int]]:
    yield found.ready, plan.ready(problem)
    for item in problem.items.values():
        yield found.moments[first(item)], plan.start(problem, item.key)
        if last(item) != first(item):
            yield found.moments[last(item)], plan.last_start(problem, item.key)
    for key, ways in found.ways.items():
        for n, chosen in enumerate(ways):
            yield chosen, int(plan.slots[key].way == n)
    for oven in found.ovens:
        own = [load for load in plan.loads if load.oven == oven.oven.key]
        own.sort(key=lambda load: load.start)
        for n, variables in enumerate(oven.loads):
            yield from _of_load(plan, variables, own[n] if n < len(own) else None)


def _of_load(plan: Plan, found: LoadVars, load: Load | None) -> Iterator[tuple[IntVar, int]]:
    yield found.start, load.start if load else found.unused_start
    for kind, used in found.kinds.items():
        yield used, int(load is not None and kind == load.kind)
    inside = dict(load.pieces) if load else {}
    for key, holds in found.holds.items():
        yield holds, int(key in inside)
        if found.pieces[key] is not holds:
            yield found.pieces[key], inside.get(key, 0)
    for key, ends in found.ends_with.items():
        final = plan.loads_of[key][-1]
        yield ends, int(load == final)


def plan_of(problem: Problem, found: Vars, value: Value) -> Plan:
    """The plan that the solver found."""
    slots = {}
    for task in problem.tasks:
        chosen = [value(way) for way in found.ways.get(task.key, ())]
        slots[task.key] = Slot(value(found.moments[first(task)]), chosen.index(1) if chosen else 0)
    loads = [
        load
        for oven in found.ovens
        for variables in oven.loads
        if (load := _load(variables, value)) is not None
    ]
    return Plan(slots, tuple(sorted(loads, key=lambda load: (load.start, load.oven))))


def _load(found: LoadVars, value: Value) -> Load | None:
    kind = next((kind for kind, used in found.kinds.items() if value(used)), None)
    inside = tuple((key, count) for key, var in found.pieces.items() if (count := value(var)))
    if kind is None or not inside:
        return None
    start = value(found.start)
    return Load(found.oven.key, start, kind.minutes, kind.temperature_c, inside, kind.stages)
