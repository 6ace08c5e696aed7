"""The figures of a station card as they are set: points aligned, as large as there is room for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from handouts.labels.lettering import lines_needed
from handouts.station_tables import StationPart, StationRow, StationTable, TubShare
from recipes.core.weighing import Weighing
from wording.lettering import width_of
from wording.masses import grams

PT_MM = Decimal("25.4") / 72
BOX_MM, LEAST_NAME_MM = Decimal(8), Decimal(24)
GAP_MM, NARROW_GAP_MM = Decimal(6), Decimal(4)
HEAD_MM, GROUP_MM, HOW_MM = Decimal("6.5"), Decimal(8), Decimal(4)
HEAD_PT, HOW_PT = Decimal(10), Decimal(9)
# Our serif face is at most this much wider than the sans whose widths are known.
SERIF = Decimal("1.02")
COARSE = " ◆"


@dataclass(frozen=True, slots=True)
class GramsSize:
    """Type in points and the height of a line, as in paper/station-card.css."""

    figure_pt: Decimal
    name_pt: Decimal
    line_mm: Decimal


SIZES = tuple(
    GramsSize(Decimal(figure), Decimal(name), Decimal(line))
    for figure, name, line in (
        (44, 17, "17.2"),
        (34, 17, "13.6"),
        (30, 14, "12.2"),
        (26, 14, "10.8"),
        (22, 12, "9.4"),
    )
)


@dataclass(frozen=True, slots=True)
class Grams:
    """A figure; `lacks` names what it lacks against the longest decimals of its column."""

    text: str
    lacks: str = ""


@dataclass(frozen=True, slots=True)
class GramsRow:
    """A line to weigh; with `is_sum`, the sum of those above."""

    name: str
    figures: tuple[Grams, ...]
    coarse: str = ""
    concern: str = ""
    hows: tuple[str, ...] = ()
    is_sum: bool = False

    @property
    def words(self) -> str:
        """All that stands beside the figures but how they are weighed."""
        return " ".join(filter(None, (self.name, self.coarse and COARSE, self.concern)))


@dataclass(frozen=True, slots=True)
class GramsGroup:
    """Lines under the name of their part, which may go without saying."""

    heading: str
    rows: tuple[GramsRow, ...]


@dataclass(frozen=True, slots=True)
class GramsTable:
    columns: tuple[str, ...]
    groups: tuple[GramsGroup, ...]

    @property
    def width(self) -> int:
        """How many columns there are, including the names."""
        return 1 + len(self.columns)

    @property
    def rows(self) -> Iterator[GramsRow]:
        for group in self.groups:
            yield from group.rows


def sizes_of(table: GramsTable, wide_mm: Decimal, room_mm: Decimal) -> Iterator[GramsSize]:
    """The sizes at which a table of this width has room, the largest first."""
    return (size for size in SIZES if high_mm(table, wide_mm, size) <= room_mm)


# How high it is


def high_mm(
    table: GramsTable, wide_mm: Decimal, size: GramsSize, gap_mm: Decimal = GAP_MM
) -> Decimal:
    """The height of a table; without end if its names have no room."""
    name_mm = wide_mm - BOX_MM - sum(_columns_mm(table, size, gap_mm))
    if name_mm < LEAST_NAME_MM:
        return Decimal("Infinity")
    groups_mm = GROUP_MM * sum(1 for group in table.groups if group.heading)
    return HEAD_MM + groups_mm + sum(_row_mm(row, name_mm, size) for row in table.rows)


def _columns_mm(table: GramsTable, size: GramsSize, gap_mm: Decimal) -> Iterator[Decimal]:
    for n, column in enumerate(table.columns):
        figures = [row.figures[n] for row in table.rows]
        figure_pt = max(
            width_of(one.text, size.figure_pt) + LACKING[one.lacks] * size.figure_pt
            for one in figures
        )
        words = max(column.split(), key=len)
        yield max(figure_pt, width_of(words, HEAD_PT)) * PT_MM + gap_mm


def _row_mm(row: GramsRow, name_mm: Decimal, size: GramsSize) -> Decimal:
    name_pt = name_mm / PT_MM
    names = lines_needed(row.words, size.name_pt * SERIF, name_pt)
    hows = sum(lines_needed(how, HOW_PT * SERIF, name_pt) for how in row.hows)
    names_mm = names * size.name_pt * Decimal("1.1") * PT_MM + hows * HOW_MM + 2
    return max(size.line_mm, names_mm)


def halves_of(table: GramsTable) -> Iterator[tuple[GramsTable, GramsTable]]:
    """The lines in two tables: first with each part whole, then of the same length."""
    ends, count = [], 0
    for group in table.groups:
        count += len(group.rows)
        ends.append(count)
    whole = sorted(ends[:-1], key=lambda end: abs(end - count / 2))
    for at in (*whole, max(1, round(count / 2))):
        first, second = _part(table.groups, 0, at), _part(table.groups, at, count)
        yield (
            GramsTable(table.columns, tuple(first)),
            GramsTable(table.columns, tuple(second)),
        )


def _part(groups: Iterable[GramsGroup], start: int, end: int) -> Iterator[GramsGroup]:
    """The lines from one number to another, under their headings."""
    first = 0
    for group in groups:
        rows = group.rows[max(0, start - first) : max(0, end - first)]
        first += len(group.rows)
        if rows:
            yield GramsGroup(group.heading, rows)


def briefly_marked(table: GramsTable) -> GramsTable:
    """The table with no more than the mark beside lines of a conflict; its box says the rest."""
    groups = (
        replace(group, rows=tuple(replace(row, concern=row.concern[:1]) for row in group.rows))
        for group in table.groups
    )
    return replace(table, groups=tuple(groups))


# What it says

# How much wider a figure with more decimals is, in its own size.
LACKING = {
    "": Decimal(0),
    "tenths": Decimal("0.82"),
    "hundredths": Decimal("1.4"),
    "a-place": Decimal("0.58"),
}
_LACKS = {(0, 1): "tenths", (0, 2): "hundredths", (1, 2): "a-place"}


def grams_table(table: StationTable) -> GramsTable:
    """The lines of a station's table as its card sets them."""
    columns = table.columns + (("Together",) if table.leads else ())
    groups = tuple(group for group in _groups(table) if group[1])
    most = [
        max(_places(row[1][n]) for _, rows in groups for row in rows) for n in range(len(columns))
    ]
    return GramsTable(
        columns,
        tuple(
            GramsGroup(heading, tuple(_set(row, texts, most) for row, texts in rows))
            for heading, rows in groups
        ),
    )


_Row = tuple[GramsRow, tuple[str, ...]]


def _places(text: str) -> int:
    return len(text.partition(".")[2])


def _set(row: GramsRow, texts: Sequence[str], most: Sequence[int]) -> GramsRow:
    figures = tuple(
        Grams(text, _LACKS.get((_places(text), places), ""))
        for text, places in zip(texts, most, strict=True)
    )
    return GramsRow(row.name, figures, row.coarse, row.concern, row.hows, row.is_sum)


def _groups(table: StationTable) -> Iterator[tuple[str, list[_Row]]]:
    """Tubs, the parts of the dough and their sum, and what else is weighed."""
    groups = [("", [_of_tub(tub) for tub in table.tubs])] if table.tubs else []
    groups += [
        (part.name if table.has_parts else "", list(_of_part(part))) for part in table.dough_parts
    ]
    sums = (*table.each_lines_g, *((table.together_lines_g,) if table.leads else ()))
    groups[-1][1].append((GramsRow("Lines added", (), is_sum=True), tuple(map(grams, sums))))
    yield from groups
    for part in table.other_parts:
        yield part.name, list(_of_part(part))


def _of_tub(tub: TubShare) -> _Row:
    pairs = (*tub.each, *((tub.together,) if tub.together else ()))
    weighed = tuple(one for one, _ in pairs)
    return GramsRow(f"{tub.name}, from the tub", (), concern=tub.concern), _texts(weighed)


def _of_part(part: StationPart) -> Iterator[_Row]:
    for row in part.rows:
        yield _of_row(row)


def _of_row(row: StationRow) -> _Row:
    lines = (*row.each, *((row.together,) if row.together else ()))
    made = GramsRow(row.name, (), row.coarse, row.concern, row.hows)
    return made, _texts(line.weighed for line in lines)


def _texts(weighed: Iterable[Weighing]) -> tuple[str, ...]:
    return tuple(map(grams, weighed))
