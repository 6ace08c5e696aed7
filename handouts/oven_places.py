"""The places of an oven seen from above: their rows, and whose pieces are on each.

The rows are those of the kitchen's form. Names are set as large as they go in two lines.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import accumulate, groupby

from handouts.station_shapes import Shapes
from wording.lettering import cut, width_of, wrapped

MOST_DRAWN = 24
MOST_COLUMNS = 6
WIDE_TO_DEEP = Decimal(2)
NAMES_IN_A_PLACE = NAME_LINES = 2
PT_A_MM = Decimal(72) / Decimal("25.4")

# The sizes of paper/oven-map.css.
ACROSS_MM, SIDE_MM = Decimal(170), Decimal(4)
HEIGHTS_MM = {1: 30, 2: 24, 3: 20}
LEAST_MM = 16
NAME_SIZES = ("22", "17", "14", "12", "10.5", "9")
WHAT_PT, WHAT_HEIGHT_PT, MARK_PT = Decimal(9), Decimal(18), Decimal(20)
LEADING = Decimal("1.1")


@dataclass(frozen=True, slots=True)
class PlaceShare:
    """What is on one place: of which station, whose if that is known, and how much."""

    station: str
    names: tuple[str, ...]
    pieces: str
    shapes: Shapes = ()
    is_variant: bool = False

    @property
    def whose(self) -> str:
        """Up to two people by name, more of them by their station."""
        few = 0 < len(self.names) <= NAMES_IN_A_PLACE
        return " and ".join(self.names) if few else self.station


@dataclass(frozen=True, slots=True)
class OvenPlace:
    """A place in an oven: whose it is and what is there; empty if nothing is.

    `until` is the last of several places with the same contents, `lines` is whose it is as it is
    set, in `name_pt` points.
    """

    number: int
    until: int
    whose: str = ""
    what: str = ""
    lines: tuple[str, ...] = ()
    name_pt: str = NAME_SIZES[-1]
    shapes: Shapes = ()
    is_variant: bool = False

    @property
    def size(self) -> str:
        """The style of the name, such as `105` for 10.5 points."""
        return str(int(Decimal(self.name_pt) * 10))

    @property
    def numbers(self) -> str:
        """Such as `3`, or `3–12`."""
        return f"{self.number}–{self.until}" if self.until > self.number else str(self.number)


Rows = tuple[tuple[OvenPlace, ...], ...]


@dataclass(frozen=True, slots=True)
class DrawnPlaces:
    """The places by rows from the back to the door."""

    rows: Rows

    @property
    def height_mm(self) -> int:
        """How deep a place is drawn."""
        return _height_mm(len(self.rows))


def row_lengths(slots: int, across: int | None) -> tuple[int, ...]:
    """How many places are in each row from the back; a last, shorter row is as wide as the oven."""
    columns = min(across or _columns(slots), slots)
    full, left = divmod(slots, columns)
    return (columns,) * full + ((left,) if left else ())


def _columns(slots: int) -> int:
    """How many places are side by side: about twice as many as in depth, few left over."""

    def misfit(columns: int) -> Decimal:
        rows = -(-slots // columns)
        return rows * columns - slots + abs(Decimal(columns) / rows - WIDE_TO_DEEP)

    return min(range(1, min(slots, MOST_COLUMNS) + 1), key=misfit)


def drawn(shares: Sequence[PlaceShare], lengths: Sequence[int]) -> DrawnPlaces:
    """The shares on the places, filled from the back."""
    every: list[PlaceShare | None] = [*shares, *[None] * (sum(lengths) - len(shares))]
    height_pt = _height_mm(len(lengths)) * PT_A_MM - WHAT_HEIGHT_PT
    ends = list(accumulate(lengths))
    return DrawnPlaces(
        tuple(
            tuple(
                _place(n, every[n - 1], (ACROSS_MM / length - SIDE_MM) * PT_A_MM, height_pt)
                for n in range(end - length + 1, end + 1)
            )
            for end, length in zip(ends, lengths, strict=True)
        )
    )


def _height_mm(rows: int) -> int:
    return HEIGHTS_MM.get(rows, LEAST_MM)


def _place(
    number: int, share: PlaceShare | None, wide_pt: Decimal, height_pt: Decimal
) -> OvenPlace:
    if share is None:
        return OvenPlace(number, number)
    whose = share.whose
    what = f"{share.station}, {share.pieces}" if whose != share.station else share.pieces
    marks = 1 + len(share.shapes) + 2 * share.is_variant
    fits = width_of(what, WHAT_PT) <= wide_pt - MARK_PT * marks
    lines, size = _name(whose, wide_pt, height_pt)
    return OvenPlace(
        number=number,
        until=number,
        whose=whose,
        what=what if fits else share.pieces,
        lines=lines,
        name_pt=size,
        shapes=share.shapes,
        is_variant=share.is_variant,
    )


def _name(whose: str, wide_pt: Decimal, height_pt: Decimal) -> tuple[tuple[str, ...], str]:
    """A name whole in up to two lines as large as it goes; cut only in the smallest type."""
    for size in NAME_SIZES:
        lines = wrapped(whose, wide_pt, Decimal(size), NAME_LINES)
        if lines and len(lines) * Decimal(size) * LEADING <= height_pt:
            return lines, size
    size = NAME_SIZES[-1]
    return cut(whose, wide_pt, Decimal(size), NAME_LINES), size


def runs(shares: Sequence[PlaceShare], slots: int) -> Iterator[OvenPlace]:
    """Neighboring places of one station joined into one, without names."""
    number = 1
    for (station, pieces, is_variant), run in groupby(
        shares, key=lambda share: (share.station, share.pieces, share.is_variant)
    ):
        same = list(run)
        until = number + len(same) - 1
        what = f"{pieces} each"
        yield OvenPlace(number, until, station, what, shapes=same[0].shapes, is_variant=is_variant)
        number = until + 1
    if number <= slots:
        yield OvenPlace(number, slots)
