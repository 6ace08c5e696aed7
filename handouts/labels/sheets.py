"""Sheets of labels by their plain dimensions: where labels are, and how much text one holds.

The sizes are those of label sheets sold all over the world; their margins are from memory and
common practice, so the first page of labels should be tried on plain paper. The same dimensions are
in paper/labels.css, and a test keeps the two the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cached_property

from handouts.press.render import PageSize

PT_A_MM = Decimal(72) / Decimal("25.4")
SIDES = 2


@dataclass(frozen=True)
class Grid:
    """Labels on a sheet, in millimeters.

    `key_in_label`: the sheet has room for the ruler only in place of its first label.
    """

    page_size: PageSize
    columns: int
    rows: int
    width_mm: Decimal
    height_mm: Decimal
    left_mm: Decimal
    top_mm: Decimal
    gap_mm: Decimal
    side_mm: Decimal
    head_mm: Decimal
    is_cut: bool = False
    key_in_label: bool = False

    @property
    def places(self) -> int:
        """How many labels a sheet has room for, besides the ruler."""
        return self.columns * self.rows - self.key_in_label

    @cached_property
    def text_width_pt(self) -> Decimal:
        """The width of a line of text."""
        return (self.width_mm - SIDES * self.side_mm) * PT_A_MM

    @cached_property
    def text_height_pt(self) -> Decimal:
        """The height for all lines."""
        return (self.height_mm - SIDES * self.head_mm) * PT_A_MM


def _grid(
    page_size: PageSize,
    shape: str,
    place: str,
    inside: str,
    *,
    cut: bool = False,
    key: bool = False,
) -> Grid:
    """A grid from its numbers in words: columns, rows, width, height; left, top, gap; inside."""
    columns, rows, width, height = shape.split()
    left, top, gap = (Decimal(length) for length in place.split())
    side, head = (Decimal(length) for length in inside.split())
    return Grid(
        page_size=page_size,
        columns=int(columns),
        rows=int(rows),
        width_mm=Decimal(width),
        height_mm=Decimal(height),
        left_mm=left,
        top_mm=top,
        gap_mm=gap,
        side_mm=side,
        head_mm=head,
        is_cut=cut,
        key_in_label=key,
    )


class LabelLayout(StrEnum):
    """The sheets that labels are printed on."""

    A4_LARGE = "a4-2x4"
    A4_MIDDLE = "a4-2x7"
    A4_SMALL = "a4-3x8"
    A4_PLAIN = "a4-cut"
    LETTER_LARGE = "letter-2x5"
    LETTER_SMALL = "letter-3x10"
    LETTER_PLAIN = "letter-cut"

    @property
    def grid(self) -> Grid:
        return _GRIDS[self]

    @property
    def page_size(self) -> PageSize:
        """The paper that it is made for."""
        return self.grid.page_size

    @property
    def words(self) -> str:
        """Such as `A4, 2 × 7 labels of 99.1 × 38.1 mm`."""
        return _WORDS[self]


_A4, _LETTER = PageSize.A4, PageSize.LETTER
_GRIDS = {
    LabelLayout.A4_LARGE: _grid(_A4, "2 4 99.1 67.7", "4.65 13.1 2.5", "3.5 3"),
    LabelLayout.A4_MIDDLE: _grid(_A4, "2 7 99.1 38.1", "4.65 15.15 2.5", "3 2.4"),
    LabelLayout.A4_SMALL: _grid(_A4, "3 8 70 37", "0 0.5 0", "4.2 3.5", key=True),
    LabelLayout.A4_PLAIN: _grid(_A4, "2 3 87 72", "18 33 0", "3.5 3", cut=True),
    LabelLayout.LETTER_LARGE: _grid(_LETTER, "2 5 101.6 50.8", "3.96875 12.7 4.7625", "3 2.6"),
    LabelLayout.LETTER_SMALL: _grid(_LETTER, "3 10 66.675 25.4", "4.7625 12.7 3.175", "1.8 1.7"),
    LabelLayout.LETTER_PLAIN: _grid(_LETTER, "2 3 87 72", "20.95 24.2 0", "3.5 3", cut=True),
}
PLAIN = {_A4: LabelLayout.A4_PLAIN, _LETTER: LabelLayout.LETTER_PLAIN}
_WORDS = {
    LabelLayout.A4_LARGE: "A4, 2 × 4 labels of 99.1 × 67.7 mm",
    LabelLayout.A4_MIDDLE: "A4, 2 × 7 labels of 99.1 × 38.1 mm",
    LabelLayout.A4_SMALL: "A4, 3 × 8 labels of 70 × 37 mm",
    LabelLayout.A4_PLAIN: "A4, plain paper, 2 × 3 labels to cut out",
    LabelLayout.LETTER_LARGE: "Letter, 2 × 5 labels of 4 × 2 in",
    LabelLayout.LETTER_SMALL: "Letter, 3 × 10 labels of 2 5/8 × 1 in",
    LabelLayout.LETTER_PLAIN: "Letter, plain paper, 2 × 3 labels to cut out",
}
