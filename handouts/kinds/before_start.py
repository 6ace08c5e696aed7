"""The sheet "Before we start": all cautions of a class, large, on the wall and read aloud.

Other papers of the same file leave to it what has no room below their content.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from classes.plan import ClassPlan
from handouts.kind import WALL, Leaves, Material, NotPrinted, PaperKind, only
from handouts.kinds.emergency_card import HelpPlace, first_aid_box, meeting_point
from handouts.paper import Paper, paper_head
from handouts.safety.values import Hazard

MOST_LARGE = 8


@dataclass(frozen=True, kw_only=True)
class BeforeWeStart(Paper):
    """Every caution of a class on one page. It has no place for anything private."""

    template: ClassVar[str] = "handouts/before_start.html"
    style: ClassVar[str] = "before-start"
    kept: ClassVar[frozenset[Hazard]] = frozenset(Hazard)

    places: tuple[HelpPlace, ...] = ()

    @property
    def has_many(self) -> bool:
        """Whether the largest type has no room on the page."""
        return len(self.cautions) > MOST_LARGE


def before_we_start(plan: ClassPlan, printed_at: datetime) -> BeforeWeStart:
    """The sheet of a class. Raises NothingTaught."""
    head = paper_head(plan, printed_at)
    places = first_aid_box(plan.kitchen), meeting_point(plan.kitchen)
    return BeforeWeStart(head=head, hazards=head.hazards, places=places)


def with_wall(material: Material) -> Material:
    """The same for a file that has this sheet in it, if it can be made."""
    try:
        (leaf,) = KIND.leaves(material)
    except NotPrinted:
        return material
    return material.with_wall(leaf.paper.hazards)


def _leaves(material: Material) -> Leaves:
    return only([before_we_start(material.plan, material.at)])


KIND = PaperKind(
    "before-we-start",
    "Before we start",
    "All cautions on one sheet, to read aloud; papers in one file leave the rest to it.",
    WALL,
    _leaves,
)
