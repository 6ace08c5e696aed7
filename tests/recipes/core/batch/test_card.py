"""The card says what `batch` and the percentages say, and adds what is printed."""

from decimal import Decimal

import pytest

from recipes.core.batch.card import formula_card
from recipes.core.choices import ComponentKind
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, Line
from recipes.core.scaling import batch
from recipes.core.weighing import Scales

FINE = Scales((Decimal(1), Decimal("0.1")))
FLOUR = FormulaIngredient("bread-flour", "Bread flour", is_flour=True)
RYE = FormulaIngredient("rye-flour", "Rye flour", is_flour=True)
WATER = FormulaIngredient("water", "Water", is_added_liquid=True, water_share=Decimal(1))
SALT = FormulaIngredient("salt", "Salt")
YEAST = FormulaIngredient("yeast", "Yeast")
YOLK = FormulaIngredient("yolk", "Egg yolk", each_g=Decimal(17), each_name="yolk")


def part(kind, name, *lines, **fields):
    rows = tuple(Line(ingredient, Decimal(grams)) for ingredient, grams in lines)
    return FormulaComponent(ComponentKind(kind), name, rows, **fields)


POOLISH = part("preferment", "Poolish", (FLOUR, "300"), (WATER, "300"), (YEAST, "0.3"))
FINAL = part(
    "dough", "Final dough", (FLOUR, "600"), (RYE, "100"), (WATER, "420"), (SALT, "20"),
    (YEAST, "3.7"),
)  # fmt: skip
TWO_DAY = Formula("Two-day rye batard", (POOLISH, FINAL), Decimal(600))
DIRECT = Formula("Plain", (part("dough", "Dough", (FLOUR, "100"), (WATER, "60")),), Decimal(160))


def weighed(lines):
    return {line.amount.ingredient.key: str(line.amount.weighed.grams) for line in lines}


def test_the_demo_batch_of_nine_two_day_loaves_is_on_the_card():
    card = formula_card(TWO_DAY, Decimal(5400), FINE)
    poolish, final = card.dough_parts
    assert weighed(poolish.lines) == {"bread-flour": "929", "water": "929", "yeast": "0.9"}
    assert weighed(final.lines) == {
        "bread-flour": "1858", "rye-flour": "310", "water": "1300", "salt": "62", "yeast": "11.5",
    }  # fmt: skip


def test_the_card_weighs_what_the_scaling_service_weighs():
    card = formula_card(TWO_DAY, Decimal(5400), FINE)
    sheet = batch(TWO_DAY, Decimal(5400), FINE)
    assert tuple(part.amounts for part in card.parts) == sheet.components
    assert (card.dough_g, card.weighed_dough_g) == (sheet.dough_g, sheet.weighed_dough_g)


def test_percentages_are_of_all_flour_and_of_the_parts_own():
    poolish = formula_card(TWO_DAY, Decimal(600), FINE).dough_parts[0]
    assert [line.percent for line in poolish.lines] == [30, 30, Decimal("0.03")]
    assert [line.own_percent for line in poolish.lines] == [100, 100, Decimal("0.1")]


def test_the_overall_formula_merges_and_weighs_once():
    card = formula_card(TWO_DAY, Decimal(5400), FINE)
    assert weighed(card.overall) == {
        "bread-flour": "2787", "water": "2229", "yeast": "12.4", "rye-flour": "310", "salt": "62",
    }  # fmt: skip
    assert [line.percent for line in card.overall] == [90, 72, Decimal("0.4"), 10, 2]


def test_the_overall_total_is_the_sum_of_its_printed_lines():
    card = formula_card(TWO_DAY, Decimal(5400), FINE)
    assert card.overall_weighed_g == sum(line.amount.weighed.grams for line in card.overall)


def test_a_bread_of_one_dough_needs_no_overall_formula():
    card = formula_card(DIRECT, Decimal(160), FINE)
    assert card.overall == ()
    assert card.overall_weighed_g == 0


def test_a_coarse_weighing_is_told_with_its_share():
    card = formula_card(TWO_DAY, Decimal(5400), Scales())
    yeast = card.dough_parts[0].lines[2]
    assert card.has_coarse
    assert yeast.amount.weighed.coarse
    assert yeast.step_percent == pytest.approx(Decimal("107.6"), abs=Decimal("0.1"))


def test_a_card_of_fine_weighings_has_nothing_coarse():
    assert not formula_card(DIRECT, Decimal(160), FINE).has_coarse


def test_the_wash_stands_outside_the_dough():
    wash = part("wash", "Wash", (YOLK, "17"), for_pieces=12)
    formula = Formula("Rolls", (*DIRECT.components, wash), Decimal(70))
    card = formula_card(formula, Decimal(840), FINE)
    assert [one.name for one in card.other_parts] == ["Wash"]
    assert card.other_parts[0].for_pieces == 12
    assert card.other_parts[0].lines[0].amount.count.take == 1
    assert card.weighed_dough_g == 840


def test_percentages_of_a_wash_are_of_the_flour_it_goes_with():
    wash = part("wash", "Wash", (YOLK, "20"), (WATER, "20"), for_pieces=10)
    formula = Formula("Plain", (*DIRECT.components, wash), Decimal(160))
    washed = formula_card(formula, Decimal(1600), FINE).other_parts[0]
    assert [line.percent for line in washed.lines] == [2, 2]
    assert washed.percent == 4
    assert washed.amounts.exact_g == 40


def test_notes_of_lines_reach_the_card():
    noted = FormulaComponent(ComponentKind.DOUGH, "Dough", (Line(FLOUR, Decimal(100), "sifted"),))
    card = formula_card(Formula("Plain", (noted,), Decimal(100)), Decimal(100), FINE)
    assert card.parts[0].lines[0].note == "sifted"
