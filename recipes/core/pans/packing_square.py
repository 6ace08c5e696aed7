"""Equal circles in a square, or nearly square, where rows are not the closest packing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from itertools import combinations

from recipes.core.numbers import ONE
from recipes.core.pans.packing_round import Place, length, read_places
from recipes.core.pans.packing_square_table import CENTERS


@cache
def _best_known(pieces: int) -> tuple[tuple[Place, ...], Decimal]:
    """The table's places in a square of side one, and the largest radius without overlap."""
    places = read_places(CENTERS[pieces])
    to_wall = min(min(x, y, ONE - x, ONE - y) for x, y in places)
    to_each_other = (length((a[0] - b[0], a[1] - b[1])) / 2 for a, b in combinations(places, 2))
    return places, min(to_wall, *to_each_other)


@dataclass(frozen=True, slots=True)
class Scattered:
    """A number of pieces, placed as in the table, in the middle square of a rectangle."""

    pieces: int
    length: Decimal
    width: Decimal

    @property
    def room(self) -> Decimal:
        """The greatest diameter."""
        return 2 * _best_known(self.pieces)[1] * min(self.length, self.width)

    def counts(self) -> tuple[int, ...]:
        """Nothing: there are no rows to count."""
        return ()

    def centers(self) -> Iterator[tuple[Decimal, Decimal]]:
        """Centers (x, y), x along the length."""
        side = min(self.length, self.width)
        left, top = (self.length - side) / 2, (self.width - side) / 2
        for x, y in _best_known(self.pieces)[0]:
            yield left + side * x, top + side * y


def scattered(length: Decimal, width: Decimal, pieces: int) -> Scattered | None:
    """The best known scatter; None for a number that fits best in rows or is not in the table."""
    return Scattered(pieces, length, width) if pieces in CENTERS else None
