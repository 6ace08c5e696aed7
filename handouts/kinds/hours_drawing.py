"""The hours of a class drawn as bars, on a page of its own."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import ClassVar

from classes.core.hours.drawing.edition import drawing_of
from classes.core.hours.drawing.values import DrawnEdition as DrawnEdition
from classes.hours.plan import ClassHours
from classes.plan import ClassPlan
from handouts.kind import BENCH, Leaves, Material, PaperKind, only
from handouts.paper import Paper, paper_head
from handouts.run_sheet.course import NoPlan

# Up to this height, in the drawing's units, its page is turned to make its letters larger.
TURNED_UP_TO = Decimal(560)


@dataclass(frozen=True, kw_only=True)
class HoursDrawing(Paper):
    """A plan of the hours as bars. It has no place for anything private."""

    template: ClassVar[str] = "handouts/hours_drawing.html"
    style: ClassVar[str] = "hours-drawing"

    drawing: DrawnEdition

    @property
    def is_turned(self) -> bool:
        """Whether the drawing is turned on its page."""
        return self.drawing.height <= TURNED_UP_TO


def hours_drawing(plan: ClassPlan, hours: ClassHours, printed_at: datetime) -> HoursDrawing:
    """The plan of a class's hours, drawn. Raises NoPlan and NothingTaught."""
    if hours.solved is None:
        raise NoPlan
    ends = hours.scheduled.work.hours.minutes
    drawing = drawing_of(hours.scheduled, hours.solved.plan, label=hours.on_axis, ends=ends)
    head = paper_head(plan, printed_at)
    return HoursDrawing(head=head, hazards=head.hazards, drawing=drawing.wide)


def _leaves(material: Material) -> Leaves:
    return only([hours_drawing(material.plan, material.hours, material.at)])


KIND = PaperKind(
    "hours-drawing",
    "Hours, drawn",
    "The plan of the hours as bars, on one page.",
    BENCH,
    _leaves,
    usual=False,
)
