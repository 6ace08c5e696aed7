"""The worked shopping of the demo scenario, to the last digit that was given for it."""

from decimal import Decimal

import pytest

from classes.core.demand import ClassNeeds, Person, Taught, class_amounts
from classes.core.money import Money
from classes.core.shopping import Supply, shopping_list
from tests.recipes.core.breads import BENCH_AND_POCKET, BREAD_FLOUR, HEARTH_LOAF

SUPPLIES = {
    "bread-flour": Supply(Decimal(1200), Decimal(1500), Money(180, "EUR"), "flour"),
    "whole-wheat-flour": Supply(Decimal(0), Decimal(1000), Money(160, "EUR"), "flour"),
    "table-salt": Supply(Decimal(400)),
    "instant-yeast": Supply(Decimal(20), Decimal(7), Money(25, "EUR")),
    "water": Supply(tap=True),
}


@pytest.fixture(scope="module")
def shopping():
    people = tuple(Person(str(n), f"Person {n}", f"Bench {n // 4 + 1}") for n in range(12))
    loaf = Taught("f1", "Hearth loaf", HEARTH_LOAF, 1, Decimal(520), 1, Decimal(15), BREAD_FLOUR)
    needs = ClassNeeds((loaf,), people, Decimal("0.03"), BENCH_AND_POCKET)
    return shopping_list(class_amounts(needs).needs, SUPPLIES, BENCH_AND_POCKET, "EUR")


@pytest.mark.parametrize(
    ("key", "needed", "packs", "left"),
    [
        ("bread-flour", "3658.1", 2, "541.9"),
        ("whole-wheat-flour", "611.1", 1, "388.9"),
        ("table-salt", "81.5", 0, "318.5"),
        ("instant-yeast", "36.7", 3, "4.3"),
        ("water", "2770.5", 0, "0.0"),
    ],
)
def test_needs_packs_and_leftovers_are_as_worked_out(shopping, key, needed, packs, left):
    line = next(line for line in shopping.lines if line.ingredient.key == key)
    assert (f"{line.needed_g:.1f}", line.packs, f"{line.left_g:.1f}") == (needed, packs, left)


def test_the_cash_for_whole_packs_is_5_95(shopping):
    assert str(shopping.cash_out) == "5.95 EUR"


def test_the_pooled_need_is_weighed_once_from_the_exact_sum(shopping):
    flour = next(line for line in shopping.lines if line.ingredient is BREAD_FLOUR)
    assert str(flour.weighed.grams) == "3658"
    assert f"{flour.need.exact_g - flour.need.dusting_g:.1f}" == "3463.1"
