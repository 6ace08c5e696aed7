"""The differences between two plans: of a class as it is, and as it might be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import zip_longest

from classes.core.hours.checking.shortages import shortages_of
from classes.core.hours.checking.unsaid import unsaid_of
from classes.core.hours.checking.verdict import VerdictKind, kind_of, slack_of
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.work import BakeKind, Load, Plan, Solved

Side = tuple[Scheduled, Solved | None]


@dataclass(frozen=True, slots=True)
class Stretch:
    """From one minute to another, counted from the start of the unchanged class."""

    starts: int
    ends: int


@dataclass(frozen=True, slots=True)
class Moved:
    """Work or waiting that several share at the same times; None if it is not there."""

    title: str
    recipe: str
    who: tuple[str, ...]
    before: Stretch | None
    after: Stretch | None


@dataclass(frozen=True, slots=True)
class LoadChange:
    """An oven's load by its number, from 1; None if there is none."""

    oven: str
    number: int
    before: Load | None
    after: Load | None


@dataclass(frozen=True)
class Differences:
    """What differs, in minutes from the start of the unchanged class.

    `ready_before` or `ready_after` is None if a class has no plan; then nothing has moved.
    """

    verdict_before: VerdictKind
    verdict_after: VerdictKind
    ready_before: int | None
    ready_after: int | None
    slack_before_min: int | None
    slack_after_min: int | None
    moved: tuple[Moved, ...] = ()
    appeared: tuple[Moved, ...] = ()
    went: tuple[Moved, ...] = ()
    loads: tuple[LoadChange, ...] = ()

    @property
    def ready_later_min(self) -> int | None:
        """By how many minutes the last bread is later; negative if earlier."""
        if self.ready_before is None or self.ready_after is None:
            return None
        return self.ready_after - self.ready_before

    @property
    def is_none(self) -> bool:
        """Whether nothing differs."""
        verdicts = self.verdict_before is self.verdict_after
        same = self.ready_before == self.ready_after
        slack = self.slack_before_min == self.slack_after_min
        told = self.moved or self.appeared or self.went or self.loads
        return verdicts and same and slack and not told


def compare(before: Side, after: Side, *, starts_earlier_min: int = 0) -> Differences:
    """The differences after a change; the changed class may start some minutes earlier."""
    ready = [None if solved is None else solved.ready for _, solved in (before, after)]
    found = Differences(
        _kind(before),
        _kind(after),
        ready[0],
        None if ready[1] is None else ready[1] - starts_earlier_min,
        slack_of(*before),
        slack_of(*after),
    )
    if before[1] is None or after[1] is None:
        return found
    spans = [
        _spans(before[0], before[1].plan, 0),
        _spans(after[0], after[1].plan, -starts_earlier_min),
    ]
    changed = tuple(_changed(*spans))
    return replace(
        found,
        moved=tuple(difference for difference in changed if difference.before and difference.after),
        appeared=tuple(difference for difference in changed if not difference.before),
        went=tuple(difference for difference in changed if not difference.after),
        loads=tuple(_loads(before, after, starts_earlier_min)),
    )


def _kind(side: Side) -> VerdictKind:
    scheduled, solved = side
    return kind_of(scheduled, solved, shortages_of(scheduled), unsaid_of(scheduled))


@dataclass(frozen=True, slots=True)
class _WorkName:
    """What is done, with which dough, by whom; `number` distinguishes equal titles."""

    title: str
    recipe: str
    who: str
    number: int = 0


def _spans(scheduled: Scheduled, plan: Plan, shift_min: int) -> dict[_WorkName, Stretch]:
    """When everything is done or waits, by the name people give it."""
    problem = scheduled.problem
    titles = {recipe.key: recipe.title for recipe in scheduled.work.recipes}
    found: dict[_WorkName, Stretch] = {}
    for key, note in scheduled.notes.items():
        starts, ends = plan.start(problem, key), plan.end(problem, key)
        name = _WorkName(note.title, titles.get(note.recipe, ""), note.who)
        _enter(found, name, Stretch(starts + shift_min, ends + shift_min))
    for wait in scheduled.waits:
        starts, ends = plan.end(problem, wait.after), plan.last_start(problem, wait.until)
        name = _WorkName(wait.title, titles.get(wait.recipe, ""), wait.who)
        _enter(found, name, Stretch(starts + shift_min, ends + shift_min))
    return found


def _enter(found: dict[_WorkName, Stretch], name: _WorkName, span: Stretch) -> None:
    while name in found:
        name = replace(name, number=name.number + 1)
    found[name] = span


def _changed(
    before: Mapping[_WorkName, Stretch], after: Mapping[_WorkName, Stretch]
) -> Iterator[Moved]:
    """What has different times, grouped by equal times, in order."""
    groups: dict[tuple[str, str, int, Stretch | None, Stretch | None], list[str]] = {}
    for name in dict.fromkeys((*before, *after)):
        old, new = before.get(name), after.get(name)
        if old != new:
            key = (name.title, name.recipe, name.number, old, new)
            groups.setdefault(key, []).append(name.who)
    moved = [
        Moved(title, recipe, tuple(who), old, new)
        for (title, recipe, _, old, new), who in groups.items()
    ]
    return iter(sorted(moved, key=_when))


def _when(moved: Moved) -> tuple[int, int]:
    span = moved.before or moved.after
    return (span.starts, span.ends) if span else (0, 0)


def _loads(before: Side, after: Side, starts_earlier_min: int) -> Iterator[LoadChange]:
    """Loads with another number of places, another start or another kind."""
    names = {oven.key: oven.name for side in (before, after) for oven in side[0].problem.ovens}
    for key, name in names.items():
        old, new = _loads_in(before, key, 0), _loads_in(after, key, -starts_earlier_min)
        for number, pair in enumerate(zip_longest(old, new), 1):
            if _outside(pair[0]) != _outside(pair[1]):
                yield LoadChange(name, number, *pair)


def _loads_in(side: Side, oven: str, shift_min: int) -> list[Load]:
    loads: Iterable[Load] = side[1].plan.loads if side[1] else ()
    own = (replace(load, start=load.start + shift_min) for load in loads if load.oven == oven)
    return sorted(own, key=lambda load: load.start)


def _outside(load: Load | None) -> tuple[int, BakeKind, int] | None:
    if load is None:
        return None
    return load.start, load.kind, load.filled
