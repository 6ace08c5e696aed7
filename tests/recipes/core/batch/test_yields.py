"""Two of pieces, piece mass and flour are known; the third follows."""

from decimal import Decimal

import pytest

from recipes.core.batch.yields import of_flour_in_mass, of_flour_in_pieces, of_pieces
from recipes.core.choices import ComponentKind
from recipes.core.errors import NotWhole, OutOfRange
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, Line

FLOUR = FormulaIngredient("flour", "Flour", is_flour=True)
WATER = FormulaIngredient("water", "Water", is_added_liquid=True)
DOUGH = FormulaComponent(
    ComponentKind.DOUGH, "Dough", (Line(FLOUR, Decimal(100)), Line(WATER, Decimal(60)))
)
PLAIN = Formula("Plain", (DOUGH,), Decimal(160))


def test_the_flour_follows_from_pieces_and_their_mass():
    made = of_pieces(PLAIN, 6, Decimal(80))
    assert (made.dough_g, made.flour_g, made.left_over_g) == (480, 300, 0)


def test_the_number_follows_from_flour_and_piece_mass():
    made = of_flour_in_mass(PLAIN, Decimal(1000), Decimal(450))
    assert (made.dough_g, made.pieces, made.left_over_g) == (1600, 3, 250)


@pytest.mark.parametrize(("flour_g", "leaves"), [("500.4", False), ("500.7", True)])
def test_less_than_a_gram_left_over_is_not_worth_telling(flour_g, leaves):
    assert of_flour_in_mass(PLAIN, Decimal(flour_g), Decimal(400)).leaves_some is leaves


def test_a_batch_too_small_for_one_piece_says_none():
    made = of_flour_in_mass(PLAIN, Decimal(100), Decimal(450))
    assert (made.pieces, made.left_over_g) == (0, 160)


def test_thirds_of_a_batch_make_three_whole_pieces():
    made = of_flour_in_mass(PLAIN, Decimal(100), Decimal(160) / 3)
    assert (made.pieces, made.left_over_g) == (3, 0)


def test_the_piece_mass_follows_from_flour_and_number():
    made = of_flour_in_pieces(PLAIN, Decimal(1000), 5)
    assert (made.piece_g, made.dough_g, made.left_over_g) == (320, 1600, 0)


@pytest.mark.parametrize("pieces", [0, -1])
def test_no_pieces_are_refused(pieces):
    with pytest.raises(OutOfRange):
        of_pieces(PLAIN, pieces, Decimal(80))


def test_a_part_of_a_piece_is_refused():
    with pytest.raises(NotWhole):
        of_flour_in_pieces(PLAIN, Decimal(100), Decimal("1.5"))


@pytest.mark.parametrize("grams", ["0", "-1"])
def test_no_mass_is_refused(grams):
    with pytest.raises(OutOfRange):
        of_pieces(PLAIN, 1, Decimal(grams))
    with pytest.raises(OutOfRange):
        of_flour_in_mass(PLAIN, Decimal(grams), Decimal(100))
