"""Where what somebody must not eat comes in: ingredients, traces, toppings, washes and dusting."""

from __future__ import annotations

from decimal import Decimal

import pytest

from classes.core.diets.findings import DUSTING, BakedRecipe, Eater, findings
from classes.core.diets.words import keys_in, name_in
from recipes.core.choices import ComponentKind
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, Line

FLOUR = FormulaIngredient(
    "bread-flour",
    "Bread flour",
    is_flour=True,
    allergens_us=("wheat",),
    allergens_eu=("gluten-cereals",),
)
WATER = FormulaIngredient("water", "Water", is_added_liquid=True)
SESAME = FormulaIngredient(
    "sesame-seeds", "Sesame seeds", allergens_us=("sesame",), allergens_eu=("sesame",)
)
SUNFLOWER = FormulaIngredient(
    "sunflower-seeds", "Sunflower seeds, hulled", may_contain="may contain sesame and nuts"
)
YOLK = FormulaIngredient("egg-yolk", "Egg yolk", allergens_us=("egg",), allergens_eu=("eggs",))
OATS = FormulaIngredient("rolled-oats", "Rolled oats", allergens_eu=("gluten-cereals",))
MILK = FormulaIngredient("whole-milk", "Whole milk", allergens_us=("milk",))

STEPS = (
    ("mix", "Mix all of the dough and knead until smooth."),
    ("divide", "Close the ring and roll its top in the seeds."),
    ("bake", "Brush with the wash and bake until golden."),
)


def part(kind, name, *ingredients):
    for_pieces = None if ComponentKind(kind).goes_into_dough else 1
    lines = tuple(Line(one, Decimal(100)) for one in ingredients)
    return FormulaComponent(ComponentKind(kind), name, lines, for_pieces=for_pieces)


DOUGH = part("dough", "Dough", FLOUR, WATER)


def baked(*parts, title="Ring", eaters=("nia",), **fields):
    formula = Formula(title, (DOUGH, *parts), Decimal(300))
    return BakedRecipe(title, formula, fields.pop("steps", STEPS), frozenset(eaters), **fields)


def eater(*allergens, words="", **fields):
    return Eater("nia", "Nia", "Bench 1", allergens, words, **fields)


def places(who, *recipes):
    (found,) = findings([who], recipes)
    return found.places


@pytest.mark.parametrize(
    ("words", "keys"),
    [
        ("egg", ("eggs",)),
        ("No EGGS please", ("eggs",)),
        ("nuts", ("nuts",)),
        ("walnuts and other tree nuts", ("nuts",)),
        ("a peanut", ("peanuts",)),
        ("Sesame, not even traces", ("sesame",)),
        ("tahini", ("sesame",)),
        ("celiac", ("gluten-cereals",)),
        ("wheat", ("wheat",)),
        ("soya", ("soybeans",)),
        ("brazil nuts", ("nuts",)),
        ("shellfish", ("crustaceans", "molluscs")),
        ("sulphites", ("sulphites",)),
        ("milk; mustard", ("milk", "mustard")),
        ("coconut, eggplant, buckwheat, butternut", ()),
        ("pork", ()),
        ("", ()),
    ],
)
def test_words_name_allergens_in_singular_and_plural(words, keys):
    assert keys_in(words) == keys


@pytest.mark.parametrize(
    ("ingredient", "words", "word"),
    [
        (SUNFLOWER, "sunflower seed", "sunflower seeds"),
        (SUNFLOWER, "no sunflowers", "sunflower"),
        (SUNFLOWER, "sesame seeds", ""),
        (SUNFLOWER, "no seeds", "seeds"),
        (SUNFLOWER, "onion, seeds", "seeds"),
        (OATS, "oat", "oats"),
        (FLOUR, "good bread is fine", ""),
        (FLOUR, "rice flour", ""),
        (FormulaIngredient("water", ""), "anything", ""),
    ],
)
def test_words_name_an_ingredient_by_what_tells_it_from_others(ingredient, words, word):
    assert name_in(ingredient, words) == word


@pytest.mark.parametrize("key", ["egg", "eggs"])
@pytest.mark.parametrize(
    "yolk",
    [
        YOLK,
        FormulaIngredient("yolk", "Yolk", allergens_us=("egg",)),
        FormulaIngredient("y", "Y", allergens_eu=("eggs",)),
    ],
    ids=["both lists", "US alone", "EU alone"],
)
def test_both_lists_mean_the_same_egg(key, yolk):
    (place,) = places(eater(key), baked(part("wash", "Egg wash", yolk)))
    assert (place.component, place.because) == ("Egg wash", "eggs")


def test_wheat_is_a_cereal_containing_gluten():
    only_us = FormulaIngredient("spelt", "Spelt flour", is_flour=True, allergens_us=("wheat",))
    found = places(eater("gluten-cereals"), baked(part("soaker", "Soaker", only_us)))
    assert [place.ingredient for place in found] == ["Bread flour", "Spelt flour"]


def test_other_gluten_cereals_are_not_wheat():
    found = places(eater("wheat"), baked(part("soaker", "Soaker", OATS)))
    assert [place.ingredient for place in found] == ["Bread flour"]


@pytest.mark.parametrize("kind", ["topping", "filling"])
def test_a_topping_and_a_filling_are_named_with_their_step(kind):
    found = places(eater("sesame"), baked(part(kind, "S1", SESAME)))
    (step,) = found[0].steps
    assert (found[0].component, step.number, step.kind) == ("S1", 2, "divide")


def test_a_wash_is_named_with_its_step():
    (place,) = places(eater("eggs"), baked(part("wash", "Egg wash", YOLK)))
    assert [step.number for step in place.steps] == [3]


def test_a_step_that_names_nothing_is_found_by_the_kind_of_part():
    steps = (("mix", "Stir until smooth."), ("bake", "Bake until golden."))
    (place,) = places(eater("milk"), baked(part("dough", "Final", MILK), steps=steps))
    assert [step.text for step in place.steps] == ["Stir until smooth."]


def test_a_lot_that_may_contain_it_is_named_with_its_own_words():
    (place,) = places(eater("sesame"), baked(part("topping", "Seeds", SUNFLOWER)))
    assert place.traces == "may contain sesame and nuts"
    assert place.because == "sesame"


def test_traces_of_wheat_concern_somebody_who_eats_no_gluten():
    lot = FormulaIngredient("corn-meal", "Corn meal", may_contain="wheat")
    found = places(eater("gluten-cereals"), baked(part("topping", "Meal", lot)))
    assert ("Corn meal", "wheat") in [(one.ingredient, one.traces) for one in found]


def test_what_is_held_is_no_trace_as_well():
    lot = FormulaIngredient("s", "Sesame", allergens_eu=("sesame",), may_contain="sesame, nuts")
    found = places(eater("sesame", "nuts"), baked(part("topping", "Seeds", lot)))
    assert [(one.because, one.traces) for one in found] == [
        ("sesame", ""),
        ("nuts", "sesame, nuts"),
    ]


def test_dusting_flour_is_found_where_bread_is_shaped():
    (dough, dusting) = places(eater("wheat"), baked(dusting_flour=FLOUR))
    assert (dough.component, dusting.component) == ("Dough", DUSTING)
    assert [step.number for step in dusting.steps] == [2]


def test_an_ingredient_that_words_name_is_found_without_an_allergen():
    (place,) = places(eater(words="sunflower"), baked(part("topping", "Seeds", SUNFLOWER)))
    assert (place.because, place.traces) == ("sunflower", "")


def test_the_bread_of_others_comes_last_and_is_told_apart():
    plain = baked(part("topping", "Seeds", SESAME), title="As written", eaters=("otto",))
    own = baked(part("topping", "Seeds", SUNFLOWER), title="Variant")
    found = places(eater("sesame"), plain, own)
    assert [(place.recipe, place.own) for place in found] == [
        ("Variant", True),
        ("As written", False),
    ]


def test_somebody_who_told_nothing_is_not_listed():
    assert findings([eater()], [baked()]) == ()


def test_somebody_who_says_it_in_private_is_listed_without_places():
    (found,) = findings([eater(private=True)], [baked()])
    assert (found.keys, found.places) == ((), ())


def test_a_marked_allergen_and_the_same_word_are_one():
    (found,) = findings([eater("sesame", words="no sesame")], [])
    assert found.labels == ("sesame",)


@pytest.mark.parametrize("words", ["sesame", "tree nuts", "pork"])
def test_no_wording_promises_anything(words):
    (found,) = findings([eater(words=words)], [baked(part("topping", "Seeds", SUNFLOWER))])
    assert not any(word in repr(found).lower() for word in ("safe", "free from", "suitable"))
