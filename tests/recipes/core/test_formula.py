from decimal import Decimal

import pytest

from recipes.core.choices import ComponentKind
from recipes.core.errors import EmptyComponent, NoFlour, NotDecimal, NotWhole, OutOfRange
from recipes.core.formula import (
    Formula,
    FormulaComponent,
    FormulaIngredient,
    Line,
    component_card,
    merge_masses,
    overall,
    proportions,
)
from tests.recipes.core.breads import (
    BREAD_FLOUR,
    DEMO_FORMULAS,
    EGG,
    HEARTH_LOAF,
    MILK,
    PILLOW_ROLLS,
    RYE,
    RYE_BATARD,
    SALT,
    SEEDED_RING,
    WATER,
    YEAST,
    dough,
    lines,
)


def title(formula):
    return formula.title


def percents(formula):
    return {line.ingredient.key: line.percent for line in overall(formula)}


def test_the_overall_formula_lists_each_ingredient_once_over_all_components():
    assert percents(RYE_BATARD) == {
        "bread-flour": 90,
        "water": 72,
        "instant-yeast": Decimal("0.4"),
        "rye-flour": 10,
        "table-salt": 2,
    }


def test_flour_and_milk_in_the_roux_count_toward_the_whole_dough():
    assert percents(PILLOW_ROLLS) == {
        "bread-flour": 100,
        "whole-milk": 62,
        "sugar": 10,
        "butter": 12,
        "egg": 10,
        "table-salt": Decimal("1.8"),
        "instant-yeast": Decimal("1.6"),
    }


def test_a_topping_is_no_part_of_the_dough():
    assert "sesame-seeds" not in percents(SEEDED_RING)
    assert SEEDED_RING.dough_g == 1729
    assert proportions(SEEDED_RING).total == Decimal("172.9")


@pytest.mark.parametrize("formula", DEMO_FORMULAS, ids=title)
def test_all_flours_together_are_100_percent(formula):
    assert sum(line.percent for line in overall(formula) if line.ingredient.is_flour) == 100


def test_a_component_shows_percentages_of_all_flour_and_of_its_own():
    poolish, _ = RYE_BATARD.components
    card = {
        line.ingredient.key: (line.percent, line.own_percent)
        for line in component_card(RYE_BATARD, poolish)
    }
    assert card == {
        "bread-flour": (30, 100),
        "water": (30, 100),
        "instant-yeast": (Decimal("0.03"), Decimal("0.1")),
    }


def test_a_component_without_flour_has_no_percentages_of_its_own():
    wash = PILLOW_ROLLS.components[-1]
    assert {line.own_percent for line in component_card(PILLOW_ROLLS, wash)} == {None}


def test_a_wash_for_many_pieces_is_set_against_the_flour_of_as_many():
    dough = FormulaComponent(
        ComponentKind.DOUGH, "Dough", lines((BREAD_FLOUR, "100"), (MILK, "60"))
    )
    wash = FormulaComponent(ComponentKind.WASH, "Wash", lines((EGG, "20")), for_pieces=10)
    formula = Formula("Rolls", (dough, wash), piece_g=Decimal(160))
    assert [line.percent for line in component_card(formula, wash)] == [2]


@pytest.mark.parametrize(
    ("formula", "total", "hydration", "prefermented", "roux"),
    [
        pytest.param(HEARTH_LOAF, "170.9", "68", "0", "0", id="straight dough"),
        pytest.param(RYE_BATARD, "174.4", "72", "30", "0", id="poolish"),
        pytest.param(PILLOW_ROLLS, "197.4", "62", "0", "5", id="roux"),
    ],
)
def test_headline_proportions(formula, total, hydration, prefermented, roux):
    shown = proportions(formula)
    assert shown.total == Decimal(total)
    assert shown.hydration == Decimal(hydration)
    assert shown.prefermented_flour == Decimal(prefermented)
    assert shown.roux_flour == Decimal(roux)


def test_hidden_water_is_that_of_milk_butter_and_egg_but_not_of_flour():
    wet_flour = FormulaIngredient("wet", "Flour", is_flour=True, water_share=Decimal("0.14"))
    formula = Formula("Bun", (dough((wet_flour, "100"), (MILK, "50"), (EGG, "10")),), Decimal(60))
    assert proportions(formula).hydration == 50
    assert proportions(formula).hydration_with_hidden_water == Decimal("51.6")


def test_dough_for_a_flour_mass_follows_the_total():
    assert HEARTH_LOAF.dough_g_for_flour(Decimal(500)) == Decimal("854.5")


def test_masses_merge_by_key_in_order_of_first_appearance():
    again = FormulaIngredient("water", "Water again")
    merged = merge_masses(lines((WATER, "300"), (RYE, "100"), (again, "20")))
    assert list(merged.items()) == [(WATER, 320), (RYE, 100)]


def test_formulas_are_values():
    same = Formula(HEARTH_LOAF.title, HEARTH_LOAF.components, HEARTH_LOAF.piece_g)
    assert same == HEARTH_LOAF
    assert hash(same) == hash(HEARTH_LOAF)
    with pytest.raises(AttributeError):
        HEARTH_LOAF.pieces = 2


@pytest.mark.parametrize(
    ("kind", "into_dough", "in_bulk"),
    [
        (ComponentKind.DOUGH, True, False),
        (ComponentKind.PREFERMENT, True, True),
        (ComponentKind.ROUX, True, True),
        (ComponentKind.SOAKER, True, True),
        (ComponentKind.FILLING, False, False),
        (ComponentKind.WASH, False, False),
        (ComponentKind.TOPPING, False, False),
    ],
)
def test_each_kind_of_component_knows_where_it_goes(kind, into_dough, in_bulk):
    assert (kind.goes_into_dough, kind.made_in_bulk) == (into_dough, in_bulk)


ONE_DOUGH = HEARTH_LOAF.components


@pytest.mark.parametrize(
    ("make", "error", "field"),
    [
        pytest.param(lambda: Line(SALT, Decimal(0)), OutOfRange, "mass_g", id="zero grams"),
        pytest.param(lambda: Line(SALT, Decimal(-1)), OutOfRange, "mass_g", id="minus grams"),
        pytest.param(lambda: Line(SALT, Decimal("1e13")), OutOfRange, "mass_g", id="a mountain"),
        pytest.param(lambda: Line(SALT, 1.5), NotDecimal, "mass_g", id="float grams"),
        pytest.param(lambda: Line(SALT, Decimal("NaN")), NotDecimal, "mass_g", id="nan grams"),
        pytest.param(
            lambda: FormulaIngredient("x", "X", water_share=Decimal("1.01")),
            OutOfRange,
            "water_share",
            id="more water than itself",
        ),
        pytest.param(
            lambda: FormulaIngredient("x", "X", water_share=Decimal("-0.1")),
            OutOfRange,
            "water_share",
            id="less water than none",
        ),
        pytest.param(
            lambda: FormulaIngredient("x", "X", each_g=Decimal(0)),
            OutOfRange,
            "each_g",
            id="no egg",
        ),
        pytest.param(
            lambda: FormulaComponent(ComponentKind.ROUX, "R", lines((SALT, "1")), None, Decimal(1)),
            OutOfRange,
            "cooking_loss",
            id="roux boiled away",
        ),
        pytest.param(
            lambda: FormulaComponent(
                ComponentKind.ROUX, "R", lines((SALT, "1")), None, Decimal("-0.1")
            ),
            OutOfRange,
            "cooking_loss",
            id="roux that grows",
        ),
        pytest.param(
            lambda: FormulaComponent(ComponentKind.WASH, "Wash", lines((EGG, "1"))),
            NotWhole,
            "for_pieces",
            id="wash for nobody knows how many",
        ),
        pytest.param(
            lambda: FormulaComponent(ComponentKind.TOPPING, "Top", lines((SALT, "1")), 0),
            OutOfRange,
            "for_pieces",
            id="topping for no pieces",
        ),
        pytest.param(
            lambda: Formula("X", ONE_DOUGH, Decimal(0)), OutOfRange, "piece_g", id="no piece mass"
        ),
        pytest.param(
            lambda: Formula("X", ONE_DOUGH, Decimal(1), 0), OutOfRange, "pieces", id="no pieces"
        ),
        pytest.param(
            lambda: Formula("X", ONE_DOUGH, Decimal(1), Decimal("1.5")),
            NotWhole,
            "pieces",
            id="one and a half pieces",
        ),
        pytest.param(
            lambda: HEARTH_LOAF.dough_g_for_flour(Decimal(0)), OutOfRange, "flour_g", id="no flour"
        ),
    ],
)
def test_bad_formulas_are_refused_and_name_the_field(make, error, field):
    with pytest.raises(error) as caught:
        make()
    assert caught.value.field == field


@pytest.mark.parametrize(
    "components",
    [
        pytest.param((), id="no components"),
        pytest.param((dough((WATER, "100"), (YEAST, "1")),), id="no flour"),
        pytest.param(
            (
                dough((WATER, "100")),
                FormulaComponent(ComponentKind.TOPPING, "Dusting", lines((BREAD_FLOUR, "5")), 1),
            ),
            id="flour on top alone",
        ),
    ],
)
def test_a_formula_without_flour_in_its_dough_is_refused_by_title(components):
    with pytest.raises(NoFlour) as caught:
        Formula("Meringue", components, Decimal(50))
    assert caught.value.title == "Meringue"


def test_a_component_without_lines_is_refused_by_name():
    with pytest.raises(EmptyComponent) as caught:
        FormulaComponent(ComponentKind.SOAKER, "Soaker", ())
    assert caught.value.component == "Soaker"
