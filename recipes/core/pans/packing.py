"""How many pieces fit in a pan, and where they lie.

Pieces are circles seen from above. Up to 40 in a round pan and up to 31 in a square one lie in the
best known places, more than that in a honeycomb or in rows. In a rectangle they lie in straight or
staggered rows, or as in a square, whichever leaves most room; a better scatter may gain a few
percent, so at least this many fit. Bakers' rings, such as 8 around 3, are offered besides the best.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from recipes.core.errors import BakingError, OutOfRange
from recipes.core.numbers import ONE, positive, whole
from recipes.core.pans.packing_round import (
    MOST_INSIDE_A_RING,
    RoundPlaces,
    best_known,
    honeycomb,
    length,
    ring_around,
)
from recipes.core.pans.packing_round_table import CENTERS
from recipes.core.pans.packing_rows import Rows, Straight, staggered_rows, straight_rows
from recipes.core.pans.packing_square import Scattered, scattered
from recipes.core.pans.sizes import Pan, PanShape

MOST_PIECES = 400

# Up to this number, our places were checked against the best known; some in a square are rows.
MOST_KNOWN_ROUND = max(CENTERS)
MOST_KNOWN_SQUARE = 31

# Other arrangements are worth showing if their pieces may be this share of the best.
WORTH_SHOWING = Decimal("0.9")
MOST_OTHERS = 3

SQRT_3 = Decimal(3).sqrt()

# A diameter read from an arrangement must fit it again, whatever the last digits.
HAIR_CM = Decimal("1e-9")


@dataclass(eq=False)
class TooBigForPan(BakingError):
    """Pieces too big for the pan: even a single one has only `room_cm`."""

    diameter_cm: Decimal
    room_cm: Decimal


@dataclass(eq=False)
class TooManyPieces(BakingError):
    """Pieces so small for their pan that more than `most` would fit."""

    most: int


@dataclass(eq=False)
class NotRound(BakingError):
    """Rings were asked for in a pan that is not round."""

    shape: PanShape


class Pattern(StrEnum):
    """The ways to lay out pieces."""

    BEST_KNOWN = "best known"
    RINGS = "rings"
    HONEYCOMB = "honeycomb"
    STRAIGHT = "straight rows"
    STAGGERED = "staggered rows"
    SCATTERED = "scattered"


@dataclass(frozen=True, slots=True)
class Spot:
    """A piece's center in cm from the left and from the top of the pan's bounding rectangle."""

    x_cm: Decimal
    y_cm: Decimal

    def to(self, other: Spot) -> Decimal:
        """The distance between two centers in cm."""
        return length((self.x_cm - other.x_cm, self.y_cm - other.y_cm))


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Where pieces lie in a pan of `length_cm` (x) by `width_cm` (y).

    `room_cm` is the greatest diameter they can all have without overlapping or meeting the wall.
    `counts` are pieces ring by ring from the wall inward, or row by row; a honeycomb and a scatter
    have none.
    """

    pan: Pan
    pattern: Pattern
    spots: tuple[Spot, ...]
    room_cm: Decimal
    counts: tuple[int, ...] = ()

    @property
    def pieces(self) -> int:
        """How many there are."""
        return len(self.spots)

    @property
    def is_best_known(self) -> bool:
        """Whether no arrangement with more room is known for this number of pieces."""
        return self.pattern is not Pattern.RINGS and is_best_known(self.pan, self.pieces)

    def holds(self, diameter_cm: Decimal) -> bool:
        """Whether pieces of a diameter in cm fit in these places."""
        return positive("diameter_cm", diameter_cm) <= self.room_cm + HAIR_CM

    def wall_cm(self, spot: Spot) -> Decimal:
        """The distance in cm from a center to the nearest wall."""
        if self.pan.shape is PanShape.ROUND:
            radius = self.pan.length_cm / 2
            return radius - length((spot.x_cm - radius, spot.y_cm - radius))
        to_right, to_bottom = self.pan.length_cm - spot.x_cm, self.pan.width_cm - spot.y_cm
        return min(spot.x_cm, spot.y_cm, to_right, to_bottom)


def arrange(pan: Pan, pieces: int) -> Arrangement:
    """The arrangement that leaves this many pieces most room.

    Raises NotWhole, or OutOfRange for fewer than one or more than 400 pieces.
    """
    number = whole("pieces", pieces, least=1)
    if number > MOST_PIECES:
        raise OutOfRange("pieces", Decimal(number), least=ONE, most=Decimal(MOST_PIECES))
    if pan.shape is not PanShape.ROUND:
        return _rows(pan, _best_rows(pan, number))
    if number in CENTERS:
        return _round(pan, Pattern.BEST_KNOWN, best_known(number))
    return _round(pan, Pattern.HONEYCOMB, honeycomb(number))


def is_best_known(pan: Pan, pieces: int) -> bool:
    """Whether `arrange` gives the best known places; if not, there may be more room.

    Two in a rectangle lie in opposite corners, which leaves them the most room.
    """
    if pan.shape is PanShape.ROUND:
        return pieces <= MOST_KNOWN_ROUND
    return pieces <= (MOST_KNOWN_SQUARE if pan.length_cm == pan.width_cm else 2)


def arrangements(
    pan: Pan, pieces: int, diameter_cm: Decimal | None = None
) -> tuple[Arrangement, ...]:
    """The best arrangement first, then other usual ones: rings, or the other kind of rows.

    At most three others are given, none with pieces a tenth smaller. With a diameter in cm, only
    those that hold pieces of that size are given, maybe none. Raises what `arrange` does.
    """
    best = arrange(pan, pieces)
    others = _ring_choices(best) if pan.shape is PanShape.ROUND else _other_rows(best)
    worth = [other for other in others if other.room_cm >= WORTH_SHOWING * best.room_cm]
    found = (best, *sorted(worth, key=lambda other: -other.room_cm)[:MOST_OTHERS])
    if diameter_cm is None:
        return found
    return tuple(way for way in found if way.holds(diameter_cm))


def rings(pan: Pan, outer: int, inner: int) -> Arrangement:
    """A ring of pieces along the wall of a round pan around 1 to 6 others, such as 8 around 3.

    Raises NotRound, NotWhole, or OutOfRange, also when the outer ring is the smaller.
    """
    if pan.shape is not PanShape.ROUND:
        raise NotRound(pan.shape)
    if whole("inner", inner, least=1) > MOST_INSIDE_A_RING:
        raise OutOfRange("inner", Decimal(inner), least=ONE, most=Decimal(MOST_INSIDE_A_RING))
    if whole("outer", outer, least=max(3, inner)) > MOST_PIECES:
        raise OutOfRange("outer", Decimal(outer), most=Decimal(MOST_PIECES))
    return _round(pan, Pattern.RINGS, ring_around(outer, inner))


def how_many(pan: Pan, diameter_cm: Decimal) -> int:
    """How many pieces of a diameter in cm fit, maybe none.

    It is the most known if `is_best_known` holds for one more; else at least this many fit. Raises
    TooManyPieces above 400.
    """
    positive("diameter_cm", diameter_cm)
    fit, too_many = 0, _surely_too_many(pan, diameter_cm)
    while too_many - fit > 1:
        middle = (fit + too_many) // 2
        if _room_cm(pan, middle) + HAIR_CM >= diameter_cm:
            fit = middle
        else:
            too_many = middle
    if fit == MOST_PIECES:
        raise TooManyPieces(MOST_PIECES)
    return fit


def _surely_too_many(pan: Pan, diameter_cm: Decimal) -> int:
    """One more than the densest packing would put on the pan's area, or 401."""
    cell_cm2 = diameter_cm * diameter_cm * SQRT_3 / 2
    return min(MOST_PIECES, int(pan.area_cm2 / cell_cm2) + 1) + 1


def fill(pan: Pan, diameter_cm: Decimal) -> Arrangement:
    """As many pieces of a diameter in cm as fit. Raises TooBigForPan or TooManyPieces."""
    pieces = how_many(pan, diameter_cm)
    if not pieces:
        raise TooBigForPan(diameter_cm, min(pan.length_cm, pan.width_cm))
    return arrange(pan, pieces)


def _room_cm(pan: Pan, pieces: int) -> Decimal:
    if pan.shape is not PanShape.ROUND:
        return _best_rows(pan, pieces).room
    places = best_known(pieces) if pieces in CENTERS else honeycomb(pieces)
    return places.radius * pan.length_cm


def _round(pan: Pan, pattern: Pattern, found: RoundPlaces) -> Arrangement:
    radius = pan.length_cm / 2
    spots = tuple(Spot(radius + radius * x, radius + radius * y) for x, y in found.places)
    return Arrangement(pan, pattern, spots, found.radius * pan.length_cm, found.counts)


def _ring_choices(best: Arrangement) -> Iterator[Arrangement]:
    for inner in range(1, MOST_INSIDE_A_RING + 1):
        outer = best.pieces - inner
        if outer <= max(2, inner):
            return
        choice = rings(best.pan, outer, inner)
        if choice.counts != best.counts or not choice.holds(best.room_cm):
            yield choice


def _best_rows(pan: Pan, pieces: int) -> Rows:
    """The rows that leave most room, straight ones before others that leave as much."""
    return max(_ways(pan, pieces), key=lambda rows: rows.room)


def _ways(pan: Pan, pieces: int) -> Iterator[Rows]:
    for way in (straight_rows, staggered_rows, scattered):
        found = way(pan.length_cm, pan.width_cm, pieces)
        if found is not None:
            yield found


def _rows(pan: Pan, rows: Rows) -> Arrangement:
    spots = tuple(Spot(x, y) for x, y in rows.centers())
    return Arrangement(pan, _pattern(rows), spots, rows.room, rows.counts())


def _pattern(rows: Rows) -> Pattern:
    if isinstance(rows, Scattered):
        return Pattern.SCATTERED
    return Pattern.STRAIGHT if isinstance(rows, Straight) else Pattern.STAGGERED


def _other_rows(best: Arrangement) -> Iterator[Arrangement]:
    for rows in _ways(best.pan, best.pieces):
        if _pattern(rows) is not best.pattern:
            yield _rows(best.pan, rows)
