"""The result of a changed class: a new plan, and what in it is too late or has no room.

If no plan keeps every window, one without latest minutes is taken, and if even that has no room,
one without places in cabinet and refrigerator; the outcome says what is broken. A greedy plan does
not prove that there is no better one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from classes.core.hours.greedy.midway import with_lags
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.notes import Doing, Note, Scheduled
from classes.core.hours.problem.work import Lag, Load, Plan, Problem, Solved


@dataclass(frozen=True, slots=True)
class LateWork:
    """Something that starts after its latest minute; `pieces` counts its oven places."""

    note: Note
    latest: int
    start: int
    pieces: int = 0


@dataclass(frozen=True, slots=True)
class Outcome:
    """The result of a change: when the last bread is ready, and how long that is past the end.

    `next_start` is when the first dough goes on after a rise of another length; `starts` are when
    hands begin each task or baking, at an oven with the last load. `crowded` names places that are
    too few, and by how much. `stuck` is what could not be placed at all; then nothing else is
    known.
    """

    ready: int | None
    over_min: int = 0
    next_start: int | None = None
    loads: tuple[Load, ...] = ()
    starts: Mapping[str, int] = field(default_factory=dict)
    too_late: tuple[LateWork, ...] = ()
    crowded: tuple[tuple[str, int], ...] = ()
    stuck: Note | None = None

    @property
    def in_windows(self) -> bool:
        """Whether all doughs go on in time and have room until then."""
        return self.ready is not None and not self.too_late and not self.crowded

    @property
    def fits(self) -> bool:
        """Whether every window is kept and all is ready before the end."""
        return self.in_windows and self.over_min <= 0


def outcome_of(scheduled: Scheduled, follows: Sequence[str] = ()) -> Outcome:
    """The outcome of a greedy plan; `follows` are the tasks that come after a rise."""
    problem = scheduled.problem
    loose = _without_latest(scheduled)
    for tried in (problem, loose, replace(loose, stays=())):
        try:
            solved = plan_greedily(tried)
        except CannotPlace as failed:
            stuck = scheduled.notes.get(failed.key)
        else:
            return _outcome(scheduled, solved, follows)
    return Outcome(None, stuck=stuck)


def _outcome(scheduled: Scheduled, solved: Solved, follows: Sequence[str]) -> Outcome:
    problem, plan = scheduled.problem, solved.plan
    return Outcome(
        ready=solved.ready,
        over_min=solved.ready - scheduled.work.hours.minutes,
        next_start=min((plan.start(problem, key) for key in follows), default=None),
        loads=plan.loads,
        starts=starts_of(scheduled, plan),
        too_late=tuple(_too_late(scheduled, plan)),
        crowded=tuple(_crowded(problem, plan)),
    )


def starts_of(scheduled: Scheduled, plan: Plan) -> Mapping[str, int]:
    """When hands begin every step of every dough, by key; for a baking, its last load."""
    return {
        key: plan.last_start(scheduled.problem, key)
        for key, note in scheduled.notes.items()
        if note.recipe and note.doing in (Doing.HANDS, Doing.BAKE)
    }


def _without_latest(scheduled: Scheduled) -> Problem:
    """Without latest minutes, except for what is watched just before it is done."""

    def freed(lag: Lag) -> Lag:
        watched = scheduled.notes.get(lag.task)
        keeps = watched is not None and watched.doing is Doing.WATCH
        return lag if keeps else replace(lag, most=None)

    return with_lags(scheduled.problem, lambda _, lags: tuple(freed(lag) for lag in lags))


def _too_late(scheduled: Scheduled, plan: Plan) -> Iterator[LateWork]:
    problem = scheduled.problem
    for item in problem.items.values():
        latest = [plan.since(problem, lag) + lag.most for lag in item.after if lag.most is not None]
        start = plan.last_start(problem, item.key)
        if latest and start > min(latest):
            note, by = scheduled.notes[item.key], min(latest)
            yield LateWork(note, by, start, _pieces_after(plan, item.key, by))


def _pieces_after(plan: Plan, key: str, minute: int) -> int:
    loads = plan.loads_of.get(key, ())
    return sum(dict(load.pieces)[key] for load in loads if load.start > minute)


def _crowded(problem: Problem, plan: Plan) -> Iterator[tuple[str, int]]:
    """Places by name that hold more than they have room for, and how much more."""
    for place in problem.resources:
        stays = [stay for stay in problem.stays if stay.resource == place.key]
        spans = [
            (plan.end(problem, stay.after), plan.last_start(problem, stay.until), stay.amount)
            for stay in stays
        ]
        most = max(
            (
                sum(amount for start, end, amount in spans if start <= at < end)
                for at, _, _ in spans
            ),
            default=0,
        )
        if most > place.capacity:
            yield place.name, most - place.capacity
