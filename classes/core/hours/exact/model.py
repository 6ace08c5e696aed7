"""The whole problem as a model for the constraint solver."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from classes.core.hours.exact.draft import Before, ModelDraft
from classes.core.hours.exact.hands import add_gatherings, add_hands
from classes.core.hours.exact.ovens import OvenVars, add_ovens
from classes.core.hours.exact.resources import add_resources
from classes.core.hours.exact.windows import Item, Start
from classes.core.hours.problem.work import Since

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import IntVar


@dataclass(frozen=True, slots=True)
class Vars:
    """What the solver decides."""

    ready: IntVar
    moments: Mapping[Start, IntVar]
    ways: Mapping[str, tuple[IntVar, ...]]
    ovens: tuple[OvenVars, ...]
    befores: tuple[Before, ...]


def add_problem(draft: ModelDraft, bound: int, horizon: int) -> Vars:
    """All rules for the moments of a draft, and when it is ready: from `bound` to `horizon`."""
    for step in draft.known:
        draft.model.add(draft.moments[step.later] >= draft.moments[step.sooner] + step.least)
    for item in draft.problem.items.values():
        _add_lags(draft, item)
    decided = add_gatherings(draft)
    ovens = add_ovens(draft)
    add_resources(draft, decided)
    add_hands(draft, ovens)
    ready = draft.model.new_int_var(bound, horizon, "")
    for item in draft.problem.items.values():
        draft.model.add(ready >= draft.end(item) + item.then_min)
    return Vars(ready, draft.moments, draft.ways, ovens, tuple(draft.befores))


def _add_lags(draft: ModelDraft, item: Item) -> None:
    """Lags after a task of several ways, whose end depends on the way that is taken."""
    for lag in item.after:
        other = draft.problem.items[lag.task]
        if lag.since is Since.START or other.key not in draft.ways:
            continue
        draft.model.add(draft.start(item) >= draft.end(other) + lag.least)
        if lag.most is not None:
            draft.model.add(draft.last_start(item) <= draft.end(other) + lag.most)
