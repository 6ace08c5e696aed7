"""The chain of work and waiting that decides when the last bread is ready.

It is traced back from the last bread: each link ends where the next begins, so the chain has no gap
from the start of the class to that minute. The reason given for when work starts is the first of
these that applies: the time that the dough or the work before it takes, an oven, hands or a mixer
that came free, dough that left its place, a fixed time, or else that it was held back so that
nothing waits too long.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from classes.core.hours.problem.keys import CABINET, INSTRUCTOR
from classes.core.hours.problem.notes import EVERYBODY, Doing, Scheduled
from classes.core.hours.problem.work import Baking, Load, Plan, Stay, Task

MIXERS, COOL = "mixers|", "Cool"


class What(StrEnum):
    """What a link is: work, waiting, or something in the kitchen that has to come free."""

    TASK = "task"
    WAIT = "wait"
    RESOURCE = "resource"


class Why(StrEnum):
    """Why a link exists, or why its work does not start earlier."""

    OWN_TIME = "the dough’s own time"
    HANDS = "hands at work"
    ALL_WATCH = "all watch"
    BREAK = "the break"
    OVEN = "waits for an oven"
    SAME_LOAD = "waits for what it bakes with"
    MIXER = "waits for a mixer"
    INSTRUCTOR = "waits for the instructor"
    BUSY = "waits for the hands of its station"
    CABINET = "waits for a place in the cabinet"
    REFRIGERATOR = "waits for a place in the refrigerator"
    FIXED = "starts at a fixed time"
    HELD_BACK = "held back, so that nothing waits too long"


@dataclass(frozen=True, slots=True)
class ChainLink:
    """A part of the chain, in minutes of the class; `recipe` is a title, or empty."""

    what: What
    title: str
    who: str
    recipe: str
    starts: int
    ends: int
    why: Why

    @property
    def minutes(self) -> int:
        """How long it is."""
        return self.ends - self.starts


@dataclass(frozen=True, slots=True)
class _At:
    """A task, or one load of a baking, with its start."""

    key: str
    start: int


@dataclass(frozen=True, slots=True)
class _Reason:
    """What something waited for: `before` released it at minute `free`."""

    why: Why
    free: int
    before: _At | None = None
    what: What = What.WAIT
    title: str = ""
    is_nature: bool = False


def chain_of(scheduled: Scheduled, plan: Plan) -> tuple[ChainLink, ...]:
    """The links from minute 0 to the last bread, in order; empty if that is ready by minute 0."""
    return tuple(_Trace(scheduled, plan).links())


class _Trace:
    def __init__(self, scheduled: Scheduled, plan: Plan) -> None:
        self._scheduled = scheduled
        self._problem = scheduled.problem
        self._plan = plan
        self._titles = {recipe.key: recipe.title for recipe in scheduled.work.recipes}
        self._waits = {wait.until: wait.title for wait in scheduled.waits}
        self._names = {resource.key: resource.name for resource in self._problem.resources}
        self._ovens = {oven.key: oven for oven in self._problem.ovens}
        self._seen: set[_At] = set()

    def links(self) -> list[ChainLink]:
        """The chain, collected from its end."""
        last = self._last()
        item, end = self._problem.items[last], self._plan.end(self._problem, last)
        found = []
        if item.then_min:
            found.append(self._link(What.WAIT, COOL, last, end, end + item.then_min, Why.OWN_TIME))
        at: _At | None = _At(last, self._plan.last_start(self._problem, last))
        while at is not None:
            self._seen.add(at)
            reason = self._reason(at)
            found.append(self._work(at, end, reason))
            free = max(0, min(reason.free, at.start))
            found.append(self._link(reason.what, reason.title, at.key, free, at.start, reason.why))
            at, end = reason.before, free
        return [link for link in reversed(found) if link.starts < link.ends]

    def _last(self) -> str:
        """What is ready last; bread before tidying."""
        items, plan = self._problem.items, self._plan
        return max(
            items,
            key=lambda key: (
                plan.end(self._problem, key) + items[key].then_min,
                isinstance(items[key], Baking),
            ),
        )

    def _link(
        self, what: What, title: str, key: str, starts: int, ends: int, why: Why
    ) -> ChainLink:
        note = self._scheduled.notes[key]
        recipe = self._titles.get(note.recipe, "")
        return ChainLink(what, title or note.title, note.who, recipe, max(0, starts), ends, why)

    def _work(self, at: _At, end: int, reason: _Reason) -> ChainLink:
        why = self._nature(at.key) if reason.is_nature else reason.why
        return self._link(What.TASK, "", at.key, at.start, end, why)

    def _nature(self, key: str) -> Why:
        note = self._scheduled.notes[key]
        if note.doing is Doing.BREAK:
            return Why.BREAK
        if note.who == EVERYBODY:
            return Why.ALL_WATCH
        return Why.OWN_TIME if note.doing is Doing.BAKE else Why.HANDS

    def _reason(self, at: _At) -> _Reason:
        if at.start <= 0:
            return _Reason(Why.FIXED, 0, is_nature=True)
        for reason in self._reasons(at):
            if reason.before is None or reason.before not in self._seen:
                return reason
        return _Reason(Why.HELD_BACK, 0, is_nature=True)

    def _reasons(self, at: _At) -> Iterator[_Reason]:
        item = self._problem.items[at.key]
        yield from self._lags(item, at, tight=True)
        if isinstance(item, Baking):
            yield from self._oven_reasons(item, at)
        else:
            yield from self._resource_reasons(item, at)
            yield from self._place_reasons(item, at)
            if item.earliest == at.start:
                yield _Reason(Why.FIXED, 0)
        yield from self._lags(item, at, tight=False)

    def _lags(self, item: Task | Baking, at: _At, *, tight: bool) -> Iterator[_Reason]:
        """What had to be finished, exactly now or some time ago; the latest first."""
        for free, lag in sorted(
            ((self._plan.since(self._problem, lag), lag) for lag in item.after),
            key=lambda link: (self._problem.items[link[1].task].job != item.job, -link[0]),
        ):
            if tight and free + lag.least != at.start:
                continue
            before = _At(lag.task, self._plan.last_start(self._problem, lag.task))
            why = Why.OWN_TIME if tight else Why.HELD_BACK
            end = self._plan.end(self._problem, lag.task)
            title = self._waits.get(item.key, "")
            yield _Reason(why, min(end, at.start), before, What.WAIT, title, is_nature=True)

    def _oven_reasons(self, item: Baking, at: _At) -> Iterator[_Reason]:
        own = [load for load in self._plan.loads_of[item.key] if load.start == at.start]
        for load in own:
            oven = self._ovens[load.oven]
            if oven.hot_from == at.start:
                yield _Reason(Why.OVEN, 0, None, What.RESOURCE, oven.name)
            for other in self._plan.loads:
                if other.oven == load.oven and other.end + self._gap(other, load) == at.start:
                    before = _At(other.pieces[0][0], other.start)
                    yield _Reason(Why.OVEN, other.end, before, What.RESOURCE, oven.name)
        if item.hands:
            for free, before in self._released(item.hands, at):
                yield _Reason(_whose(item.hands), free, before)
        for load in own:
            for key, _ in load.pieces:
                if any(self._lags(self._problem.items[key], at, tight=True)):
                    yield _Reason(Why.SAME_LOAD, at.start, _At(key, at.start))

    def _gap(self, first: Load, then: Load) -> int:
        change = self._problem.change_min(first.kind, then.kind)
        return max(self._ovens[first.oven].turnaround_min, change)

    def _resource_reasons(self, task: Task, at: _At) -> Iterator[_Reason]:
        for use in task.ways[self._plan.slots[task.key].way].uses:
            for free, before in self._released(use.resource, at):
                yield _Reason(_whose(use.resource), free, before)

    def _released(self, resource: str, at: _At) -> Iterator[tuple[int, _At]]:
        """What used a resource until the minute at which something starts."""
        for task in self._problem.tasks:
            slot = self._plan.slots[task.key]
            way = task.ways[slot.way]
            uses = any(use.resource == resource for use in way.uses)
            if uses and way.minutes and slot.start + way.minutes == at.start:
                yield at.start, _At(task.key, slot.start)
        for baking in self._problem.bakings:
            if baking.hands == resource and baking.hands_min:
                for load in self._plan.loads_of[baking.key]:
                    if load.start + baking.hands_min == at.start:
                        yield at.start, _At(baking.key, load.start)

    def _place_reasons(self, task: Task, at: _At) -> Iterator[_Reason]:
        """Dough that left a place just when this one's came there."""
        end = self._plan.end(self._problem, task.key)
        own = [stay for stay in self._problem.stays if stay.after == task.key]
        for stay in own:
            for other in self._problem.stays:
                if other.resource == stay.resource and self._left(other) == end:
                    free = self._plan.end(self._problem, other.after)
                    before = _At(other.after, self._plan.last_start(self._problem, other.after))
                    if before.start < at.start:
                        why = Why.CABINET if stay.resource == CABINET else Why.REFRIGERATOR
                        title = self._names[stay.resource]
                        yield _Reason(why, free, before, What.RESOURCE, title)

    def _left(self, stay: Stay) -> int:
        return self._plan.last_start(self._problem, stay.until)


def _whose(resource: str) -> Why:
    named: Mapping[str, Why] = {INSTRUCTOR: Why.INSTRUCTOR, CABINET: Why.CABINET}
    return Why.MIXER if resource.startswith(MIXERS) else named.get(resource, Why.BUSY)
