"""Rules 4, 5 and 8 in the exact model: loads one after the other, and which pieces are in which.

Every oven has as many loads as its time could hold; those that are used come first.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from classes.core.hours.exact.draft import ModelDraft
from classes.core.hours.exact.twins import needs_its_end
from classes.core.hours.exact.windows import Windows, first, last
from classes.core.hours.problem.work import BakeKind, Baking, PlannedOven, Problem

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import IntVar

Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class LoadVars:
    """A possible load: its start, its kind if it is used, and its pieces by baking.

    `ends_with` says for some bakings whether this is their last load.
    """

    oven: PlannedOven
    start: IntVar
    span: Span
    kinds: Mapping[BakeKind, IntVar]
    holds: Mapping[str, IntVar]
    pieces: Mapping[str, IntVar]
    ends_with: Mapping[str, IntVar]

    @property
    def unused_start(self) -> int:
        """The value of the start if the load is not used."""
        return self.span[1]


@dataclass(frozen=True, slots=True)
class OvenVars:
    """The possible loads of an oven, in order of time."""

    oven: PlannedOven
    loads: tuple[LoadVars, ...]


def add_ovens(draft: ModelDraft) -> tuple[OvenVars, ...]:
    """The loads with their rules, each between the first and the last load of what it holds."""
    found = tuple(_oven(draft, oven) for oven in draft.problem.ovens)
    for oven in found:
        for sooner, later in pairwise(oven.loads):
            _follow(draft, sooner, later)
    for baking in draft.problem.bakings:
        _add_baking(draft, baking, found)
    for group in _alike(found):
        for one, other in pairwise(group):
            draft.model.add(one.loads[0].start <= other.loads[0].start)
    return found


def _oven(draft: ModelDraft, oven: PlannedOven) -> OvenVars:
    spans = _spans(draft.problem, draft.windows, oven)
    return OvenVars(oven, tuple(_load(draft, oven, span) for span in spans))


def _spans(problem: Problem, windows: Windows, oven: PlannedOven) -> list[Span]:
    """The earliest and latest start of each load that there is time for."""
    if not problem.bakings or oven.slots < 1:
        return []
    sooner = min(windows.earliest[first(baking)] for baking in problem.bakings)
    earliest = max(sooner, oven.hot_from or 0)
    latest = max(windows.latest[last(baking)] for baking in problem.bakings)
    step = max(1, min(baking.minutes for baking in problem.bakings) + oven.turnaround_min)
    pieces = sum(baking.pieces for baking in problem.bakings)
    count = min(pieces, max(0, (latest - earliest) // step + 1))
    return [(earliest + n * step, latest) for n in range(count)]


def _load(draft: ModelDraft, oven: PlannedOven, span: Span) -> LoadVars:
    model, windows = draft.model, draft.windows
    fitting = [
        baking
        for baking in draft.problem.bakings
        if span[0] <= windows.latest[last(baking)] and windows.earliest[first(baking)] <= span[1]
    ]
    holds = {fit.key: model.new_bool_var("") for fit in fitting}
    load = LoadVars(
        oven,
        model.new_int_var(span[0], span[1], ""),
        span,
        {kind: model.new_bool_var("") for kind in dict.fromkeys(fit.kind for fit in fitting)},
        holds,
        {
            fit.key: holds[fit.key]
            if fit.pieces == 1
            else model.new_int_var(0, min(fit.pieces, oven.slots), "")
            for fit in fitting
        },
        {fit.key: model.new_bool_var("") for fit in fitting if _needs_its_last(draft, fit)},
    )
    _one_kind(draft, load, fitting)
    _no_more_than_fit(draft, load, fitting)
    return load


def _needs_its_last(draft: ModelDraft, baking: Baking) -> bool:
    return first(baking) != last(baking) and needs_its_end(draft.problem, baking)


def _one_kind(draft: ModelDraft, load: LoadVars, fitting: list[Baking]) -> None:
    model = draft.model
    model.add_at_most_one(load.kinds.values())
    for kind, used in load.kinds.items():
        own = [load.holds[fit.key] for fit in fitting if fit.kind == kind]
        for hold in own:
            model.add_implication(hold, used)
        model.add_bool_or(own).only_enforce_if(used)
    unused = [~used for used in load.kinds.values()]
    model.add(load.start == load.unused_start).only_enforce_if(unused)


def _no_more_than_fit(draft: ModelDraft, load: LoadVars, fitting: list[Baking]) -> None:
    model = draft.model
    for kind, used in load.kinds.items():
        own = [load.pieces[fit.key] for fit in fitting if fit.kind == kind]
        model.add(sum(own) <= load.oven.slots * used)
    for fit in fitting:
        if fit.pieces > 1:
            pieces, holds = load.pieces[fit.key], load.holds[fit.key]
            model.add(pieces <= min(fit.pieces, load.oven.slots) * holds)
            model.add(pieces >= holds)


def _follow(draft: ModelDraft, sooner: LoadVars, later: LoadVars) -> None:
    model, turnaround = draft.model, sooner.oven.turnaround_min
    model.add(sum(later.kinds.values()) <= sum(sooner.kinds.values()))
    baking = sum(kind.minutes * used for kind, used in sooner.kinds.items())
    gap = later.start - sooner.start
    for after, after_used in later.kinds.items():
        model.add(gap >= baking + turnaround).only_enforce_if(after_used)
        for before, before_used in sooner.kinds.items():
            change = draft.problem.change_min(before, after)
            if change > turnaround:
                both = (before_used, after_used)
                model.add(gap >= before.minutes + change).only_enforce_if(*both)


def _add_baking(draft: ModelDraft, baking: Baking, ovens: tuple[OvenVars, ...]) -> None:
    model, key = draft.model, baking.key
    loads = list(_of(baking, ovens))
    model.add(sum(load.pieces[key] for load in loads) == baking.pieces)
    for load in loads:
        model.add(load.start >= draft.start(baking)).only_enforce_if(load.holds[key])
        model.add(load.start <= draft.last_start(baking)).only_enforce_if(load.holds[key])
    if _needs_its_last(draft, baking):
        model.add_exactly_one(load.ends_with[key] for load in loads)
        for load in loads:
            ends = load.ends_with[key]
            model.add_implication(ends, load.holds[key])
            model.add(load.start >= draft.last_start(baking)).only_enforce_if(ends)


def _of(baking: Baking, ovens: tuple[OvenVars, ...]) -> Iterator[LoadVars]:
    for oven in ovens:
        yield from (load for load in oven.loads if baking.key in load.holds)


def _alike(ovens: tuple[OvenVars, ...]) -> Iterator[list[OvenVars]]:
    groups: dict[tuple[int, int, int], list[OvenVars]] = {}
    for oven in ovens:
        if oven.loads:
            groups.setdefault(like(oven.oven), []).append(oven)
    yield from groups.values()


def like(oven: PlannedOven) -> tuple[int, int, int]:
    """What interchangeable ovens have in common."""
    return oven.slots, oven.turnaround_min, oven.hot_from or 0
