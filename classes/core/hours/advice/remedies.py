"""The smallest changes by which a class fits, each found by planning the changed class.

Nothing is guessed: every offer has a plan that ends in time and lacks nothing. Two changes are
combined only if no single one is enough except having fewer people. The number of tasks planned is
limited, so that nobody waits long for an answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from classes.core.hours.advice.changes import (
    ALTERNATIVES,
    Changed,
    ClassChange,
    RemedyKind,
    end_later,
    fewer_people,
    more_bowls,
    start_earlier,
    watch_less,
)
from classes.core.hours.checking.obstacles import stuck_bakings
from classes.core.hours.checking.shortages import people_in, shortages_of
from classes.core.hours.checking.unsaid import unsaid_of
from classes.core.hours.checking.verdict import TIGHT_BELOW_MIN
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.values import ClassWork
from classes.core.hours.problem.work import Problem, Solved
from classes.core.keys import Stage
from recipes.core.errors import NoGrowth

__all__ = ["ClassChange", "Remedy", "RemedyKind", "Stage", "remedies_for"]

STEP_MIN = 5
MOST_LONGER_MIN = 120
MOST_PLANNED = 7000
NO_PLAN = -(10**6)


@dataclass(frozen=True)
class Remedy:
    """Changes that make a class fit, and its plan with them; `cost` ranks how large they are.

    Minutes count from the start of the changed class, which is `starts_earlier_min` before that of
    the class as it is.
    """

    changes: tuple[ClassChange, ...]
    scheduled: Scheduled
    solved: Solved
    cost: int

    @property
    def kind(self) -> RemedyKind:
        """The kind of its last change; earlier changes only make it possible."""
        return self.changes[-1].kind

    @property
    def work(self) -> ClassWork:
        """The changed class."""
        return self.scheduled.work

    @property
    def ready(self) -> int:
        """When the last bread is ready."""
        return self.solved.ready

    @property
    def slack_min(self) -> int:
        """Minutes left after the last bread."""
        return self.work.hours.minutes - self.solved.ready

    @property
    def starts_earlier_min(self) -> int:
        """By how many minutes the class starts earlier."""
        earlier = [
            change.amount for change in self.changes if change.kind is RemedyKind.START_EARLIER
        ]
        return sum(earlier)


def remedies_for(
    work: ClassWork, *, solved: Solved | None = None, most: int = 6
) -> tuple[Remedy, ...]:
    """A limited number of remedies, the smallest change first; none if the class already fits.

    None, too, if something unsaid leaves that open.

    `solved` is the plan of the class, if it is better than a greedy one. A class that does not fit
    gets changes that make it end in time; a tight one, changes that leave 15 min or more. Raises
    NoGrowth if the dough of the class does not rise.
    """
    scheduled = schedule_of(work)
    if unsaid_of(scheduled):
        return ()
    search = _Planning(scheduled, solved)
    start = Changed((), work, 0)
    if search.fitting(start):
        search.least_slack_min = TIGHT_BELOW_MIN
        if search.fitting(start):
            return ()
    found, fewer = _singles(search, start), _most_people(search, start)
    found = found or _pairs(search, start)
    found += [fewer.remedy()] if fewer else []
    return tuple(sorted(found, key=lambda remedy: remedy.cost)[:most])


@dataclass(frozen=True)
class _Outcome:
    """A changed class with its plan, and whether it lacks something."""

    changed: Changed
    scheduled: Scheduled
    solved: Solved
    lacks: bool

    @property
    def slack_min(self) -> int:
        return self.scheduled.work.hours.minutes - self.solved.ready

    def remedy(self) -> Remedy:
        return Remedy(self.changed.changes, self.scheduled, self.solved, self.changed.cost)


class _Planning:
    """Plans changed classes up to a limit of work; what fits leaves at least the least slack.

    If a change leaves the problem as it is, the plan of the class stays.
    """

    def __init__(self, now: Scheduled, solved: Solved | None) -> None:
        self.least_slack_min = 0
        self._now, self._solved = now, solved
        self._left = MOST_PLANNED
        self._known: dict[ClassWork, tuple[Scheduled, Solved, bool] | None] = {}

    def outcome(self, changed: Changed) -> _Outcome | None:
        """The plan of a changed class; None without one, or when the limit is reached."""
        if changed.work not in self._known:
            if self._left <= 0:
                return None
            self._known[changed.work] = self._planned(changed.work)
        known = self._known[changed.work]
        return None if known is None else _Outcome(changed, *known)

    def _planned(self, work: ClassWork) -> tuple[Scheduled, Solved, bool] | None:
        try:
            scheduled = schedule_of(work)
            self._left -= len(scheduled.problem.items)
            if stuck_bakings(scheduled.problem):
                return None
            solved = self._plan(scheduled.problem)
        except (NoGrowth, CannotPlace):
            return None
        lacks = any(not shortage.is_remark for shortage in shortages_of(scheduled))
        return scheduled, solved, lacks

    def _plan(self, problem: Problem) -> Solved:
        kept = self._solved if problem == self._now.problem else None
        return kept or plan_greedily(problem)

    def fits(self, outcome: _Outcome | None) -> bool:
        return (
            outcome is not None and not outcome.lacks and outcome.slack_min >= self.least_slack_min
        )

    def fitting(self, changed: Changed) -> _Outcome | None:
        """The plan of a changed class if it fits."""
        outcome = self.outcome(changed)
        return outcome if self.fits(outcome) else None

    def first(self, variants: Iterable[Changed]) -> _Outcome | None:
        """The first variant that fits."""
        return next((found for variant in variants if (found := self.fitting(variant))), None)


def _with_bowls(start: Changed) -> Changed:
    """Missing bowls are added to every change except that of the number of people."""
    return more_bowls(start) if 0 < start.work.room.bowls < start.work.doughs else start


def _singles(search: _Planning, start: Changed) -> list[Remedy]:
    """The remedies by a single change, with the same number of people."""
    start = _with_bowls(start)
    if start.changes and (enough := search.fitting(start)):
        return [enough.remedy()]
    found = _longer(search, start)
    found.append(_less_watching(search, start))
    found += [search.first(variants(start)) for variants in ALTERNATIVES]
    return [remedy.remedy() for remedy in found if remedy]


def _pairs(search: _Planning, start: Changed) -> list[Remedy]:
    """A change of the kitchen or the dough combined with more time or another kind of change."""
    start = _with_bowls(start)
    firsts = []
    for number, variants in enumerate(ALTERNATIVES):
        for variant in variants(start):
            outcome = search.outcome(variant)
            slack_min = NO_PLAN if outcome is None else outcome.slack_min
            firsts.append((slack_min, number, variant))
    firsts.sort(key=lambda first: -first[0])
    found = [longer for _, _, first in firsts for longer in _longer(search, first)[:1]]
    for _, number, first in firsts:
        found += [search.first(variants(first)) for variants in ALTERNATIVES[number + 1 :]]
    return [remedy.remedy() for remedy in found if remedy]


def _longer(search: _Planning, changed: Changed) -> list[_Outcome | None]:
    """The least by which a class must start earlier, or end later."""
    now = search.outcome(changed)
    if now is None or now.lacks:
        return []
    missing = search.least_slack_min - now.slack_min
    least = max(STEP_MIN, -(-missing // STEP_MIN) * STEP_MIN)
    return [_lengthened(search, changed, by, least) for by in (start_earlier, end_later)]


def _lengthened(
    search: _Planning, changed: Changed, by: Callable[[Changed, int], Changed], least: int
) -> _Outcome | None:
    """The first length that fits, from what is missing up, and then shorter ones.

    If a break keeps its time on the clock, the plan may change with the length.
    """
    found = search.first(by(changed, n) for n in range(least, MOST_LONGER_MIN + 1, STEP_MIN))
    for minutes in range(least - STEP_MIN, 0, -STEP_MIN):
        shorter = search.fitting(by(changed, minutes)) if found else None
        if shorter is None:
            break
        found = shorter
    return found


def _less_watching(search: _Planning, start: Changed) -> _Outcome | None:
    """The least by which watching must be shortened, if none at all would be enough."""
    shown = start.work.hours.show_min
    none = search.fitting(watch_less(start, shown)) if shown else None
    if none is None:
        return None
    return search.first(watch_less(start, minutes) for minutes in range(1, shown)) or none


def _most_people(search: _Planning, start: Changed) -> _Outcome | None:
    """The largest number of people that fits, found by bisection."""
    best: _Outcome | None = None
    least, most = 0, people_in(start.work)
    while most - least > 1:
        middle = (least + most) // 2
        if found := search.fitting(fewer_people(start, middle)):
            least, best = middle, found
        else:
            most = middle
    return best
