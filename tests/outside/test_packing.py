"""Packing against published optima and the best known places.

Circles in a circle and in a square: data/packing_circle.csv and packing_square.csv, see
data/README.md; above 20 the figures are from memory, to five digits, and a search of our own found
them again. Most unit circles in a circle of whole radius: OEIS A023393.
"""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.core.pans.packing import (
    MOST_KNOWN_ROUND,
    MOST_KNOWN_SQUARE,
    Pattern,
    arrange,
    arrangements,
    fill,
    how_many,
)
from recipes.core.pans.sizes import Pan, PanShape
from tests.outside.circle_search import PANS, radius_of, search

FIXTURES = Path(__file__).parent / "data"
CLOSE = Decimal("1e-6")
UNIT_SQUARE = Pan.in_cm(PanShape.SQUARE, Decimal(1))

RECALLED = Decimal("1e-5")

# Where rows reach the optimum of the square.
ROWS_ARE_BEST = {2, 4, 5, 6, 9, 12, 16, 18, 25, 27}


def published(name: str, column: str) -> dict[int, Decimal]:
    with (FIXTURES / name).open(encoding="utf-8", newline="") as file:
        return {int(row["n"]): Decimal(row[column]) for row in csv.DictReader(file, strict=True)}


CIRCLE = published("packing_circle.csv", "R_over_r_recalled")
SQUARE = published("packing_square.csv", "r_unit_square_recalled")


def unit_circle(radius: int) -> Pan:
    """A pan of whole radius for circles of radius one."""
    return Pan.in_cm(PanShape.ROUND, Decimal(2 * radius))


def close(pieces: int) -> Decimal:
    """How near to the figure of so many pieces we must come."""
    return CLOSE if pieces <= 20 else RECALLED


def test_the_tables_cover_what_is_called_known() -> None:
    assert list(CIRCLE) == list(range(2, MOST_KNOWN_ROUND + 1))
    assert list(SQUARE) == list(range(2, MOST_KNOWN_SQUARE + 1))


@pytest.mark.parametrize("pieces", CIRCLE)
def test_the_ratio_in_a_round_pan_is_the_published_one(pieces: int) -> None:
    pan = Pan.in_cm(PanShape.ROUND, Decimal("22.86"))
    found = arrange(pan, pieces)
    assert found.pattern is Pattern.BEST_KNOWN
    assert abs(pan.length_cm / found.room_cm - CIRCLE[pieces]) < close(pieces)


@pytest.mark.parametrize("pieces", CIRCLE)
def test_a_pan_of_the_published_ratio_takes_that_many(pieces: int) -> None:
    pan = Pan.in_cm(PanShape.ROUND, CIRCLE[pieces] + close(pieces))
    count = how_many(pan, Decimal(1))
    as_good = [n for n, ratio in CIRCLE.items() if ratio <= CIRCLE[pieces] + close(pieces)]
    assert count == max(as_good)
    assert fill(pan, Decimal(1)).pieces == count


@pytest.mark.parametrize(
    ("radius", "most"), [(1, 1), (2, 2), (3, 7), (4, 11), (5, 19), (6, 27), (7, 38)]
)
def test_up_to_forty_are_as_many_as_the_sequence_says(radius: int, most: int) -> None:
    assert how_many(unit_circle(radius), Decimal(2)) == most


@pytest.mark.parametrize(("radius", "most"), [(8, 50), (9, 64), (10, 80), (11, 98), (12, 118)])
def test_a_honeycomb_comes_near_the_sequence_and_never_beats_it(radius: int, most: int) -> None:
    assert Decimal("0.94") * most <= how_many(unit_circle(radius), Decimal(2)) <= most


@pytest.mark.parametrize("pieces", SQUARE)
def test_the_radius_in_a_square_pan_is_the_published_one(pieces: int) -> None:
    found = arrange(UNIT_SQUARE, pieces)
    assert abs(found.room_cm / 2 - SQUARE[pieces]) < CLOSE
    assert found.is_best_known


@pytest.mark.parametrize("pieces", sorted(ROWS_ARE_BEST & set(SQUARE)))
def test_rows_are_kept_where_the_optimum_is_in_rows(pieces: int) -> None:
    assert arrange(UNIT_SQUARE, pieces).pattern is not Pattern.SCATTERED


@pytest.mark.parametrize("pieces", range(2, 60))
def test_a_scatter_is_drawn_only_where_it_has_more_room_than_rows(pieces: int) -> None:
    best, *others = arrangements(UNIT_SQUARE, pieces)
    if best.pattern is Pattern.SCATTERED:
        assert all(other.room_cm < best.room_cm for other in others)


@pytest.mark.parametrize(
    ("name", "pieces", "ratio"),
    [("circle", 13, CIRCLE[13]), ("circle", 22, CIRCLE[22]), ("square", 7, 1 / SQUARE[7])],
)
def test_a_search_that_knows_no_table_finds_the_same_ratio(
    name: str, pieces: int, ratio: Decimal
) -> None:
    """It stops as soon as it is there; a minute is for machines that do much beside it."""
    goal = 1 / float(ratio + close(pieces))
    points, radius = search(PANS[name], pieces, seed=1, seconds=60, goal=goal)
    assert radius == radius_of(PANS[name], points)
    assert abs(1 / radius - float(ratio)) < float(close(pieces))
