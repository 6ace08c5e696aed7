"""Packing against published optima.

Circles in a circle and in a square: data/packing_circle.csv and packing_square.csv, see
data/README.md. Most unit circles in a circle of whole radius: OEIS A023393.
"""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.baking.packing import Pattern, arrange, fill, how_many
from recipes.baking.pans import Pan, PanShape

FIXTURES = Path(__file__).parent / "data"
CLOSE = Decimal("1e-6")
UNIT_SQUARE = Pan.in_cm(PanShape.SQUARE, Decimal(1))

# Where rows reach the proven optimum of the square.
ROWS_ARE_BEST = {2, 4, 5, 6, 9, 12, 16, 18}


def published(name: str, column: str) -> dict[int, Decimal]:
    with (FIXTURES / name).open(encoding="utf-8", newline="") as file:
        return {int(row["n"]): Decimal(row[column]) for row in csv.DictReader(file, strict=True)}


CIRCLE = published("packing_circle.csv", "R_over_r_recalled")
SQUARE = published("packing_square.csv", "r_unit_square_recalled")


def unit_circle(radius: int) -> Pan:
    """A pan of whole radius for circles of radius one."""
    return Pan.in_cm(PanShape.ROUND, Decimal(2 * radius))


def test_the_tables_cover_two_to_twenty() -> None:
    assert list(CIRCLE) == list(SQUARE) == list(range(2, 21))


@pytest.mark.parametrize("pieces", CIRCLE)
def test_the_ratio_in_a_round_pan_is_the_published_one(pieces: int) -> None:
    pan = Pan.in_cm(PanShape.ROUND, Decimal("22.86"))
    found = arrange(pan, pieces)
    assert found.pattern is Pattern.BEST_KNOWN
    assert abs(pan.length_cm / found.room_cm - CIRCLE[pieces]) < CLOSE


@pytest.mark.parametrize("pieces", CIRCLE)
def test_a_pan_of_the_published_ratio_takes_that_many(pieces: int) -> None:
    pan = Pan.in_cm(PanShape.ROUND, CIRCLE[pieces] + CLOSE)
    count = how_many(pan, Decimal(1))
    as_good = [n for n, ratio in CIRCLE.items() if ratio <= CIRCLE[pieces] + CLOSE]
    assert count == max(as_good)
    assert fill(pan, Decimal(1)).pieces == count


@pytest.mark.parametrize(("radius", "most"), [(1, 1), (2, 2), (3, 7), (4, 11), (5, 19)])
def test_up_to_twenty_are_as_many_as_the_sequence_says(radius: int, most: int) -> None:
    assert how_many(unit_circle(radius), Decimal(2)) == most


@pytest.mark.parametrize(
    ("radius", "most"), [(6, 27), (7, 38), (8, 50), (9, 64), (10, 80), (11, 98), (12, 118)]
)
def test_a_honeycomb_comes_near_the_sequence_and_never_beats_it(radius: int, most: int) -> None:
    assert Decimal("0.88") * most <= how_many(unit_circle(radius), Decimal(2)) <= most


@pytest.mark.parametrize("pieces", SQUARE)
def test_rows_in_a_square_never_beat_the_optimum_and_come_near_it(pieces: int) -> None:
    radius = arrange(UNIT_SQUARE, pieces).room_cm / 2
    assert Decimal("0.95") * SQUARE[pieces] <= radius <= SQUARE[pieces] + CLOSE


@pytest.mark.parametrize("pieces", sorted(ROWS_ARE_BEST))
def test_rows_reach_the_optimum_where_it_is_in_rows(pieces: int) -> None:
    assert abs(arrange(UNIT_SQUARE, pieces).room_cm / 2 - SQUARE[pieces]) < CLOSE
