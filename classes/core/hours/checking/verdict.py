"""Whether a class fits its hours, what decides that, and what is short."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from classes.core.hours.advice.bottleneck import Bottleneck, Scarce, Thing, bottleneck_of
from classes.core.hours.advice.critical import ChainLink, chain_of
from classes.core.hours.ahead.diary import AheadTask
from classes.core.hours.ahead.everything import ahead_of
from classes.core.hours.checking.obstacles import Hindrance, Obstacle, obstacle_of
from classes.core.hours.checking.shortages import PEOPLE_A_TEACHER, Shortage, shortages_of
from classes.core.hours.checking.unsaid import Gap, Unsaid, unsaid_of
from classes.core.hours.greedy.placing import CannotPlace
from classes.core.hours.problem.notes import Note, Scheduled, Wait
from classes.core.hours.problem.work import Solved


@dataclass(frozen=True, slots=True)
class Minutes:
    """The minutes of a recipe for one of its doughs: as written, and where they are planned."""

    key: str
    recipe: str
    who: str
    written: int
    in_class: int
    ahead: int
    brought: int

    @property
    def missing(self) -> int:
        """How many are planned nowhere; negative if more are planned than written."""
        return self.written - self.in_class - self.ahead - self.brought


def minutes_of(scheduled: Scheduled, ahead: Iterable[AheadTask]) -> tuple[Minutes, ...]:
    """The minutes of every dough of a class, with what is done ahead for its plan."""
    return tuple(_minutes(scheduled, list(ahead)))


def _minutes(scheduled: Scheduled, ahead: list[AheadTask]) -> Iterator[Minutes]:
    for recipe in scheduled.work.recipes:
        before = sum(task.written_min for task in ahead if task.recipe == recipe.key)
        for group in recipe.doughs:
            whose = (recipe.key, group.station)
            yield Minutes(
                key=recipe.key,
                recipe=recipe.title,
                who=group.station,
                written=sum(step.minutes for step in recipe.steps),
                in_class=_in_class(scheduled, *whose),
                ahead=before,
                brought=scheduled.brought.get(whose, 0),
            )


def _in_class(scheduled: Scheduled, recipe: str, who: str) -> int:
    told: list[Note | Wait] = [*scheduled.notes.values(), *scheduled.waits]
    return sum(task.written_min for task in told if (task.recipe, task.who) == (recipe, who))


def left_out(scheduled: Scheduled, ahead: Iterable[AheadTask]) -> tuple[Unsaid, ...]:
    """Recipes whose minutes are not all planned, or planned twice."""
    found = (
        Unsaid(Gap.MINUTES, minute.key, minute.recipe, minutes=minute.missing)
        for minute in minutes_of(scheduled, ahead)
        if minute.missing
    )
    return tuple(dict.fromkeys(found))


__all__ = ["TIGHT_BELOW_MIN", "Verdict", "VerdictKind", "kind_of", "obstacle_of", "verdict_of"]

# Our own default: with less than this left after the last bread, the class is tight.
TIGHT_BELOW_MIN = 15


class VerdictKind(StrEnum):
    """The verdict on a class in a word."""

    FITS = "fits"
    TIGHT = "tight"
    DOES_NOT_FIT = "does-not-fit"
    CANNOT_SAY = "cannot-say"

    @property
    def words(self) -> str:
        """`fits`, `tight`, `does not fit` or `cannot say`."""
        return self.value.replace("-", " ")


@dataclass(frozen=True, slots=True)
class Verdict:
    """The verdict on a class, and why; minutes count from its start.

    Without a plan `ready` and `slack_min` are None and `obstacle` says what cannot be placed.
    `unsaid` is what keeps us from saying whether it fits; `ready` then covers only the rest.
    `proved`: no plan is ready earlier; else one may be, by at most `gap_min`.
    """

    kind: VerdictKind
    ready: int | None
    slack_min: int | None
    proved: bool
    gap_min: int
    critical: tuple[ChainLink, ...]
    bottleneck: Bottleneck
    shortages: tuple[Shortage, ...]
    obstacle: Obstacle | None = None
    unsaid: tuple[Unsaid, ...] = ()


def verdict_of(
    scheduled: Scheduled,
    solved: Solved | None,
    cannot: CannotPlace | None = None,
    *,
    people_a_teacher: int = PEOPLE_A_TEACHER,
) -> Verdict:
    """The verdict on a plan; without one, `cannot` says why."""
    shortages = shortages_of(scheduled, people_a_teacher=people_a_teacher)
    obstacle = None if cannot is None else obstacle_of(scheduled, cannot)
    unsaid = unsaid_of(scheduled)
    if solved is not None:
        unsaid += left_out(scheduled, ahead_of(scheduled, solved.plan))
    return Verdict(
        kind=kind_of(scheduled, solved, shortages, unsaid),
        ready=None if solved is None else solved.ready,
        slack_min=slack_of(scheduled, solved),
        proved=solved is not None and solved.proved,
        gap_min=0 if solved is None else solved.gap_min,
        critical=() if solved is None else chain_of(scheduled, solved.plan),
        bottleneck=_bottleneck(scheduled, solved, obstacle),
        shortages=shortages,
        obstacle=obstacle,
        unsaid=unsaid,
    )


def _bottleneck(
    scheduled: Scheduled, solved: Solved | None, obstacle: Obstacle | None
) -> Bottleneck:
    """The bottleneck by new plans, or else what is in the way of any plan."""
    found = bottleneck_of(scheduled, solved)
    named = None if obstacle is None else _SCARCE.get(obstacle.hindrance)
    return found if found.things or named is None else Bottleneck((Thing(named),), None)


_SCARCE = {
    Hindrance.NO_OVEN: Scarce.OVENS,
    Hindrance.LOADS: Scarce.OVENS,
    Hindrance.CABINET: Scarce.CABINET,
    Hindrance.REFRIGERATOR: Scarce.REFRIGERATOR,
}


def slack_of(scheduled: Scheduled, solved: Solved | None) -> int | None:
    """Minutes from the last bread to the end of the class; negative when late."""
    return None if solved is None else scheduled.work.hours.minutes - solved.ready


def kind_of(
    scheduled: Scheduled,
    solved: Solved | None,
    shortages: tuple[Shortage, ...],
    unsaid: tuple[Unsaid, ...],
) -> VerdictKind:
    """A class that lacks something, has no plan or is late does not fit.

    If something is unsaid, nothing can be said.
    """
    if unsaid:
        return VerdictKind.CANNOT_SAY
    slack_min = slack_of(scheduled, solved)
    if slack_min is None or slack_min < 0 or any(not shortage.is_remark for shortage in shortages):
        return VerdictKind.DOES_NOT_FIT
    return VerdictKind.TIGHT if slack_min < TIGHT_BELOW_MIN else VerdictKind.FITS
