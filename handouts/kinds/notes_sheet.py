"""The blank notes sheet: room to write what a class taught its instructor, recipe by recipe."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import ClassVar

from classes.plan import ClassPlan, TaughtRevision
from handouts.kind import BENCH, Leaves, Material, PaperKind, only
from handouts.paper import Paper, paper_head

RULED = 23
LEAST_RULED = 2

# As in paper/notes-sheet.css, in millimeters: what a page has for lines and for rows of steps.
ROOM_MM, ROW_MM, RULED_MM = 154, 8, 9


@dataclass(frozen=True, slots=True)
class NoteStep:
    """A step of the recipe: its minutes, hands-on and waiting together, and °C if it has any."""

    kind: str
    planned_min: int
    temperature_c: Decimal | None


@dataclass(frozen=True, slots=True)
class NotePage:
    """The page of a recipe; a recipe without written steps has empty rows for them."""

    label: str
    steps: tuple[NoteStep, ...]

    @property
    def ruled(self) -> range:
        """The lines below each of two headings, as many as leave room for the steps."""
        rows_mm = ROW_MM * (len(self.steps) + len(self.spare_rows))
        return range(max(LEAST_RULED, int((ROOM_MM - rows_mm) / (2 * RULED_MM))))

    @property
    def spare_rows(self) -> range:
        """Empty rows instead of steps."""
        return range(0 if self.steps else 6)


@dataclass(frozen=True, kw_only=True)
class NotesSheet(Paper):
    """A page of ruled lines for each recipe. It has no place for anything private."""

    template: ClassVar[str] = "handouts/notes_sheet.html"
    style: ClassVar[str] = "notes-sheet"

    pages: tuple[NotePage, ...]

    @property
    def ruled(self) -> range:
        """The lines of the page at the end."""
        return range(RULED)


def notes_sheet(plan: ClassPlan, printed_at: datetime) -> tuple[NotesSheet, ...]:
    """The notes sheet of a class, a page for each of its recipes. Raises NothingTaught."""
    pages = tuple(map(_page, plan.taught))
    return (NotesSheet(head=paper_head(plan, printed_at), hazards=frozenset(), pages=pages),)


def _page(taught: TaughtRevision) -> NotePage:
    return NotePage(
        label=taught.label,
        steps=tuple(
            NoteStep(step.kind.label, step.minutes, step.temperature_c)
            for step in taught.timed.steps
        ),
    )


def _leaves(material: Material) -> Leaves:
    return only(notes_sheet(material.plan, material.at))


KIND = PaperKind(
    "notes",
    "Notes sheet",
    "Ruled lines for what went well and what to change.",
    BENCH,
    _leaves,
    usual=False,
    usual_pages=2,
)
