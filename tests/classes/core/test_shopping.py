from decimal import Decimal

import pytest

from classes.core.demand import ClassNeeds, Person, Taught, class_amounts
from classes.core.money import Estimate, Money
from classes.core.shopping import Supply, packs_needed, shopping_list
from recipes.core.errors import NotDecimal, OutOfRange
from recipes.core.formula import Formula, FormulaIngredient
from recipes.core.scaling import IngredientNeed
from tests.recipes.core.breads import BENCH_AND_POCKET, BREAD_FLOUR, EGG, SALT, SUGAR, WATER, dough


def need(grams, ingredient=SALT):
    zero = Decimal(0)
    return IngredientNeed(ingredient, Decimal(grams), zero, zero, zero)


def only_line(grams, ingredient=SALT, **supply):
    supplies = {ingredient.key: Supply(**supply)}
    (line,) = shopping_list([need(grams, ingredient)], supplies, BENCH_AND_POCKET, "EUR").lines
    return line


@pytest.mark.parametrize(
    ("short", "pack", "packs"),
    [
        pytest.param("0", "1500", 0, id="nothing short"),
        pytest.param("-20", "1500", 0, id="more than enough"),
        pytest.param("0.001", "1500", 1, id="a milligram short"),
        pytest.param("1500", "1500", 1, id="one to the gram"),
        pytest.param("1500.01", "1500", 2, id="a trace over one"),
        pytest.param("2458.1", "1500", 2, id="between"),
        pytest.param("16.7", "7", 3, id="sachets"),
        pytest.param("5", "2", 3, id="where truncation would give two"),
    ],
)
def test_packs_are_whole_and_enough(short, pack, packs):
    assert packs_needed(Decimal(short), Decimal(pack)) == packs


def test_negated_floor_division_would_be_a_pack_too_few():
    """The usual trick for rounding up fails: decimals truncate toward zero."""
    assert -(Decimal(-5) // Decimal(2)) == 2
    assert packs_needed(Decimal(5), Decimal(2)) == 3


@pytest.mark.parametrize("pack", [Decimal(0), Decimal(-1), 1.5], ids=["zero", "minus", "float"])
def test_packs_of_nothing_are_refused(pack):
    with pytest.raises((OutOfRange, NotDecimal)):
        packs_needed(Decimal(5), pack)


@pytest.mark.parametrize(
    ("grams", "supply", "short", "packs", "left", "cost"),
    [
        pytest.param("100", {}, "100", 0, "0", None, id="loose and nothing there"),
        pytest.param("100", {"on_hand_g": Decimal(30)}, "70", 0, "0", None, id="loose, some there"),
        pytest.param("100", {"on_hand_g": Decimal(130)}, "0", 0, "30", None, id="enough there"),
        pytest.param("100", {"on_hand_g": Decimal(100)}, "0", 0, "0", None, id="just enough"),
        pytest.param(
            "100", {"pack_g": Decimal(60)}, "100", 2, "20", None, id="packs without a price"
        ),
        pytest.param(
            "100",
            {"pack_g": Decimal(60), "pack_price": Money(125, "EUR")},
            "100",
            2,
            "20",
            Money(250, "EUR"),
            id="packs with a price",
        ),
        pytest.param(
            "100",
            {"pack_g": Decimal(60), "pack_price": Money(125, "EUR"), "on_hand_g": Decimal(400)},
            "0",
            0,
            "300",
            Money(0, "EUR"),
            id="no pack needed costs nothing",
        ),
        pytest.param(
            "100",
            {"pack_price": Money(125, "EUR")},
            "100",
            0,
            "0",
            None,
            id="loose has no pack price",
        ),
        pytest.param("100", {"tap": True}, "0", 0, "0", None, id="tap water is never bought"),
    ],
)
def test_what_is_had_bought_and_left(grams, supply, short, packs, left, cost):
    line = only_line(grams, **supply)
    assert (line.short_g, line.packs) == (Decimal(short), packs)
    assert (line.left_g, line.cost) == (Decimal(left), cost)
    assert line.to_buy == (line.short_g > 0)


def test_a_need_is_weighed_once_from_its_exact_sum():
    line = only_line("81.48")
    assert (line.needed_g, str(line.weighed.grams)) == (Decimal("81.48"), "81")


def test_eggs_are_counted_over_the_whole_class():
    line = only_line("284.9", EGG)
    assert (line.count.take, line.count.of) == (6, "large egg")
    assert only_line("284.9").count is None


def test_thirds_do_not_cost_a_pack_too_many():
    """3500 g of flour in 20 shares and 5 % loss summed to a trace above 3500 in 28 digits."""
    formula = Formula("Thirds", (dough((BREAD_FLOUR, "100"), (WATER, "200")),), Decimal(500))
    people = tuple(Person(str(n), f"Person {n}", "Bench") for n in range(19))
    recipe = Taught("t", "Thirds", formula, 1, Decimal(500))
    flour = class_amounts(ClassNeeds((recipe,), people, Decimal("0.05"))).needs[0]
    assert flour.bakers_g + flour.demonstrations_g + flour.loss_g != 3500
    assert flour.exact_g == 3500
    supplies = {"bread-flour": Supply(pack_g=Decimal(500))}
    (line,) = shopping_list([flour], supplies, BENCH_AND_POCKET, "EUR").lines
    assert (line.packs, line.left_g) == (7, 0)


def test_lines_are_sorted_by_aisle_and_name_and_tap_water_comes_last():
    supplies = {
        "water": Supply(tap=True),
        "table-salt": Supply(aisle="baking"),
        "sugar": Supply(aisle="baking"),
        "bread-flour": Supply(aisle="flour"),
        "egg": Supply(aisle="chilled"),
    }
    needs = [need("1", one) for one in (WATER, BREAD_FLOUR, SALT, EGG, SUGAR)]
    names = [
        line.ingredient.name
        for line in shopping_list(needs, supplies, BENCH_AND_POCKET, "EUR").lines
    ]
    assert names == ["Sugar", "Table salt", "Egg", "Bread flour", "Water"]


def test_cash_is_that_of_whole_packs_and_lines_without_a_price_are_named():
    supplies = {
        "bread-flour": Supply(pack_g=Decimal(1500), pack_price=Money(180, "EUR")),
        "sugar": Supply(pack_g=Decimal(1000), pack_price=Money(0, "EUR")),
        "table-salt": Supply(pack_g=Decimal(500)),
        "egg": Supply(on_hand_g=Decimal(900)),
        "water": Supply(tap=True),
    }
    needs = [need("1600", one) for one in (BREAD_FLOUR, SUGAR, SALT, WATER)] + [need("50", EGG)]
    shopping = shopping_list(needs, supplies, BENCH_AND_POCKET, "EUR")
    assert shopping.cash_out == Estimate(Money(360, "EUR"), ("Table salt",))


def test_an_ingredient_nobody_stocks_is_bought_loose():
    (line,) = shopping_list([need("7")], {}, BENCH_AND_POCKET, "EUR").lines
    assert (line.to_buy, line.short_g, line.packs, line.supply) == (True, 7, 0, Supply())


def test_nothing_needed_is_an_empty_list():
    shopping = shopping_list([], {}, BENCH_AND_POCKET, "EUR")
    assert (shopping.lines, shopping.cash_out) == ((), Estimate(Money(0, "EUR")))


def test_names_shared_by_two_ingredients_keep_one_order():
    twins = [need("1", FormulaIngredient(key, "Salt")) for key in ("a", "b")]
    one, other = (
        [line.ingredient.key for line in shopping_list(order, {}, BENCH_AND_POCKET, "EUR").lines]
        for order in (twins, twins[::-1])
    )
    assert one == other == ["a", "b"]


@pytest.mark.parametrize(
    ("supply", "error", "field"),
    [
        pytest.param({"on_hand_g": Decimal(-1)}, OutOfRange, "on_hand_g", id="minus stock"),
        pytest.param({"on_hand_g": 1.5}, NotDecimal, "on_hand_g", id="float stock"),
        pytest.param({"pack_g": Decimal(0)}, OutOfRange, "pack_g", id="empty pack"),
        pytest.param({"pack_g": Decimal(-7)}, OutOfRange, "pack_g", id="minus pack"),
        pytest.param({"pack_g": 7.0}, NotDecimal, "pack_g", id="float pack"),
        pytest.param(
            {"pack_price": Money(-1, "EUR")}, OutOfRange, "pack_price", id="paid to take it"
        ),
    ],
)
def test_an_impossible_supply_is_refused_and_names_the_field(supply, error, field):
    with pytest.raises(error) as caught:
        Supply(**supply)
    assert caught.value.field == field


def test_a_pack_priced_in_another_currency_counts_as_without_a_price():
    line = only_line("100", pack_g=Decimal(60), pack_price=Money(125, "USD"))
    assert (line.packs, line.cost, line.used_minor) == (2, None, None)
    assert line.cost_words == "1.25 USD a pack"


def test_a_pack_that_costs_nothing_has_a_price():
    line = only_line("100", pack_g=Decimal(60), pack_price=Money(0, "EUR"))
    assert (line.cost, line.cost_words, line.used_minor) == (Money(0, "EUR"), "0.00", 0)
