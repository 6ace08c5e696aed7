"""A variant: an ingredient makes way for others, and every list follows."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.core.choices import ComponentKind
from recipes.core.errors import NoFlour, NotInFormula, OutOfRange
from recipes.core.exchange.swap import MixPart, replace_ingredient
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, merge_masses
from recipes.core.scaling import Baker, Demand, scale
from tests.recipes.core.breads import (
    BREAD_FLOUR,
    BUTTER,
    DEMO_FORMULAS,
    MILK,
    OIL,
    PILLOW_ROLLS,
    SEEDED_RING,
    SESAME,
    SUNFLOWER,
    WATER,
    dough,
    lines,
)
from tests.recipes.core.strategies import decimals

OATS = FormulaIngredient("rolled-oats", "Rolled oats", allergens_eu=("gluten-cereals",))
SPELT = FormulaIngredient("spelt-flour", "Spelt flour", is_flour=True)


def parts(*pairs):
    return [MixPart(ingredient, Decimal(amount)) for ingredient, amount in pairs]


def topping(formula):
    return {line.ingredient.key: line.mass_g for line in formula.components[-1].lines}


def changes(swap):
    return [
        (change.component, change.ingredient.key, str(change.before_g), str(change.after_g))
        for change in swap.changes
    ]


@pytest.mark.parametrize(
    "made",
    [
        pytest.param(
            replace_ingredient(SEEDED_RING, "sesame-seeds", parts((SUNFLOWER, "20"), (OATS, "40"))),
            id="sesame shared out",
        ),
    ],
)
def test_twelve_rings_without_sesame_take_216_g_of_sunflower_and_144_g_of_oats(made):
    students = tuple(Baker(str(n), f"Baker {n}", "", 1, Decimal(400)) for n in range(12))
    needs = {
        need.ingredient.key: need.exact_g for need in scale(made.formula, Demand(students)).needs
    }
    assert (needs["sunflower-seeds"], needs["rolled-oats"]) == (216, 144)
    assert "sesame-seeds" not in needs


def test_what_changed_is_listed_with_its_component():
    made = replace_ingredient(
        SEEDED_RING, "sesame-seeds", parts((SUNFLOWER, "20"), (OATS, "40")), component="Topping"
    )
    assert changes(made) == [
        ("Topping", "sesame-seeds", "18", "0"),
        ("Topping", "sunflower-seeds", "12", "18"),
        ("Topping", "rolled-oats", "0", "12"),
    ]


def test_allergens_that_come_and_go_are_named():
    labeled = replace(SESAME, allergens_us=("sesame",), allergens_eu=("sesame",))
    ring = replace_ingredient(SEEDED_RING, "sesame-seeds", parts((labeled, "1"))).formula
    made = replace_ingredient(ring, "sesame-seeds", parts((OATS, "1")))
    assert [entry.key for entry in made.no_longer_entered.us] == ["sesame"]
    assert [entry.key for entry in made.no_longer_entered.eu] == ["sesame"]
    assert not made.brings.us
    assert [entry.key for entry in made.brings.eu] == ["gluten-cereals"]


def test_words_about_traces_come_along():
    traced = replace(OATS, may_contain="may contain wheat")
    made = replace_ingredient(SEEDED_RING, "sesame-seeds", parts((traced, "1")))
    assert made.brings.may_contain == (("Rolled oats", "may contain wheat"),)


def test_only_the_named_component_changes():
    made = replace_ingredient(PILLOW_ROLLS, "whole-milk", parts((WATER, "1")), component="Roux")
    assert {change.component for change in made.changes} == {"Roux"}
    assert made.formula.components[1:] == PILLOW_ROLLS.components[1:]


def test_without_a_name_every_component_changes():
    made = replace_ingredient(PILLOW_ROLLS, "whole-milk", parts((WATER, "1")))
    assert {change.component for change in made.changes} == {"Roux", "Dough", "Egg wash"}
    assert "whole-milk" not in {
        line.ingredient.key for part in made.formula.components for line in part.lines
    }


def test_what_comes_in_stands_where_the_other_stood():
    made = replace_ingredient(SEEDED_RING, "olive-oil", parts((BUTTER, "1")))
    keys = [line.ingredient.key for line in made.formula.components[0].lines]
    assert keys == ["bread-flour", "water", "butter", "table-salt", "instant-yeast"]


def test_an_ingredient_may_stay_in_part():
    made = replace_ingredient(SEEDED_RING, "olive-oil", parts((OIL, "1"), (BUTTER, "3")))
    assert changes(made) == [("Dough", "olive-oil", "40", "10"), ("Dough", "butter", "0", "30")]


def test_the_same_ingredient_named_twice_adds_up():
    made = replace_ingredient(SEEDED_RING, "sesame-seeds", parts((OATS, "1"), (OATS, "2")))
    assert topping(made.formula) == {"rolled-oats": 18, "sunflower-seeds": 12}


def test_an_ingredient_on_two_lines_is_replaced_on_both():
    twice = FormulaComponent(
        ComponentKind.DOUGH, "Dough", lines((BREAD_FLOUR, "100"), (OIL, "3"), (OIL, "4"))
    )
    formula = Formula("Oily", (twice,), Decimal(100))
    made = replace_ingredient(formula, "olive-oil", parts((BUTTER, "1")))
    assert [(line.ingredient.key, line.mass_g) for line in made.formula.components[0].lines] == [
        ("bread-flour", 100),
        ("butter", 7),
    ]


replaceable = st.sampled_from(DEMO_FORMULAS).flatmap(
    lambda formula: st.tuples(
        st.just(formula),
        st.sampled_from(
            sorted({line.ingredient.key for part in formula.components for line in part.lines})
        ),
    )
)


@given(replaceable, st.lists(decimals("0.1", "100", 1), min_size=1, max_size=3))
def test_every_component_keeps_its_mass(chosen, amounts):
    formula, key = chosen
    coming = [
        MixPart(one, amount) for one, amount in zip((SPELT, OATS, MILK), amounts, strict=False)
    ]
    made = replace_ingredient(formula, key, coming).formula
    for before, after in zip(formula.components, made.components, strict=True):
        assert abs(before.mass_g - after.mass_g) < Decimal("1e-20")


@given(replaceable)
def test_a_swap_there_and_back_restores_the_amounts(chosen):
    formula, key = chosen
    stranger = FormulaIngredient("stranger", "Stranger", is_flour=True)
    original = next(
        line.ingredient
        for part in formula.components
        for line in part.lines
        if line.ingredient.key == key
    )
    there = replace_ingredient(formula, key, parts((stranger, "1"))).formula
    back = replace_ingredient(there, "stranger", parts((original, "1"))).formula
    for before, after in zip(formula.components, back.components, strict=True):
        assert merge_masses(before.lines) == merge_masses(after.lines)


@pytest.mark.parametrize(
    ("make", "error"),
    [
        pytest.param(
            lambda: replace_ingredient(SEEDED_RING, "raisins", parts((OATS, "1"))),
            NotInFormula,
            id="not there",
        ),
        pytest.param(
            lambda: replace_ingredient(
                SEEDED_RING, "sesame-seeds", parts((OATS, "1")), component="Dough"
            ),
            NotInFormula,
            id="not in that component",
        ),
        pytest.param(
            lambda: replace_ingredient(
                SEEDED_RING, "sesame-seeds", parts((OATS, "1")), component="Glaze"
            ),
            NotInFormula,
            id="no component",
        ),
        pytest.param(
            lambda: replace_ingredient(SEEDED_RING, "sesame-seeds", []), OutOfRange, id="by nothing"
        ),
        pytest.param(
            lambda: replace_ingredient(SEEDED_RING, "sesame-seeds", parts((OATS, "0"))),
            OutOfRange,
            id="all zero",
        ),
        pytest.param(lambda: parts((OATS, "-1")), OutOfRange, id="minus parts"),
        pytest.param(
            lambda: replace_ingredient(SEEDED_RING, "bread-flour", parts((OATS, "1"))),
            NoFlour,
            id="the only flour",
        ),
    ],
)
def test_swaps_that_make_no_bread_are_refused(make, error):
    with pytest.raises(error):
        make()


def test_the_first_formula_is_left_as_it_was():
    before = topping(SEEDED_RING)
    replace_ingredient(SEEDED_RING, "sesame-seeds", parts((OATS, "1")))
    assert topping(SEEDED_RING) == before
    assert dough((BREAD_FLOUR, "1")).lines[0].mass_g == 1
