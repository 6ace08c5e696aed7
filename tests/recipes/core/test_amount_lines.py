"""What is too little for every scale is taken in a solution, and the sums hold."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.core.formula import FormulaIngredient
from recipes.core.scaling.amount_lines import amount_line, dissolved
from recipes.core.weighing import Scales

WATER = FormulaIngredient("water", "Water", is_added_liquid=True, water_share=Decimal(1))
MILK = FormulaIngredient("milk", "Whole milk", is_added_liquid=True, water_share=Decimal("0.88"))
FLOUR = FormulaIngredient("flour", "Flour", is_flour=True)
YEAST = FormulaIngredient("yeast", "Instant yeast", dissolves=True)
SEEDS = FormulaIngredient("seeds", "Seeds")
ONE_GRAM, POCKET = Scales(), Scales((Decimal(1), Decimal("0.1")))


def part(scales, *pairs):
    lines = [amount_line(one, Decimal(mass_g), scales) for one, mass_g in pairs]
    return {line.ingredient.key: line for line in dissolved(lines, scales)}


def test_a_tenth_of_a_gram_is_10_g_of_1_g_in_100_g_water_and_counted_in_the_water():
    made = part(ONE_GRAM, (FLOUR, "103.2"), (WATER, "103.2"), (YEAST, "0.1"))
    yeast, water = made["yeast"], made["water"]
    assert (yeast.name, yeast.weighed.grams, yeast.exact_g) == (
        "Instant yeast solution",
        10,
        Decimal("0.1"),
    )
    assert yeast.how == "solution of 1 g in 100 g water, enough for 10 times"
    assert (water.weighed.grams, water.exact_g, water.in_stock_g) == (93, Decimal("103.2"), 10)
    assert water.how == "what the solution brings is left out: 10.0 g"
    assert made["flour"].how == ""


@pytest.mark.parametrize(
    ("scales", "mass_g", "water_g", "taken", "how"),
    [
        (ONE_GRAM, "0.7", "400", "71", "solution of 1 g in 100 g water"),
        (ONE_GRAM, "0.7", "50", "8", "solution of 1 g in 10 g water"),
        (ONE_GRAM, "0.02", "400", "20", "solution of 1 g in 1000 g water, enough for 50 times"),
        (ONE_GRAM, "0.42", "48", "5", "solution of 1 g in 10 g water, enough for 2 times"),
        (POCKET, "0.06", "30", "6.1", "solution of 1 g in 100 g water, enough for 16 times"),
        (Scales((Decimal(5),)), "3", "900", "305", "solution of 5 g in 500 g water"),
    ],
)
def test_the_solution_suits_scale_and_water(scales, mass_g, water_g, taken, how):
    yeast = part(scales, (WATER, water_g), (YEAST, mass_g))["yeast"]
    assert str(yeast.weighed.grams) == taken
    assert yeast.how == how


def test_a_part_without_water_takes_its_milk():
    made = part(ONE_GRAM, (MILK, "90"), (YEAST, "0.1"))
    assert made["yeast"].how.startswith("solution of 1 g in 100 g whole milk")
    assert made["milk"].weighed.grams == 80


@pytest.mark.parametrize(
    "pairs",
    [
        ((FLOUR, "100"), (YEAST, "0.1")),
        ((WATER, "100"), (SEEDS, "0.1")),
        ((WATER, "1"), (YEAST, "0.1")),
        ((WATER, "100"), (YEAST, "0.00001")),
    ],
    ids=["no liquid", "no solution", "not enough liquid", "too little for any"],
)
def test_what_cannot_be_dissolved_keeps_its_grams_and_asks_for_a_finer_scale(pairs):
    line = part(ONE_GRAM, *pairs)[pairs[1][0].key]
    assert line.stock is None
    assert line.weighed.grams > 0
    assert line.how == "too little for the scales here: use a finer one"


def test_two_small_lines_share_half_of_the_water():
    made = part(ONE_GRAM, (WATER, "40"), (YEAST, "0.1"), (replace(YEAST, key="salt"), "0.1"))
    assert made["water"].in_stock_g == 20
    assert made["water"].weighed.grams == 20


@given(yeast_g=st.decimals("0.00001", "3", places=5), water_g=st.decimals("0.1", "2000", places=1))
@pytest.mark.parametrize("scales", [ONE_GRAM, POCKET], ids=["bench", "pocket"])
def test_the_part_weighs_what_it_should_within_the_steps_of_its_lines(scales, yeast_g, water_g):
    made = part(scales, (FLOUR, "500"), (WATER, water_g), (YEAST, yeast_g))
    exact_g = Decimal(500) + water_g + yeast_g
    shown_g = sum(line.weighed.grams for line in made.values())
    assert abs(shown_g - exact_g) * 2 <= sum(line.weighed.step_g for line in made.values())
    assert all(line.weighed.grams > 0 for line in made.values())
    assert sum(line.exact_g for line in made.values()) == exact_g
    stock = made["yeast"].stock
    if stock:
        share = yeast_g / (yeast_g + stock.brings_g)
        assert share == stock.solute_g / (stock.solute_g + stock.liquid_g)
        assert stock.brings_g <= water_g / 2
