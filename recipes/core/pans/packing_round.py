"""Equal circles in a circle: the best known places, a ring around a few, and a honeycomb.

Places are coordinates from the center of the pan, measured in pan radii, y downward.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from itertools import combinations
from math import lcm

from recipes.core.numbers import ONE, ZERO
from recipes.core.pans.geometry import PI, cosine, sine
from recipes.core.pans.packing_round_table import CENTERS

TWO = Decimal(2)
MOST_INSIDE_A_RING = 6
MOST_CELLS = 400
MIDDLES = 6

Place = tuple[Decimal, Decimal]


@dataclass(frozen=True, slots=True)
class RoundPlaces:
    """Places, the radius of a piece in pan radii, and pieces per ring from the wall inward."""

    places: tuple[Place, ...]
    radius: Decimal
    counts: tuple[int, ...] = ()


def read_places(written: str) -> tuple[Place, ...]:
    """Places written as "x y, x y"."""
    return tuple((Decimal(x), Decimal(y)) for x, y in map(str.split, written.split(",")))


def length(place: Place) -> Decimal:
    """The distance of a place from the origin."""
    return (place[0] * place[0] + place[1] * place[1]).sqrt()


@cache
def best_known(pieces: int) -> RoundPlaces:
    """The table's places for 1 to 40 pieces, and the largest radius without overlap."""
    places = read_places(CENTERS[pieces])
    to_wall = ONE - max(map(length, places))
    to_each_other = (length((a[0] - b[0], a[1] - b[1])) / 2 for a, b in combinations(places, 2))
    radius = min(to_wall, *to_each_other, ONE)
    inside = sum(length(place) < ONE - TWO * radius for place in places)
    return RoundPlaces(places, radius, (pieces - inside, inside) if inside else (pieces,))


@cache
def ring_around(outer: int, inner: int) -> RoundPlaces:
    """A ring of `outer` pieces along the wall around a ring of `inner`, or around one piece."""
    share, turn = _inside(outer, inner)
    within_ring = ONE / sine(PI / outer)
    to_inside = TWO if inner == 1 else ONE / (share * sine(PI / inner))
    ring = max(within_ring, to_inside)
    radius = ONE / (ring + ONE)
    places = (*_circle(outer, ring * radius, turn), *_circle(inner, ring * share * radius, ZERO))
    return RoundPlaces(places, radius, (outer, inner))


def _inside(outer: int, inner: int) -> tuple[Decimal, Decimal]:
    """The inner ring's radius as a share of the outer's, and the outer's turn in radians.

    Turned by half the least angle between a piece of one and a piece of the other, the nearest
    outer piece is as far away as it can be. The share makes the distance to it the same as between
    neighbors inside.
    """
    if inner == 1:
        return ZERO, ZERO
    turn = PI / lcm(outer, inner)
    aside = cosine(turn)
    if inner == MOST_INSIDE_A_RING:
        return ONE / (TWO * aside), turn
    chord = 4 * sine(PI / inner) ** 2 - ONE
    return ((aside * aside + chord).sqrt() - aside) / chord, turn


def _circle(pieces: int, radius: Decimal, turn: Decimal) -> list[Place]:
    """Places spread over a circle, the first `turn` radians past twelve o'clock."""
    angles = [turn + TWO * PI * n / pieces for n in range(pieces)]
    return [(radius * sine(angle), -radius * cosine(angle)) for angle in angles]


@cache
def _honeycombs() -> tuple[tuple[Place, ...], ...]:
    """Honeycombs of neighbors one apart, from the middle of the pan outward.

    The middle lies on one of 28 points spread over a twelfth of the triangle between three cells;
    the others are its mirror images.
    """
    row = Decimal(3).sqrt() / 2
    grid = [(i + Decimal(j) / 2, row * j) for j in range(-14, 15) for i in range(-20, 21)]
    steps = range(MIDDLES + 1)
    middles = [
        (Decimal(i) / (2 * MIDDLES), row * j / (3 * MIDDLES)) for i in steps for j in steps[: i + 1]
    ]
    moved = ([(a - x, b - y) for a, b in grid] for x, y in middles)
    return tuple(tuple(sorted(places, key=_from_middle)[:MOST_CELLS]) for places in moved)


def _from_middle(place: Place) -> tuple[Decimal, Place]:
    """Sort key: from the middle outward, with a fixed order for equal distances."""
    return (place[0] * place[0] + place[1] * place[1], place)


@cache
def honeycomb(pieces: int) -> RoundPlaces:
    """The innermost cells of the honeycomb that leaves them most room, up to 400."""
    places = min(_honeycombs(), key=lambda cells: length(cells[pieces - 1]))[:pieces]
    across = TWO * length(places[-1]) + ONE
    unit = TWO / across
    return RoundPlaces(tuple((unit * x, unit * y) for x, y in places), unit / 2)
