"""Where each allergen comes in: ingredient, component, step; two lists, kept apart."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given

from recipes.core.allergen_trace import trace
from recipes.core.allergens import allergens
from recipes.core.choices import ComponentKind
from recipes.core.formula import Formula, FormulaComponent
from tests.recipes.core.breads import BREAD_FLOUR, EGG, RYE, SESAME, SUNFLOWER, WATER, dough, lines
from tests.recipes.core.strategies import formulas

WHEAT = replace(BREAD_FLOUR, allergens_us=("wheat",), allergens_eu=("gluten-cereals",))
RYE_FLOUR = replace(RYE, name="Rye flour, medium", allergens_eu=("gluten-cereals",))
SESAME_SEEDS = replace(SESAME, allergens_us=("sesame",), allergens_eu=("sesame",))
SEEDS = replace(SUNFLOWER, may_contain="may contain sesame")
RING = Formula(
    "Seeded ring",
    (
        dough((WHEAT, "900"), (RYE_FLOUR, "100"), (WATER, "660")),
        FormulaComponent(
            ComponentKind.TOPPING, "Topping S1", lines((SESAME_SEEDS, "18"), (SEEDS, "12")), 1
        ),
    ),
    Decimal(400),
)
STEPS = (
    ("mix", "Mix flours and water."),
    ("prepare", "Toast the sesame seeds, then mix topping S1."),
    ("bake", "Press on TOPPING S1 and bake."),
    ("cool", "Cool. Topping S12 is another one."),
)


def entries(regime):
    return [
        (entry.allergen.key, entry.ingredient, entry.component, [at.number for at in entry.steps])
        for entry in trace(RING, STEPS).of(regime)
    ]


def test_the_us_list_names_ingredient_component_and_steps():
    assert entries("us") == [
        ("wheat", "Bread flour", "Dough", []),
        ("sesame", "Sesame seeds", "Topping S1", [2, 3]),
    ]


def test_the_eu_list_is_kept_apart_and_knows_rye():
    assert entries("eu") == [
        ("gluten-cereals", "Bread flour", "Dough", []),
        ("gluten-cereals", "Rye flour, medium", "Dough", []),
        ("sesame", "Sesame seeds", "Topping S1", [2, 3]),
    ]


def test_words_about_traces_come_with_their_place():
    (found,) = trace(RING, STEPS).may_contain
    assert (found.words, found.ingredient, found.component) == (
        "may contain sesame",
        "Sunflower seeds",
        "Topping S1",
    )
    assert [at.number for at in found.steps] == [2, 3]


def test_a_step_is_given_with_its_kind_and_words():
    step = trace(RING, STEPS).of("us")[1].steps[0]
    assert (step.kind, step.text) == STEPS[1]


@pytest.mark.parametrize(
    ("text", "named"),
    [
        pytest.param("Crack the eggs.", True, id="plural"),
        pytest.param("Brush with EGG wash.", True, id="capitals"),
        pytest.param("Slice the eggplant.", False, id="part of a longer word"),
        pytest.param("Knead the dough.", True, id="the component"),
        pytest.param("Bake.", False, id="neither"),
    ],
)
def test_steps_name_an_ingredient_or_its_component_in_whole_words(text, named):
    egg = replace(EGG, name="Egg, whole", allergens_us=("egg",))
    bread = Formula("Egg bread", (dough((WHEAT, "100"), (egg, "10")),), Decimal(100))
    entry = trace(bread, [("mix", text)]).of("us")[0]
    assert entry.allergen.key == "egg"
    assert bool(entry.steps) is named


def test_signs_in_a_name_are_no_pattern():
    odd = replace(SESAME_SEEDS, name="Sesame (hulled)*")
    bread = Formula("Bread", (dough((WHEAT, "100"), (odd, "10")),), Decimal(100))
    entry = trace(bread, [("mix", "Add sesame (hulled)*."), ("mix", "Add sesame.")]).of("us")[1]
    assert [at.number for at in entry.steps] == [1]


def test_an_ingredient_in_two_components_is_traced_to_both():
    bread = Formula(
        "Poolish bread",
        (
            FormulaComponent(
                ComponentKind.PREFERMENT, "Poolish", lines((WHEAT, "30"), (WATER, "30"))
            ),
            dough((WHEAT, "70"), (WHEAT, "5"), (WATER, "35")),
        ),
        Decimal(170),
    )
    assert [entry.component for entry in trace(bread).of("us")] == ["Poolish", "Dough"]


@given(formulas())
def test_the_trace_and_the_summary_name_the_same_allergens(formula):
    labeled = {"bread-flour": WHEAT, "sesame-seeds": SESAME_SEEDS, "rye-flour": RYE_FLOUR}
    parts = tuple(
        replace(
            part,
            lines=tuple(
                replace(line, ingredient=labeled.get(line.ingredient.key, line.ingredient))
                for line in part.lines
            ),
        )
        for part in formula.components
    )
    formula = replace(formula, components=parts)
    summary, traced = allergens(formula), trace(formula)
    assert tuple(dict.fromkeys(entry.allergen for entry in traced.of("us"))) == summary.us
    assert tuple(dict.fromkeys(entry.allergen for entry in traced.of("eu"))) == summary.eu
