"""Eggs to open for their whites and yolks, with the whole eggs of the same shopping.

White 33 and yolk 17 of the 50 g in a large egg: USDA SR28, NDB 01123 to 01125
(`tests/outside/data/sr28_measures.csv`).
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from classes.core.money import Estimate, Money
from classes.core.shopping import Supply, shopping_list
from classes.core.wholes import PartOfWhole, Whole, opened_for
from recipes.core.errors import OutOfRange
from recipes.core.formula import FormulaIngredient
from recipes.core.scaling import IngredientNeed
from recipes.core.weighing import Scales

EGG = FormulaIngredient("egg", "Egg, whole", each_g=Decimal(50), each_name="large egg")
WHITE = FormulaIngredient("egg-white", "Egg white", each_g=Decimal(33), each_name="large white")
YOLK = FormulaIngredient("egg-yolk", "Egg yolk", each_g=Decimal(17), each_name="large yolk")
PARTS = (
    PartOfWhole("egg-white", "Egg white", Decimal(33), "large white"),
    PartOfWhole("egg-yolk", "Egg yolk", Decimal(17), "large yolk"),
)
WHOLE = Whole(EGG, Decimal(50), PARTS)
BOX = Supply(pack_g=Decimal(300), pack_price=Money(240, "EUR"))
PART = Supply(part_of=WHOLE)
ZERO = Decimal(0)


def need(ingredient, grams):
    return IngredientNeed(ingredient, Decimal(grams), ZERO, ZERO, ZERO)


def lines(*needs, **supplies):
    usual = {"egg": BOX, "egg-white": PART, "egg-yolk": PART}
    usual |= {key.replace("_", "-"): value for key, value in supplies.items()}
    found = shopping_list(needs, usual, Scales(), "EUR")
    return {line.ingredient.key: line for line in found.lines}, found


@pytest.mark.parametrize(
    ("white", "yolk", "pieces", "white_left", "yolk_left"),
    [
        ("0", "153", 9, "297", "0"),
        ("0", "153.01", 10, "330", "16.99"),
        ("66", "0", 2, "0", "34"),
        ("66", "17", 2, "0", "17"),
        ("99", "51", 3, "0", "0"),
        ("33", "51", 3, "66", "0"),
        ("0.1", "0", 1, "32.9", "17"),
    ],
)
def test_the_part_that_needs_most_pieces_decides(white, yolk, pieces, white_left, yolk_left):
    short = {"egg-white": Decimal(white), "egg-yolk": Decimal(yolk)}
    opened = opened_for(short, [WHOLE])["egg"]
    assert opened.pieces == pieces
    assert [one.left_g for one in opened.taken] == [Decimal(white_left), Decimal(yolk_left)]


def test_nothing_short_opens_nothing():
    assert opened_for({"egg-yolk": ZERO}, [WHOLE]) == {}


def test_yolks_and_whole_eggs_are_bought_together_and_the_whites_are_named():
    """284.9 g of whole egg are 6 eggs, 153 g of yolk 9 more: 734.9 g, three boxes of 300 g."""
    by_key, found = lines(need(EGG, "284.9"), need(YOLK, "153"))
    egg, yolk = by_key["egg"], by_key["egg-yolk"]
    assert (egg.needed_g, egg.count.take) == (Decimal("734.9"), 15)
    assert egg.count.exact == Decimal("14.698")  # 284.9 of 50 g, and 9 to open
    assert (egg.buy_words, egg.cost) == ("3 × 300 g", Money(720, "EUR"))
    assert egg.notes == (
        "15 × large egg, 6 of them to beat and weigh",
        "9 of them to open for 153 g egg yolk",
        "about 297 g egg white (9 large whites) left over",
    )
    assert (yolk.to_buy, yolk.buy_words, yolk.left_g) == (False, "as egg, whole", 0)
    assert found.cash_out == Estimate(Money(720, "EUR"))
    assert found.cost_used == Estimate(Money(588, "EUR"))  # 734.9 of 300 g at 2.40


def test_yolks_alone_bring_whole_eggs_onto_the_list():
    by_key, found = lines(need(YOLK, "153"))
    assert by_key["egg"].buy_words == "2 × 300 g"
    assert by_key["egg"].notes[0] == "9 × large egg"
    assert found.cash_out == Estimate(Money(480, "EUR"))


def test_grams_are_rounded_as_everywhere_and_half_a_yolk_is_no_yolk():
    """110.5 g are 7 yolks of 17 g and leave 8.5 g; the lists round 110.5 to 111."""
    by_key, _ = lines(need(YOLK, "110.5"))
    assert by_key["egg"].notes[1:] == (
        "7 of them to open for 111 g egg yolk",
        "about 231 g egg white (7 large whites) left over",
        "about 8.5 g egg yolk left over",
    )


def test_without_a_price_of_eggs_only_the_eggs_are_missing():
    _, found = lines(need(YOLK, "153"), egg=Supply())
    assert found.cash_out.missing == found.cost_used.missing == ("Egg, whole",)


def test_yolks_in_stock_are_used_first():
    by_key, _ = lines(need(YOLK, "153"), egg_yolk=Supply(on_hand_g=Decimal(100), part_of=WHOLE))
    assert by_key["egg"].opened.pieces == 4  # 53 g
    assert by_key["egg-yolk"].left_g == 4 * 17 - 53


def test_yolks_enough_in_stock_open_no_egg():
    by_key, _ = lines(need(YOLK, "153"), egg_yolk=Supply(on_hand_g=Decimal(160), part_of=WHOLE))
    assert set(by_key) == {"egg-yolk"}
    assert (by_key["egg-yolk"].buy_words, by_key["egg-yolk"].left_g) == ("nothing", 7)


def test_a_part_with_a_pack_of_its_own_is_bought_as_that():
    carton = Supply(pack_g=Decimal(500), pack_price=Money(390, "EUR"), part_of=WHOLE)
    by_key, _ = lines(need(YOLK, "153"), egg_yolk=carton)
    assert set(by_key) == {"egg-yolk"}
    assert by_key["egg-yolk"].buy_words == "1 × 500 g"


def test_smaller_eggs_give_smaller_parts():
    """Medium US eggs: 44 g inside; at the same shares 14.96 g of yolk, so 11 eggs for 153 g."""
    egg = replace(EGG, each_g=Decimal(44), each_name="medium egg")
    parts = tuple(replace(part, each_g=part.each_g * 44 / 50) for part in PARTS)
    medium = Supply(part_of=Whole(egg, Decimal(44), parts))
    by_key, _ = lines(need(YOLK, "153"), egg_yolk=medium)
    assert by_key["egg"].opened.pieces == 11


@pytest.mark.parametrize("each_g", [ZERO, Decimal(-1)])
def test_a_piece_that_weighs_nothing_is_refused(each_g):
    with pytest.raises(OutOfRange):
        Whole(EGG, each_g, PARTS)
    with pytest.raises(OutOfRange):
        PartOfWhole("egg-yolk", "Egg yolk", each_g, "")


masses = st.decimals("0", "5000", places=1)


@given(masses, masses, masses)
def test_no_gram_is_lost_and_no_egg_too_many(whole, white, yolk):
    needs = [need(*one) for one in ((EGG, whole), (WHITE, white), (YOLK, yolk)) if one[1]]
    by_key, _ = lines(*needs)
    opened = by_key["egg"].opened.pieces if white or yolk else 0
    assert opened * 33 >= white
    assert opened * 17 >= yolk
    assert not opened or (opened - 1) * 33 < white or (opened - 1) * 17 < yolk
    if opened:
        assert by_key["egg"].needed_g == whole + 50 * opened
        assert sum(one.needed_g + one.left_g for one in by_key["egg"].opened.taken) == 50 * opened
