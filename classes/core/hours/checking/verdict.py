"""Whether the hours of a class hold its bread, what decides it, and what is short."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from classes.core.hours.advice.bottleneck import Bottleneck, Scarce, Thing, bottleneck_of
from classes.core.hours.advice.critical import ChainLink, chain_of
from classes.core.hours.ahead.everything import ahead_of
from classes.core.hours.checking.minutes import left_out
from classes.core.hours.checking.obstacles import Hindrance, Obstacle, obstacle_of
from classes.core.hours.checking.shortages import PEOPLE_A_TEACHER, Shortage, shortages_of
from classes.core.hours.checking.unsaid import Unsaid, unsaid_of
from classes.core.hours.greedy.placing import CannotPlace
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.work import Solved

__all__ = ["TIGHT_BELOW_MIN", "Verdict", "VerdictKind", "kind_of", "obstacle_of", "verdict_of"]

# Our own default: less than this left after the last bread, and the class is tight.
TIGHT_BELOW_MIN = 15


class VerdictKind(StrEnum):
    """What is said of a class."""

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
    """What is said of a class, and why; minutes count from its start.

    Without a plan `ready` and `slack_min` are None and `obstacle` says what cannot be placed.
    `unsaid` is what keeps us from saying whether it fits; `ready` is then only when the rest is.
    `proved`: no plan is ready earlier; else one may be by at most `gap_min`.
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
    """The verdict on a plan; without one, `cannot` is why there is none."""
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
    """What a new plan shows, or else what stands in the way of any plan."""
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
    """A class that lacks something, or has no plan, does not fit; nor one that is late.

    Where something is unsaid, none of it can be said.
    """
    if unsaid:
        return VerdictKind.CANNOT_SAY
    slack_min = slack_of(scheduled, solved)
    if slack_min is None or slack_min < 0 or any(not shortage.is_remark for shortage in shortages):
        return VerdictKind.DOES_NOT_FIT
    return VerdictKind.TIGHT if slack_min < TIGHT_BELOW_MIN else VerdictKind.FITS
