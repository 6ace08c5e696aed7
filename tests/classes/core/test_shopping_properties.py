"""What must hold for any shopping list."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from classes.core.money import Money
from classes.core.shopping import Supply, packs_needed, shopping_list
from recipes.core.formula import FormulaIngredient
from recipes.core.scaling import IngredientNeed, scale
from tests.recipes.core.breads import BENCH_AND_POCKET
from tests.recipes.core.strategies import INGREDIENTS, decimals, demands, formulas

ANY_INGREDIENT = tuple(FormulaIngredient(f"i{n}", f"Ingredient {n % 3}") for n in range(8))

grams = decimals("0", "9000", 3)
packs = decimals("0.01", "3000")
supplies = st.builds(
    Supply,
    on_hand_g=grams,
    pack_g=st.none() | packs,
    pack_price=st.none() | st.builds(Money, st.integers(0, 5000), st.sampled_from(["EUR", "USD"])),
    aisle=st.sampled_from(["baking", "chilled", ""]),
    tap=st.booleans(),
)


def supply_for(ingredients):
    return st.fixed_dictionaries({one.key: supplies for one in ingredients})


def any_need(ingredient):
    return st.builds(IngredientNeed, st.just(ingredient), grams, grams, grams, grams)


some_needs = st.lists(st.sampled_from(ANY_INGREDIENT), unique=True, min_size=1).flatmap(
    lambda chosen: st.tuples(*[any_need(one) for one in chosen])
)


def bought_g(line):
    return line.packs * line.supply.pack_g if line.supply.pack_g else line.short_g


def check(line):
    supply = line.supply
    if supply.tap:
        assert (line.packs, bought_g(line), line.left_g, line.to_buy) == (0, 0, 0, False)
        return
    assert supply.on_hand_g + bought_g(line) - line.needed_g == line.left_g
    assert line.left_g >= 0
    assert type(line.packs) is int
    if supply.pack_g is None:
        assert line.packs == 0
        assert line.to_buy == (line.left_g == 0 and line.needed_g > supply.on_hand_g)
        return
    assert bought_g(line) == line.packs * supply.pack_g
    assert line.packs == 0 or bought_g(line) - supply.pack_g < line.short_g


@given(some_needs, supply_for(ANY_INGREDIENT))
def test_had_and_bought_less_needed_is_left_and_no_pack_is_too_many(needs, kitchen):
    for line in shopping_list(needs, kitchen, BENCH_AND_POCKET, "EUR").lines:
        check(line)


@given(formulas(), demands(), supply_for(INGREDIENTS))
def test_the_same_holds_for_the_needs_of_any_class(formula, demand, kitchen):
    needs = scale(formula, demand).needs
    shopping = shopping_list(needs, kitchen, demand.scales, "EUR")
    assert {line.need for line in shopping.lines} == set(needs)
    for line in shopping.lines:
        check(line)
        assert line.weighed == demand.scales.weigh(line.needed_g)


@given(short=decimals("-3000", "60000", 4), pack=packs)
def test_packs_hold_what_is_short_and_one_fewer_would_not(short, pack):
    count = packs_needed(short, pack)
    assert count * pack >= short
    assert count == 0 or (count - 1) * pack < short


@given(some_needs, supply_for(ANY_INGREDIENT), st.data())
def test_the_order_of_needs_changes_nothing(needs, kitchen, data):
    other_order = data.draw(st.permutations(needs))
    assert shopping_list(needs, kitchen, BENCH_AND_POCKET, "EUR") == shopping_list(
        other_order, kitchen, BENCH_AND_POCKET, "EUR"
    )


@given(some_needs, supply_for(ANY_INGREDIENT))
def test_cash_is_the_sum_of_the_lines(needs, kitchen):
    shopping = shopping_list(needs, kitchen, BENCH_AND_POCKET, "EUR")
    to_buy = [line for line in shopping.lines if line.to_buy]
    prices = {line.need.ingredient.key: line.supply.pack_price for line in to_buy}
    priced = [
        line
        for line in to_buy
        if line.supply.pack_g and (price := prices[line.ingredient.key]) and price.currency == "EUR"
    ]
    minor = sum(line.packs * prices[line.ingredient.key].amount_minor for line in priced)
    assert shopping.cash_out.known == Money(minor, "EUR")
    unpriced = [line.ingredient.name for line in to_buy if line not in priced]
    assert shopping.cash_out.missing == tuple(unpriced)


@given(some_needs, supply_for(ANY_INGREDIENT), decimals("0.001", "500", 3))
def test_more_in_stock_never_means_more_to_buy(needs, kitchen, extra_g):
    fuller = {
        key: Supply(supply.on_hand_g + extra_g, supply.pack_g, tap=supply.tap)
        for key, supply in kitchen.items()
    }
    for need in needs:
        (before,) = shopping_list([need], kitchen, BENCH_AND_POCKET, "EUR").lines
        (after,) = shopping_list([need], fuller, BENCH_AND_POCKET, "EUR").lines
        assert bought_g(after) <= bought_g(before)
        assert after.short_g == max(Decimal(0), before.short_g - extra_g) or before.short_g == 0
