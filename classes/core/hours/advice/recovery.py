"""What to do when a class does not follow its plan: every answer is a new plan.

For dough that is slower or faster than planned, or an oven that fails while dough rises, the plan
is made anew from that minute on and keeps what has begun. What is known before the class starts (an
oven or a mixer out, people who come late) is planned from the start.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from classes.core.hours.advice.outcomes import Outcome, outcome_of
from classes.core.hours.drawing.spans import mixers_of
from classes.core.hours.greedy.midway import from_minute, with_lags
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.notes import Doing, Scheduled, Wait
from classes.core.hours.problem.values import RISES, ClassWork
from classes.core.hours.problem.work import Baking, Lag, Plan, PlannedOven, Problem, Solved
from recipes.core.choices import StepKind

LATE_MIN = (15, 30)
EARLY_MIN = 15
START_LATE_MIN = 15


@dataclass(frozen=True, slots=True)
class RiseOff:
    """A rise of a recipe that does not follow the clock.

    `due` is when, by the plan, its first dough goes on; it may from `earliest` and must by
    `latest`. `places` is how many places all its doughs would take in the refrigerator.
    """

    recipe: str
    title: str
    follows: str
    due: int
    earliest: int
    latest: int
    places: int
    late: tuple[tuple[int, Outcome], ...]
    early: Outcome


@dataclass(frozen=True, slots=True)
class OvenOut:
    """An oven that fails: known before the class, or noticed when it should be switched on.

    `due` is that minute; None if the plan does not need the oven.
    """

    oven: PlannedOven
    due: int | None
    before: Outcome | None = None
    then: Outcome | None = None


@dataclass(frozen=True, slots=True)
class MixerOut:
    """A mixer that fails before mixing; `left` counts the remaining ones of all sizes."""

    capacity_g: int
    left: int
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class Recovery:
    """What can go wrong in a class, with the result of each."""

    rises: tuple[RiseOff, ...]
    ovens: tuple[OvenOut, ...]
    mixers: tuple[MixerOut, ...]
    late_start: Outcome


def recovery_of(scheduled: Scheduled, solved: Solved) -> Recovery:
    """What to do when the class departs from its plan."""
    case = _Today(scheduled, solved.plan)
    work = scheduled.work
    welcome_min = work.hours.welcome_min + START_LATE_MIN
    late = replace(work, hours=replace(work.hours, welcome_min=welcome_min))
    return Recovery(
        rises=tuple(_rise_off(case, doughs) for doughs in rises_of(scheduled)),
        ovens=tuple(_oven_out(case, oven) for oven in work.ovens),
        mixers=tuple(_mixers_out(case)),
        late_start=_from_the_start(late),
    )


@dataclass(frozen=True, slots=True)
class _Today:
    scheduled: Scheduled
    plan: Plan

    def start(self, key: str) -> int:
        return self.plan.start(self.scheduled.problem, key)

    def from_minute(self, problem: Problem, at: int) -> Problem:
        notes = self.scheduled.notes
        seen = {key for key, note in notes.items() if note.doing is Doing.WATCH}
        return from_minute(problem, self.plan, at, seen=seen)


# Rises

Doughs = tuple[tuple[Wait, ...], ...]


def rises_of(scheduled: Scheduled) -> tuple[Doughs, ...]:
    """The rises of every recipe: for each dough, the waits that make up one rise with its folds."""
    found: dict[tuple[str, int], list[tuple[Wait, ...]]] = {}
    counts: dict[tuple[str, str], int] = {}
    for waits in _whole_rises(scheduled):
        dough = (waits[0].recipe, waits[0].who)
        number = counts[dough] = counts.get(dough, 0) + 1
        found.setdefault((waits[0].recipe, number), []).append(waits)
    return tuple(tuple(doughs) for doughs in found.values())


def _whole_rises(scheduled: Scheduled) -> Iterator[tuple[Wait, ...]]:
    going: list[Wait] = []
    for wait in scheduled.waits:
        if wait.rise is None:
            continue
        is_more = going and wait.after == going[-1].until and _is_fold(scheduled, wait.after)
        if going and not is_more:
            yield tuple(going)
            going = []
        going.append(wait)
    if going:
        yield tuple(going)


def _is_fold(scheduled: Scheduled, key: str) -> bool:
    return scheduled.notes[key].kind in RISES


def _latest_end(problem: Problem, plan: Plan, waits: Sequence[Wait]) -> int:
    """The last minute at which what follows a rise may start."""
    return min(
        plan.end(problem, lag.task) + lag.most
        for lag in _lags_of(problem, waits)
        if lag.most is not None
    )


def _earliest_end(problem: Problem, plan: Plan, waits: Sequence[Wait]) -> int:
    """The first minute at which dough that rises well is ready for what follows."""
    rise = waits[-1].rise
    sooner = rise.window.target - rise.window.earliest if rise else 0
    least = [plan.end(problem, lag.task) + lag.least for lag in _lags_of(problem, waits)]
    return max(least) - sooner


def _lags_of(problem: Problem, waits: Sequence[Wait]) -> list[Lag]:
    after = {wait.after for wait in waits}
    return [lag for lag in problem.items[waits[-1].until].after if lag.task in after]


def _rise_off(case: _Today, doughs: Doughs) -> RiseOff:
    problem, first = case.scheduled.problem, doughs[0][-1]
    due = min(case.start(waits[-1].until) for waits in doughs)
    early = _slower(problem, doughs, -EARLY_MIN)
    return RiseOff(
        recipe=first.recipe,
        title=first.title,
        follows=case.scheduled.notes[first.until].title,
        due=due,
        earliest=min(_earliest_end(problem, case.plan, waits) for waits in doughs),
        latest=min(_latest_end(problem, case.plan, waits) for waits in doughs),
        places=_places(case.scheduled, doughs),
        late=tuple(
            (minutes, _midway(case, _slower(problem, doughs, minutes), due, doughs))
            for minutes in LATE_MIN
        ),
        early=_midway(case, early, due - EARLY_MIN, doughs),
    )


def _slower(problem: Problem, doughs: Doughs, minutes: int) -> Problem:
    """The problem with a rise that takes longer, its whole window moved."""
    after = {waits[-1].until: {wait.after for wait in waits} for waits in doughs}

    def moved(key: str, lags: tuple[Lag, ...]) -> tuple[Lag, ...]:
        before = after.get(key, set())
        return tuple(_moved(lag, minutes) if lag.task in before else lag for lag in lags)

    return with_lags(problem, moved)


def _moved(lag: Lag, minutes: int) -> Lag:
    least = max(0, lag.least + minutes)
    most = None if lag.most is None else max(least, lag.most + minutes)
    return replace(lag, least=least, most=most)


def _places(scheduled: Scheduled, doughs: Doughs) -> int:
    """A place for each bowl before shaping, and one for each oven place after it."""
    if doughs[0][0].kind is not StepKind.PROOF:
        recipe = next(
            recipe for recipe in scheduled.work.recipes if recipe.key == doughs[0][0].recipe
        )
        return sum(group.people for group in recipe.doughs)
    items = [scheduled.problem.items[waits[-1].until] for waits in doughs]
    return sum(item.pieces for item in items if isinstance(item, Baking))


def _midway(case: _Today, problem: Problem, at: int, doughs: Doughs = ()) -> Outcome:
    rest = replace(case.scheduled, problem=case.from_minute(problem, at))
    return outcome_of(rest, [waits[-1].until for waits in doughs])


# Ovens, mixers, people


def _oven_out(case: _Today, oven: PlannedOven) -> OvenOut:
    problem, work = case.scheduled.problem, case.scheduled.work
    loads = [load for load in case.plan.loads if load.oven == oven.key]
    if not loads:
        return OvenOut(oven, None)
    left = tuple(one for one in work.ovens if one.key != oven.key)
    due = min(load.start for load in loads) - oven.preheat_min
    if not left:
        return OvenOut(oven, due)
    return OvenOut(
        oven,
        due,
        before=_from_the_start(replace(work, ovens=left)),
        then=_midway(case, replace(problem, ovens=left), due),
    )


def _mixers_out(case: _Today) -> Iterator[MixerOut]:
    """For every kind of mixer that the plan uses, the result with one fewer."""
    work = case.scheduled.work
    used = {mixers_of(case.scheduled, task, case.plan) for task in case.scheduled.problem.tasks}
    for n, kind in enumerate(work.mixers):
        if kind in used:
            fewer = (replace(kind, count=kind.count - 1),) if kind.count > 1 else ()
            left = (*work.mixers[:n], *fewer, *work.mixers[n + 1 :])
            outcome = _from_the_start(replace(work, mixers=left))
            yield MixerOut(kind.capacity_g, sum(mixer.count for mixer in left), outcome)


def _from_the_start(work: ClassWork) -> Outcome:
    return outcome_of(schedule_of(work))
