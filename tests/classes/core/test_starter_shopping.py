"""What a class with a starter buys: as for the same bread written out, to feed it."""

from decimal import Decimal

import pytest

from classes.core.demand import ClassNeeds, Person, Taught, class_amounts
from classes.core.money import Money
from classes.core.shopping import Supply, shopping_list
from tests.recipes.core.breads import BENCH_AND_POCKET
from tests.recipes.core.test_starters import IN_ALL, IN_THE_DOUGH, UNSAID, WRITTEN_OUT

SUPPLIES = {
    "rye-flour": Supply(pack_g=Decimal(1000), pack_price=Money(180, "EUR"), aisle="flour"),
    "table-salt": Supply(on_hand_g=Decimal(400), aisle="baking"),
    "water": Supply(tap=True),
}


def bought(formula, **starter):
    people = tuple(Person(str(n), f"Baker {n}", "Bench 1") for n in range(4))
    taught = Taught(
        "1", "Rye, revision 1", formula, 2, Decimal(900), demonstration_batches=1, brings=("mixed",)
    )
    needs = class_amounts(ClassNeeds((taught,), people, Decimal("0.03"))).needs
    supplies = SUPPLIES | ({"rye-starter": Supply(**starter)} if starter else {})
    return shopping_list(needs, supplies, BENCH_AND_POCKET, "EUR")


def grams(shopping):
    return {line.ingredient.key: line.needed_g for line in shopping.lines}


@pytest.mark.parametrize("bread", [IN_ALL, IN_THE_DOUGH], ids=["levain", "in the dough"])
def test_it_buys_and_costs_what_the_bread_written_out_does(bread):
    expected, found = bought(WRITTEN_OUT), bought(bread)
    assert grams(found) == grams(expected)
    assert (found.cash_out, found.cost_used) == (expected.cash_out, expected.cost_used)
    assert [line.buy_words for line in found.lines] == [line.buy_words for line in expected.lines]
    assert [line.weighed for line in found.lines] == [line.weighed for line in expected.lines]


def test_what_is_brought_of_it_is_not_fed():
    """The class takes 2060 g of it: a ninth of 20 pieces of 900 g, brought ones too, and 3 %."""
    all_of_it = bought(IN_ALL, on_hand_g=Decimal(5000))
    assert grams(all_of_it)["rye-starter"] == 2060
    assert grams(all_of_it)["rye-flour"] == grams(bought(IN_ALL))["rye-flour"] - 1030
    some = grams(bought(IN_ALL, on_hand_g=Decimal(27)))
    assert some["rye-starter"] == 27
    assert some["rye-flour"] == grams(bought(IN_ALL))["rye-flour"] - Decimal("13.5")


def test_what_is_sold_in_packs_is_bought_so():
    line = next(
        line
        for line in bought(IN_ALL, pack_g=Decimal(500)).lines
        if line.ingredient.key == "rye-starter"
    )
    assert (line.packs, line.buy_words) == (5, "5 × 500 g")


def test_one_of_unknown_water_is_bought_as_itself_and_has_no_price():
    found = bought(UNSAID)
    assert "rye-starter" in grams(found)
    assert "Rye starter" in found.cost_used.missing
