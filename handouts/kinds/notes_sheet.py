"""The blank notes sheet: room to write what a class taught its instructor, recipe by recipe."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import ClassVar

from classes.selectors import ClassNumbers
from handouts.paper import Paper
from handouts.selectors import paper_head
from recipes.models import Revision

RULED = 23


@dataclass(frozen=True, slots=True)
class NoteStep:
    """A step of the recipe: its minutes, hands and waiting together, and °C if it has any."""

    kind: str
    planned_min: int
    temperature_c: Decimal | None


@dataclass(frozen=True, slots=True)
class NotePage:
    """The page of a recipe; a recipe without written steps has empty rows for them."""

    label: str
    steps: tuple[NoteStep, ...]
    is_first: bool

    @property
    def ruled(self) -> range:
        """The lines below a heading; the first page has the cautions above them."""
        return range(2 if self.is_first else 5)

    @property
    def spare_rows(self) -> range:
        """Empty rows in the place of steps."""
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


def notes_sheet(numbers: ClassNumbers, printed_at: datetime) -> tuple[NotesSheet, ...]:
    """The notes sheet of a class, a page for each of its recipes. Raises NoRecipe."""
    rows = numbers.session.taught.all()
    pages = tuple(_page(row.revision, is_first=not n) for n, row in enumerate(rows))
    return (NotesSheet(head=paper_head(numbers, printed_at), pages=pages),)


def _page(revision: Revision, *, is_first: bool) -> NotePage:
    return NotePage(
        label=str(revision),
        steps=tuple(
            NoteStep(
                step.get_kind_display(),
                step.hands_on_min + step.waiting_min,
                step.temperature_c,
            )
            for step in revision.steps.all()
        ),
        is_first=is_first,
    )
