"""How a station card is laid out on one side: what stands beside what, in which sizes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from handouts.labels.lettering import cut, lines_needed
from handouts.station_card.grams import (
    NARROW_GAP_MM,
    PT_MM,
    SERIF,
    SIZES,
    GramsSize,
    GramsTable,
    briefly_marked,
    grams_table,
    halves_of,
    high_mm,
    sizes_of,
)
from handouts.station_card.steps import CardStep
from handouts.station_tables import StationTable
from wording.lettering import width_of

# The box of a wide page, and what else is on it, in millimeters, as in paper/station-card.css.
PAGE_WIDE_MM, PAGE_HIGH_MM = Decimal(249), Decimal(174)
FACTS_MM, BAND_MM, TITLE_GAP_MM = Decimal(62), Decimal("4.8"), Decimal(8)
HEED_MM, HEED_LINE_MM, HEED_PT = Decimal(8), Decimal("5.6"), Decimal(14)
HOLDS_MM, HOLDS_LINE_MM, HOLDS_PT = Decimal(3), Decimal("5.2"), Decimal(12)
AVOIDS_MM, HELP_PT, HELP_LINE_MM = Decimal("5.2"), Decimal(9), Decimal(4)
FOOT_MM, FOOT_LINE_MM = Decimal(5), Decimal(4)
WATER_MM, WATER_LINE_MM, WATER_PT, WATER_MORE_PT = Decimal(14), Decimal(4), Decimal(22), Decimal(10)
WIDE_MM, NARROW_MM, BOTH_MM, TABLE_MM = Decimal(130), Decimal(86), Decimal(179), Decimal(2)
STEPS_MM, NARROW_STEPS_MM, CLOCK_MM = Decimal(113), Decimal(65), Decimal(22)
NOTE_MM, STEP_GAP_MM = Decimal(5), Decimal(2)
CLOCK_PT = Decimal(17)
NAME_SIZES = tuple(map(Decimal, (44, 30, 22)))
LABEL_SIZES = tuple(map(Decimal, (26, 22, 17, 14)))


COARSE = "◆ A step of the scale is over 2 % of this: use a finer one, or weigh once and divide."


@dataclass(frozen=True, slots=True)
class StepSize:
    """Type of a step's heading and words, in points; `rank` 1 is the largest."""

    rank: int
    what_pt: Decimal
    text_pt: Decimal


STEP_SIZES = tuple(
    StepSize(rank, Decimal(what), Decimal(text))
    for rank, what, text in ((1, 17, 14), (2, 14, 12), (3, 14, "10.5"), (4, 12, 9))
)
OVERLEAF_SIZE = STEP_SIZES[1]


@dataclass(frozen=True, slots=True)
class CardTitle:
    """The size of the station's name and of the recipe's label, and how high both are."""

    name_pt: Decimal
    label_pt: Decimal
    high_mm: Decimal


@dataclass(frozen=True, slots=True)
class CardRoom:
    """What a card has to place besides grams and steps, in lines of its own width."""

    title: CardTitle
    heeds: tuple[str, ...]
    holds: str
    water_more: str
    has_avoids: bool
    has_coarse: bool
    foot_lines: int

    @property
    def body_mm(self) -> Decimal:
        """The height for grams and steps."""
        wide_pt = PAGE_WIDE_MM / PT_MM
        heeds_mm = sum(
            (HEED_LINE_MM * lines_needed(line, HEED_PT * SERIF, wide_pt) for line in self.heeds),
            Decimal(0),
        )
        holds = lines_needed(self.holds, HOLDS_PT * SERIF, wide_pt)
        return (
            PAGE_HIGH_MM
            - self.title.high_mm
            - heeds_mm
            - (HEED_MM if self.heeds else 0)
            - HOLDS_MM
            - holds * HOLDS_LINE_MM
            - AVOIDS_MM * self.has_avoids
            - FOOT_MM
            - self.foot_lines * FOOT_LINE_MM
        )

    def grams_mm(self, wide_mm: Decimal) -> Decimal:
        """The height for the grams above the line on water."""
        more = lines_needed(self.water_more, WATER_MORE_PT, wide_mm / PT_MM)
        coarse = lines_needed(COARSE, HELP_PT, wide_mm / PT_MM) if self.has_coarse else 0
        return self.body_mm - WATER_MM - more * WATER_LINE_MM - coarse * HELP_LINE_MM


def title_of(station: str, label: str) -> CardTitle:
    """Name and label in one line where they fit beside the day, else below each other."""
    wide_pt = (PAGE_WIDE_MM - FACTS_MM - TITLE_GAP_MM) / PT_MM
    for name_pt in NAME_SIZES[:2]:
        for label_pt in LABEL_SIZES[:2]:
            if _serif(station, name_pt) + _serif(label, label_pt) <= wide_pt:
                return CardTitle(name_pt, label_pt, BAND_MM + name_pt * Decimal("1.1") * PT_MM)
    name_pt = next((pt for pt in NAME_SIZES if _serif(station, pt) <= wide_pt), NAME_SIZES[-1])
    label_pt = next((pt for pt in LABEL_SIZES if _serif(label, pt) <= wide_pt), LABEL_SIZES[-1])
    names = lines_needed(station, name_pt * SERIF, wide_pt) * name_pt
    labels = lines_needed(label, label_pt * SERIF, wide_pt) * label_pt
    return CardTitle(name_pt, label_pt, BAND_MM + (names + labels) * Decimal("1.12") * PT_MM)


def _serif(text: str, size_pt: Decimal) -> Decimal:
    return width_of(text, size_pt * SERIF)


class Arranged(StrEnum):
    """What stands where: grams beside the steps, in two tables of which the second stands above
    the steps or between, or the steps overleaf.
    """

    ABREAST = "abreast"
    ON_RIGHT = "on-right"
    SPLIT = "split"
    OVERLEAF = "overleaf"


@dataclass(frozen=True, slots=True)
class CardLayout:
    """The tables and the steps of a card, and their sizes; `is_cut`: some words had no room."""

    arranged: Arranged
    tables: tuple[GramsTable, ...]
    size: GramsSize
    steps: tuple[CardStep, ...]
    step_size: StepSize
    is_cut: bool = False

    @property
    def with_steps(self) -> tuple[GramsTable, ...]:
        """The tables above the steps."""
        return self.tables[1:] if self.arranged is Arranged.ON_RIGHT else ()

    @property
    def alone(self) -> tuple[GramsTable, ...]:
        """The other tables."""
        return self.tables[: len(self.tables) - len(self.with_steps)]

    @property
    def has_coarse(self) -> bool:
        return any(row.coarse for table in self.tables for row in table.rows)


Found = tuple[Arranged, tuple[GramsTable, ...], GramsSize, Decimal, Decimal]
"""An arrangement of the grams, and the width and height that are left for the steps."""


def laid_out(table: StationTable, steps: Sequence[CardStep], room: CardRoom) -> CardLayout:
    """The first arrangement in which everything has room, in the largest type.

    Words of the steps are cut before steps go overleaf.
    """
    whole = grams_table(table)
    found = list(_arranged(whole, room))
    for arranged, tables, size, wide_mm, left_mm in found:
        for step_size in STEP_SIZES:
            if _steps_mm(steps, step_size, wide_mm) <= left_mm:
                return CardLayout(arranged, tables, size, tuple(steps), step_size)
    small = STEP_SIZES[-1]
    for arranged, tables, size, wide_mm, left_mm in found:
        for lines in (5, 4, 3, 2, 1):
            shown = tuple(_cut(step, small, wide_mm, lines) for step in steps)
            if _steps_mm(shown, small, wide_mm) <= left_mm:
                return CardLayout(arranged, tables, size, shown, small, is_cut=True)
    return CardLayout(Arranged.OVERLEAF, (whole,), SIZES[-1], tuple(steps), OVERLEAF_SIZE)


def _arranged(table: GramsTable, room: CardRoom) -> Iterator[Found]:
    """Every arrangement that has room for the grams, the best first."""
    body_mm, small = room.body_mm, SIZES[-1]
    for size in sizes_of(table, WIDE_MM, room.grams_mm(WIDE_MM)):
        yield Arranged.ABREAST, (table,), size, STEPS_MM, body_mm
        break
    for first, second in halves_of(table):
        for size in sizes_of(first, WIDE_MM, room.grams_mm(WIDE_MM)):
            left_mm = body_mm - TABLE_MM - high_mm(second, STEPS_MM, size)
            yield Arranged.ON_RIGHT, (first, second), size, STEPS_MM, left_mm
    for pair in halves_of(briefly_marked(table)):
        high = (high_mm(half, NARROW_MM, small, NARROW_GAP_MM) for half in pair)
        if max(high) <= room.grams_mm(BOTH_MM):
            yield Arranged.SPLIT, pair, small, NARROW_STEPS_MM, body_mm


def _cut(step: CardStep, size: StepSize, wide_mm: Decimal, lines: int) -> CardStep:
    return replace(step, text=cut(step.text, size.text_pt * SERIF, _text_pt(wide_mm), lines))


def _text_pt(wide_mm: Decimal) -> Decimal:
    return (wide_mm - CLOCK_MM) / PT_MM


def _steps_mm(steps: Sequence[CardStep], size: StepSize, wide_mm: Decimal) -> Decimal:
    return NOTE_MM + sum((_step_mm(step, size, wide_mm) for step in steps), Decimal(0))


def _step_mm(step: CardStep, size: StepSize, wide_mm: Decimal) -> Decimal:
    wide_pt = _text_pt(wide_mm)
    high_pt = (
        lines_needed(step.what, size.what_pt * SERIF, wide_pt) * size.what_pt * Decimal("1.15")
    )
    for words in filter(None, (step.text, step.after)):
        high_pt += (
            lines_needed(words, size.text_pt * SERIF, wide_pt) * size.text_pt * Decimal("1.16")
        )
    clock_pt = lines_needed(step.hour, CLOCK_PT, CLOCK_MM / PT_MM) * CLOCK_PT
    return max(high_pt, clock_pt) * PT_MM + STEP_GAP_MM
