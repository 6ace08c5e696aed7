"""Equal circles in a rectangle, in straight or staggered rows along or across it.

Staggered rows may be stretched: the pitch within a row is then wider than a piece, and the rows
move closer together. For every number of pieces in a row the greatest diameter has a closed form;
all such numbers are tried, both ways.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Protocol

from recipes.core.numbers import ONE


class Rows(Protocol):
    """A layout in rows: its greatest diameter, pieces row by row, and their centers."""

    @property
    def room(self) -> Decimal: ...

    def counts(self) -> tuple[int, ...]: ...

    def centers(self) -> Iterator[tuple[Decimal, Decimal]]: ...


@dataclass(frozen=True, slots=True)
class Straight:
    """`rows` rows of at most `across` pieces, each in the middle of its share of the rectangle."""

    pieces: int
    across: int
    rows: int
    length: Decimal
    width: Decimal

    @property
    def room(self) -> Decimal:
        """The greatest diameter."""
        return min(self.length / self.across, self.width / self.rows)

    def counts(self) -> tuple[int, ...]:
        """Pieces row by row, as even as possible."""
        ends = [n * self.pieces // self.rows for n in range(self.rows + 1)]
        return tuple(end - start for start, end in pairwise(ends))

    def centers(self) -> Iterator[tuple[Decimal, Decimal]]:
        """Centers (x, y), x along the length."""
        for n, count in enumerate(self.counts()):
            y = self.width * (2 * n + 1) / (2 * self.rows)
            for i in range(count):
                yield self.length * (2 * i + 1) / (2 * count), y


@dataclass(frozen=True, slots=True)
class Staggered:
    """`rows` rows of `across` pieces, every second one starting half a pitch in.

    Where the long rows reach from wall to wall, `short` is one and the rows between have one
    piece less. `turned` swaps x and y when the rows run along the width.
    """

    pieces: int
    across: int
    rows: int
    along: Decimal
    over: Decimal
    short: int = 0
    turned: bool = False

    @property
    def steps(self) -> Decimal:
        """Pitches from the first center along a row to the last of any row."""
        return self.across - (ONE if self.short else ONE / 2)

    @property
    def room(self) -> Decimal:
        """The greatest diameter d, for a pitch s = (along - d)/steps and h = (over - d)/gaps.

        Neighbors in a row need s >= d, and those two rows apart 2h >= d. Neighbors in the next row
        need (s/2)^2 + h^2 >= d^2, whose limit is the lesser root of a quadratic.
        """
        gaps = Decimal(self.rows - 1)
        p, q = ONE / (4 * self.steps * self.steps), ONE / (gaps * gaps)
        middle = p * self.along + q * self.over
        constant = p * self.along**2 + q * self.over**2
        discriminant = middle * middle - (p + q - ONE) * constant
        limits = [self.along, self.over, constant / (middle + discriminant.sqrt())]
        if self.across > 1:
            limits.append(self.along / (self.steps + ONE))
        if self.rows > 2:
            limits.append(2 * self.over / (gaps + 2))
        return min(limits)

    def counts(self) -> tuple[int, ...]:
        """Pieces row by row; the last row may be incomplete."""
        full = [self.across - self.short * (n % 2) for n in range(self.rows)]
        full[-1] -= sum(full) - self.pieces
        return tuple(full)

    def centers(self) -> Iterator[tuple[Decimal, Decimal]]:
        """Centers (x, y), x along the length of the rectangle."""
        room = self.room
        pitch = (self.along - room) / self.steps
        apart = (self.over - room) / (self.rows - 1)
        for n, count in enumerate(self.counts()):
            over = room / 2 + apart * n
            for i in range(count):
                along = room / 2 + pitch * (2 * i + n % 2) / 2
                yield (over, along) if self.turned else (along, over)


def straight_rows(length: Decimal, width: Decimal, pieces: int) -> Rows:
    """The straight rows that leave most room."""
    return max(
        (Straight(pieces, n, -(-pieces // n), length, width) for n in range(1, pieces + 1)),
        key=lambda rows: rows.room,
    )


def staggered_rows(length: Decimal, width: Decimal, pieces: int) -> Rows | None:
    """The staggered rows that leave most room; one piece has none."""
    return max(_staggered_choices(length, width, pieces), key=lambda rows: rows.room, default=None)


def _staggered_choices(length: Decimal, width: Decimal, pieces: int) -> Iterator[Staggered]:
    for across in range(1, pieces):
        shapes = [(-(-pieces // across), 0)]
        if across > 1:
            shapes.append((_rows_with_short(pieces, across), 1))
        for rows, short in shapes:
            yield Staggered(pieces, across, rows, length, width, short)
            yield Staggered(pieces, across, rows, width, length, short, turned=True)


def _rows_with_short(pieces: int, across: int) -> int:
    """How many rows hold the pieces when every second row has one piece less."""
    pairs, rest = divmod(pieces, 2 * across - 1)
    return 2 * pairs + (rest > 0) + (rest > across)
