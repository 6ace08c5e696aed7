"""Rule 6 in the exact model, and what everybody watches.

Hands that load an oven cannot do a task. A task that takes every twin's own hands, such as a
demonstration, splits each row of twins in two: those who did theirs before it, and those who do it
afterward.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from classes.core.hours.exact.draft import ModelDraft
from classes.core.hours.exact.ovens import LoadVars, OvenVars
from classes.core.hours.exact.twins import Twins, held_for, in_turn
from classes.core.hours.problem.work import BakeKind, Baking, Task, TaskOption

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import IntervalVar, IntVar


def add_gatherings(draft: ModelDraft) -> frozenset[str]:
    """Split the rows of twins; returns the resources that are thereby decided."""
    found: set[str] = set()
    for twins in draft.twins:
        if owned := _owned(draft, twins):
            found |= owned
            _part_rows(draft, twins, owned)
    return frozenset(found)


def _owned(draft: ModelDraft, twins: Twins) -> set[str]:
    """Resources that exist once, for tasks of one twin and for gatherings."""
    if not twins.in_order:
        return set()
    parts = {key: n for n, part in enumerate(twins.parts) for key in part}
    owners: dict[str, set[int]] = {}
    others = {stay.resource for stay in draft.problem.stays}
    for task, _, way in draft.working_ways():
        if task.key in parts:
            for resource in _resources(way):
                owners.setdefault(resource, set()).add(parts[task.key])
        every = [_resources(way) for way in task.ways]
        if len(every) > 1:
            always = set.intersection(*every) if task.key in parts else set()
            others |= set.union(*every) - always
    capacity = draft.problem.capacity
    return {
        resource
        for resource, own in owners.items()
        if len(own) == 1 and capacity[resource] == 1 and resource not in others
    }


def _part_rows(draft: ModelDraft, twins: Twins, owned: set[str]) -> None:
    parts = {key for part in twins.parts for key in part}
    gatherings = [
        (task, way)
        for task, _, way in draft.working_ways()
        if task.key not in parts and _resources(way) & owned
    ]
    if len(gatherings) > 1:
        draft.model.add_no_overlap(draft.interval(task, 0) for task, _ in gatherings)
    for task, way in gatherings:
        for row in twins.rows:
            _part_row(draft, task, row, _resources(way) & owned)


def _resources(way: TaskOption) -> set[str]:
    return {use.resource for use in way.uses if use.amount}


def _part_row(draft: ModelDraft, gathering: Task, row: Sequence[str], shared: set[str]) -> None:
    length = gathering.ways[0].minutes
    before = []
    for item in (draft.problem.items[key] for key in row):
        held = max(held_for(item, resource) for resource in shared)
        if isinstance(item, Baking) or not held:
            continue
        if not in_turn(draft.order, (gathering, length), (item, held)):
            start, other = draft.start(item), draft.start(gathering)
            before.append(draft.decide(start, held, other, length))
    for sooner, later in pairwise(before):
        draft.model.add_implication(later, sooner)


def add_hands(draft: ModelDraft, ovens: tuple[OvenVars, ...]) -> None:
    """Rule 6, for every task and loading that could overlap."""
    alone: dict[str, list[tuple[Task, int]]] = {}
    for task, n, way in draft.working_ways():
        loading = [
            baking for baking in draft.problem.bakings if _could_meet(draft, task, way, baking)
        ]
        if loading and len(task.ways) == 1 and _is_everybody(draft, loading):
            _not_while_loading(draft, task, loading, ovens)
            continue
        for baking in loading:
            alone.setdefault(baking.key, []).append((task, n))
    for baking in draft.problem.bakings:
        if baking.key in alone:
            _not_while_own_loading(draft, baking, alone[baking.key], ovens)


def _could_meet(draft: ModelDraft, task: Task, way: TaskOption, baking: Baking) -> bool:
    return (
        baking.hands in _resources(way)
        and baking.hands_min > 0
        and not in_turn(draft.order, (task, way.minutes), (baking, baking.hands_min))
    )


def _is_everybody(draft: ModelDraft, loading: list[Baking]) -> bool:
    """Whether these are all bakings of their kinds, so that every such load is one of theirs."""
    kinds = {work.kind: work.hands_min for work in loading}
    every = [baking for baking in draft.problem.bakings if baking.kind in kinds]
    return len(every) == len(loading) and all(
        work.hands_min == kinds[work.kind] for work in loading
    )


def _not_while_loading(
    draft: ModelDraft, task: Task, loading: list[Baking], ovens: tuple[OvenVars, ...]
) -> None:
    """No loading of these kinds during the task: each is loaded before or after it."""
    hands_min = {work.kind: work.hands_min for work in loading}
    start, length = draft.start(task), task.ways[0].minutes
    for oven in ovens:
        before = [_load_before(draft, load, hands_min, start, length) for load in oven.loads]
        for sooner, later in pairwise(before):
            draft.model.add_implication(later, sooner)


def _load_before(
    draft: ModelDraft,
    load: LoadVars,
    hands_min: Mapping[BakeKind, int],
    start: IntVar,
    length: int,
) -> IntVar:
    before = draft.decision(load.start, start)
    for kind, used in load.kinds.items():
        if kind in hands_min:
            loaded = load.start + hands_min[kind]
            draft.model.add(loaded <= start).only_enforce_if(used, before)
            draft.model.add(start + length <= load.start).only_enforce_if(used, ~before)
    return before


def _not_while_own_loading(
    draft: ModelDraft, baking: Baking, tasks: list[tuple[Task, int]], ovens: tuple[OvenVars, ...]
) -> None:
    """The loadings of an oven do not overlap, nor do tasks that take hands that exist once."""
    busy = [draft.interval(task, n) for task, n in tasks]
    groups: Iterable[Sequence[IntervalVar]] = [busy]
    if baking.hands and draft.problem.capacity[baking.hands] > 1:
        groups = [[lane] for lane in busy]
    for group in groups:
        for loadings in _loadings(draft, baking, ovens):
            draft.model.add_no_overlap([*group, *loadings])


def _loadings(
    draft: ModelDraft, baking: Baking, ovens: tuple[OvenVars, ...]
) -> Iterator[list[IntervalVar]]:
    """When hands load a baking, in groups that never overlap."""
    if baking.pieces == 1:
        start = draft.start(baking)
        yield [draft.model.new_fixed_size_interval_var(start, baking.hands_min, "")]
        return
    for oven in ovens:
        own = [
            draft.model.new_optional_fixed_size_interval_var(
                load.start, baking.hands_min, load.holds[baking.key], ""
            )
            for load in oven.loads
            if baking.key in load.holds
        ]
        if baking.hands_min <= baking.minutes:
            yield own
        else:
            yield from ([work] for work in own)
