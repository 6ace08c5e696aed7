"""Recipe JSON-LD in, in all its shapes; and out and in again without loss."""

import json
from contextlib import suppress
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipes.exporting.jsonld import jsonld, jsonld_text
from recipes.importing import errors
from recipes.importing.intake import SourceKind, read_pasted
from recipes.importing.jsontext import MOST_CHARACTERS
from recipes.importing.method.durations import duration, minutes_of
from recipes.importing.schema.reading import read_jsonld
from tests.recipes.importing.made import LINE_SIGNS, RECIPES, texts
from tests.recipes.importing.test_document import LOAF

THOROUGH = settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))

PAGE_RECIPE = {
    "@context": "https://schema.org/",
    "@type": "Recipe",
    "name": "Plain &amp; simple loaf",
    "description": "<p>A loaf for <b>every</b> day.</p>",
    "prepTime": "PT20M",
    "cookTime": "PT35M",
    "totalTime": "P0DT3H",
    "recipeYield": ["2", "2 loaves"],
    "suitableForDiet": "https://schema.org/VeganDiet",
    "recipeIngredient": [
        "3 1/2 cups (420 g) bread flour",
        "1&frac12; tsp salt",
        "280 ml water",
        "For the topping:",
        "1 tbsp sesame seeds",
    ],
    "recipeInstructions": [
        {"@type": "HowToStep", "text": "Mix for 10 minutes and let rise 1 hour."},
        {"@type": "HowToStep", "name": "Bake", "text": "Bake at 230&deg;C for 35 minutes."},
    ],
    "tool": ["bowl", {"@type": "HowToTool", "name": "scale"}],
}


def read(data, book):
    return read_jsonld(json.dumps(data), book)


def with_field(**fields):
    return {**PAGE_RECIPE, **fields}


@THOROUGH
@given(recipe=RECIPES)
def test_a_recipe_comes_back_from_its_jsonld_as_it_was(recipe, book):
    assert read_jsonld(jsonld_text(recipe), book).written == recipe


@settings(THOROUGH, max_examples=60)
@given(recipe=RECIPES, around=texts(40, signs=LINE_SIGNS))
def test_a_recipe_comes_back_from_a_page_around_it(recipe, around, book):
    page = f"<html>{around.replace('<', '')}<script type='application/ld+json'>"
    assert read_jsonld(f"{page}{jsonld_text(recipe)}</script></html>", book).written == recipe


def test_what_is_written_is_the_vocabulary_of_schema_org():
    page = jsonld(LOAF)
    assert (page["@context"], page["@type"]) == ("https://schema.org", "Recipe")
    assert page["recipeIngredient"][0] == "304.27 g Bread flour"
    assert page["recipeIngredient"][1] == "12.5 g Spent grain, dried"
    assert (page["prepTime"], page["cookTime"], page["totalTime"]) == ("PT0M", "PT32M", "PT32M")
    quantity = page["supply"][0]["requiredQuantity"]
    assert (quantity["value"], quantity["unitCode"]) == ("304.27", "GRM")
    percents = [
        one for one in quantity["additionalProperty"] if one["name"] == "Baker's percentage"
    ]
    assert [(one["value"], one["unitCode"]) for one in percents] == [("100", "P1")]
    assert page["recipeInstructions"][0]["itemListElement"]["performTime"] == "PT30M"


def test_other_programs_read_the_same_amounts_from_the_plain_lines(book):
    page = jsonld(LOAF)
    for name in ("yield", "supply"):
        del page[name]
    lines = read(page, book).lines
    assert [line.written.mass_g for line in lines] == [
        Decimal("304.27"),
        Decimal("12.5"),
        Decimal(50),
    ]
    assert [line.match.key for line in lines] == ["bread-flour", "", "egg"]


def test_no_text_of_ours_ends_a_script_element():
    hostile = "</script><script>alert(1)</script>"
    text = jsonld_text(replace(LOAF, title=hostile))
    assert "<" not in text
    assert json.loads(text)["name"] == hostile


def test_a_changed_export_is_read_like_any_other_page(book):
    page = jsonld(LOAF)
    page["supply"][0]["requiredQuantity"]["value"] = 304.27
    found = read(page, book)
    assert found.lines[0].text == "304.27 g Bread flour"


def test_a_page_is_read_field_by_field(book):
    read_page = read(PAGE_RECIPE, book)
    found = read_page.written
    assert found.title == "Plain & simple loaf"
    assert found.summary == "A loaf for every day."
    assert (found.pieces, found.piece_name) == (2, "loaf")
    assert [(part.kind, part.name) for part in found.parts] == [
        ("dough", "Dough"),
        ("topping", "Topping"),
    ]
    assert [line.match.key for line in read_page.lines] == [
        "bread-flour", "table-salt", "water", "sesame-seeds",
    ]  # fmt: skip
    assert read_page.lines[0].written.mass_g == 420
    assert [(one.kind, one.hands_on_min, one.waiting_min) for one in found.steps] == [
        ("mix", 10, 0),
        ("bulk", 0, 60),
        ("bake", 0, 35),
    ]
    assert found.steps[2].temperature_c == 230
    assert found.equipment == "bowl\nscale"


def test_a_diet_is_not_taken_for_an_allergen_list(book):
    (doubt,) = [one for one in read(PAGE_RECIPE, book).doubts if one.kind == "DietIgnored"]
    assert doubt.diets == ("VeganDiet",)


@pytest.mark.parametrize(
    "wrapped",
    [
        [PAGE_RECIPE],
        {"@graph": [{"@type": "WebPage"}, PAGE_RECIPE]},
        [{"@type": "Thing"}, {"@graph": [PAGE_RECIPE]}],
        {"@type": "WebPage", "mainEntity": PAGE_RECIPE},
        {**PAGE_RECIPE, "@type": ["NewsArticle", "Recipe"]},
        {**PAGE_RECIPE, "@type": "http://schema.org/Recipe"},
        {**PAGE_RECIPE, "@type": "schema:Recipe"},
    ],
)
def test_a_recipe_is_found_however_it_is_wrapped(wrapped, book):
    assert read(wrapped, book).written.title == "Plain & simple loaf"


def test_of_several_recipes_the_first_is_read_and_told(book):
    found = read([PAGE_RECIPE, with_field(name="Another")], book)
    assert found.written.title == "Plain & simple loaf"
    assert "SeveralRecipes" in {doubt.kind for doubt in found.doubts}


@pytest.mark.parametrize(
    "instructions",
    [
        "Mix it well.\nBake it through.",
        "<ol><li>Mix it well.</li><li>Bake it through.</li></ol>",
        "Mix it well. Bake it through.",
        ["Mix it well.", "Bake it through."],
        ["Mix it well. Bake it through."],
        [{"@type": "HowToStep", "text": "Mix it well."},
         {"@type": "HowToStep", "name": "Bake it through."}],
        {"@type": "ItemList", "itemListElement": ["Mix it well.", "Bake it through."]},
        [{"@type": "HowToSection", "name": "Dough", "itemListElement": [
            {"@type": "HowToStep", "text": "Mix it well."},
            {"@type": "HowToStep",
             "itemListElement": [{"@type": "HowToDirection", "text": "Bake it through."}]}]}],
    ],
)  # fmt: skip
def test_instructions_are_read_in_every_shape(instructions, book):
    steps = read(with_field(recipeInstructions=instructions), book).written.steps
    assert [(one.kind, one.text) for one in steps] == [
        ("mix", "Mix it well."),
        ("bake", "Bake it through."),
    ]


def test_the_name_of_a_section_is_no_step(book):
    section = {"@type": "HowToSection", "name": "Poolish", "itemListElement": ["Stir.", "Wait."]}
    steps = read(with_field(recipeInstructions=[section]), book).written.steps
    assert [step.text for step in steps] == ["Stir.", "Wait."]


@pytest.mark.parametrize(
    ("value", "pieces", "name"),
    [
        ("12 rolls", 12, "roll"),
        (12, 12, ""),
        (["12", "12 rolls"], 12, "roll"),
        ({"@type": "QuantitativeValue", "value": 12, "unitText": "rolls"}, 12, "roll"),
        ("8 servings", None, ""),
        (12.5, None, ""),
        (None, None, ""),
        ([], None, ""),
        (True, None, ""),
    ],
)
def test_a_yield_is_read_in_every_shape(value, pieces, name, book):
    found = read(with_field(recipeYield=value), book).written
    assert (found.pieces, found.piece_name) == (pieces, name)


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("PT20M", 20),
        ("PT1H20M", 80),
        ("P1DT2H", 1560),
        ("P1W", 10080),
        ("PT1.5H", 90),
        ("PT0,5H", 30),
        ("PT90S", 2),
        ("pt15m", 15),
        ("PT0M", 0),
        ("P", None),
        ("PT", None),
        ("20 minutes", None),
        ("P1Y", None),
        ("PT-5M", None),
        ("PT1.2.3H", None),
        ("PT" + "9" * 30 + "M", None),
        ("", None),
    ],
)
def test_durations_are_read_in_minutes(text, minutes):
    assert minutes_of(text) == minutes


@given(st.integers(0, 100_000))
def test_a_duration_comes_back_as_it_was(minutes):
    assert minutes_of(duration(minutes)) == minutes


@pytest.mark.parametrize(
    ("text", "error"),
    [
        ("{}", errors.NoRecipeFound),
        ("[]", errors.NoRecipeFound),
        ('{"@type": "Person"}', errors.NoRecipeFound),
        ("{", errors.NotJson),
        ("[" * 100_000, errors.NotJson),
        ("just words", errors.NoRecipeFound),
        ("<script type='application/ld+json'>{ broken</script>", errors.NoRecipeFound),
        ("<script>var recipe = {}</script>", errors.NoRecipeFound),
        ("x" * (MOST_CHARACTERS + 1), errors.TooMuchText),
    ],
)
def test_what_holds_no_recipe_is_refused(text, error, book):
    with pytest.raises(error):
        read_jsonld(text, book)


@pytest.mark.parametrize(
    "tag",
    [
        '<script type="application/ld+json">',
        "<SCRIPT class=x TYPE='application/ld+json; charset=utf-8' data-y>",
        "<script\n type=application/ld+json\n>",
    ],
)
def test_the_script_element_is_found_in_a_page(tag, book):
    page = f"<p>&lt;script&gt;</p><script>1 > 0</script>{tag}\n{json.dumps(PAGE_RECIPE)}</script>x"
    source, found = read_pasted(page, book)
    assert (source, found.written.title) == (SourceKind.JSONLD, "Plain & simple loaf")


@pytest.mark.parametrize(
    "wrap", ["<!-- {} -->", "//<![CDATA[\n{}\n//]]>", "/*<![CDATA[*/{}/*]]>*/", "\n{}\n"]
)
def test_marks_around_the_json_are_passed_over(wrap, book):
    text = wrap.replace("{}", json.dumps(PAGE_RECIPE))
    page = f'<script type="application/ld+json">{text}</script>'
    assert read_jsonld(page, book).written.title == "Plain & simple loaf"


def test_a_broken_script_does_not_hide_the_next(book):
    tag = '<script type="application/ld+json">'
    page = f"{tag}{{ broken</script>{tag}{json.dumps(PAGE_RECIPE)}</script>"
    assert read_jsonld(page, book).written.title == "Plain & simple loaf"


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=30),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(
            st.sampled_from(["@type", "text", "name", "value", "itemListElement", "@graph"]),
            inner | st.just("HowToStep") | st.just("HowToSection"),
            max_size=4,
        )
    ),
    max_leaves=10,
)


@THOROUGH
@given(fields=st.dictionaries(st.sampled_from(sorted({*PAGE_RECIPE, *jsonld(LOAF)})), ANYTHING))
def test_a_recipe_of_random_values_is_read_or_refused_by_name(fields, book):
    with suppress(errors.ImportingError):
        read_pasted(json.dumps({**jsonld(LOAF), **fields, "@type": "Recipe"}), book)
