"""Notices for the wall: what a station avoids, in large letters, without names."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from classes.core.diets.findings import ASK
from classes.plan import ClassPlan
from handouts.kind import WALL, Leaves, Material, PaperKind, labeled
from handouts.paper import Paper, PaperError, paper_head
from handouts.safety.values import Hazard

# What a notice is about: flour on hands and in the air. Everything else is on the station's card.
HAZARDS = frozenset({Hazard.ALLERGENS, Hazard.HANDS, Hazard.FLOUR})

# The size of letters in paper/notice.css by their number: the fewer, the larger.
SIZES = ((11, "size-88"), (34, "size-66"), (90, "size-48"))


class NothingAvoided(PaperError):
    """Notices were asked for, but no station of the class avoids anything."""

    def __init__(self) -> None:
        super().__init__(
            "Nobody named anything that a station should avoid. That promises nothing: ask "
            "again at the door."
        )


@dataclass(frozen=True, kw_only=True)
class StationNotice(Paper):
    """What a station avoids. It names nobody and counts nobody.

    `asks` is whether somebody there prefers to say it in private, or said it in words that may
    identify them.
    """

    template: ClassVar[str] = "handouts/station_notice.html"
    style: ClassVar[str] = "notice"

    station: str
    avoids: tuple[str, ...]
    asks: bool

    @property
    def size(self) -> str:
        """The size of letters in which what is avoided usually fits on the page."""
        letters = len(", ".join(self.avoids))
        return next((size for most, size in SIZES if letters <= most), "size-40")


def station_notices(plan: ClassPlan, printed_at: datetime) -> tuple[StationNotice, ...]:
    """A notice for each station that avoids something. Raises NothingAvoided and NothingTaught."""
    notices = tuple(_notices(plan, printed_at))
    if not notices:
        raise NothingAvoided
    return notices


def _notices(plan: ClassPlan, printed_at: datetime) -> Iterator[StationNotice]:
    head = paper_head(plan, printed_at)
    avoided = plan.avoided
    for station in plan.stations:
        if words := avoided.get(station, ()):
            yield StationNotice(
                head=head,
                hazards=HAZARDS,
                station=station,
                avoids=tuple(word for word in words if word != ASK),
                asks=ASK in words,
            )


def _leaves(material: Material) -> Leaves:
    papers = station_notices(material.plan, material.at)
    return labeled((paper.station, paper) for paper in papers)


KIND = PaperKind(
    "station-notices",
    "Station notices",
    "What a station avoids, in large letters and without names.",
    WALL,
    _leaves,
)
