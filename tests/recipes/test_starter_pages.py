"""A recipe with a starter on its pages: as the same bread written out, or what cannot be said."""

import re

import pytest

from recipes.core.composition import TAP_WATER
from recipes.ingredients.table import load_ingredients
from recipes.models import Ingredient
from recipes.selectors import compositions_of, formula_value, revision_of
from tests.factories import RevisionFactory
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
FINAL = {"rye-flour": 900, "water": 680, "table-salt": 20}


def rows(lines):
    found = Ingredient.objects.in_bulk(lines, field_name="key")
    return {found[key]: grams for key, grams in lines.items()}


def bake(instructor, slug, levain):
    load_ingredients()
    return RevisionFactory(
        recipe__owner=instructor,
        recipe__slug=slug,
        title="Rye loaf",
        pieces=2,
        piece_g=900,
        parts=[
            {"kind": "preferment", "name": "Levain", "lines": rows(levain)},
            {"name": "Final dough", "lines": rows(FINAL)},
        ],
    )


@pytest.fixture
def in_all(instructor):
    return bake(instructor, "in-all", {"rye-starter": 200})


@pytest.fixture
def written_out(instructor):
    return bake(instructor, "written-out", {"rye-flour": 100, "water": 100})


@pytest.fixture
def unsaid(instructor):
    return bake(instructor, "unsaid", {"sourdough-starter": 200})


def part_of(page, begins, ends):
    return page.partition(begins)[2].partition(ends)[0]


@pytest.mark.parametrize(
    ("begins", "ends"),
    [
        ("2 × loaf", "Ingredient"),
        ("Sum of the lines", "Worth a second look"),
        ("Nutrition", "Allergens"),
        ("All flour is 100 %", "Yield"),
    ],
)
def test_the_page_says_what_it_says_of_the_bread_written_out(
    instructor_client, in_all, written_out, begins, ends
):
    found, expected = (
        part_of(text_of(instructor_client.get(f"/recipes/{slug}/")), begins, ends)
        for slug in ("in-all", "written-out")
    )
    assert found == expected != ""


def test_the_overall_formula_has_flour_and_water_in_place_of_the_starter(instructor_client, in_all):
    page = text_of(instructor_client.get("/recipes/in-all/"))
    made_of = r"100 % water; Rye flour, medium"
    assert re.search(rf"Levain .* 200 Sourdough starter, rye {made_of} 20\.0", page)
    overall = part_of(page, "Overall:", "Sum of the lines")
    assert re.search(r"1000 Rye flour, medium 100\.0", overall)
    assert re.search(r"780 Water 78\.0", overall)
    assert "starter" not in overall
    assert "Share of the flour that is prefermented 10 %" in page


def test_without_its_water_the_page_says_what_it_cannot_say(instructor_client, unsaid):
    page = text_of(instructor_client.get("/recipes/unsaid/"))
    assert "All flour is 100 %; the dough is cannot say" in page
    assert "Hydration by added liquid cannot say" in page
    assert "How much water Sourdough starter has to its flour is not known" in page
    assert "1800.0 g of dough from flour of which we cannot say how much" in page
    assert re.search(r"900 Rye flour, medium \?", page)
    by_flour = text_of(instructor_client.get("/recipes/unsaid/?by=flour&flour_g=1000&piece_g=900"))
    assert "Cannot say: how much water Sourdough starter has" in by_flour


def test_the_page_that_adjusts_says_so_too(instructor_client, unsaid):
    page = text_of(instructor_client.get("/recipes/unsaid/adjust/"))
    assert "How much water Sourdough starter has to its flour is not known" in page
    assert "All flour cannot say cannot say" in page


def test_its_flours_take_one_query_and_no_other_recipe_one_more(
    instructor_client, in_all, written_out, django_assert_num_queries
):
    with django_assert_num_queries(11):
        instructor_client.get("/recipes/in-all/")
    with django_assert_num_queries(10):
        instructor_client.get("/recipes/written-out/")


def test_a_search_by_allergen_finds_what_its_flours_contain(instructor_client, instructor):
    bake(instructor, "white", {"white-starter": 200})
    for key, names in (("us:wheat", ["Rye loaf"]), ("us:milk", [])):
        answer = instructor_client.get("/recipes/", {"holds": key})
        assert [entry.revision.title for entry in answer.context["book"].entries] == names


def test_it_consists_of_its_flour_and_its_water(instructor, in_all):
    foods = compositions_of(revision_of(instructor, "in-all"))
    assert foods["water"] == TAP_WATER
    mean = (foods["rye-flour"].protein_g + foods["water"].protein_g) / 2
    assert foods["rye-starter"].protein_g == mean
    flour_g = formula_value(revision_of(instructor, "in-all")).flour_g
    assert flour_g == 1000
