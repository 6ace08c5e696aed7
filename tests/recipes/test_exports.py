"""A recipe as a file: who gets it, what it is called, and that it comes back the same."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal

import pytest

from classes.demo import DEMO_RECIPES
from recipes.core.choices import ComponentKind, IngredientKind
from recipes.core.written import NamedFlour, NamedIngredient, WrittenLine, WrittenPart
from recipes.exporting.text import recipe_text
from recipes.importing.intake import read_pasted
from recipes.importing.shelf import table_ingredients
from recipes.importing.text.matching import IngredientBook
from recipes.importing.values import KnownIngredient
from recipes.importing.whole.own import LAST_LINE
from recipes.models import Recipe, Revision
from recipes.selectors import written_of
from tests.factories import RevisionFactory
from tests.recipes.test_bring import BRING, fields_of, file

pytestmark = pytest.mark.django_db
OURS, JSONLD = "/recipes/bread/recipe.json", "/recipes/bread/recipe.jsonld"
TEXT = "/recipes/bread/recipe.txt"


@pytest.fixture
def full(instructor, shelf) -> Revision:
    """A recipe that uses every field of a revision that a file keeps."""
    revision = RevisionFactory(
        recipe__owner=instructor,
        recipe__slug="bread",
        title="Crème loaf “no. 1” <b>",
        summary="Two words & more.",
        note="First line.\nSecond line.",
        equipment="Bowl\nScraper",
        piece_name="loaf",
        pieces=3,
        piece_g="412.5",
        bake_loss_percent="12.25",
        dough_temperature_c="24.5",
        core_temperature_c="96.0",
        parts=[
            {"kind": "roux", "name": "Warm roux", "cooking_loss_percent": "8.5",
             "lines": {shelf["flour"]: "30", shelf["milk"]: "154.5"}},
            {"kind": "dough", "name": "Dough",
             "lines": [(shelf["flour"], "500.1234"), (shelf["water"], "354.8824"),
                       (shelf["egg"], "50")]},
            {"kind": "wash", "name": "Egg wash", "for_pieces": 6, "lines": {shelf["egg"]: "50"}},
        ],
        steps=[
            {"kind": "mix", "text": "Mix.\nThen rest.", "hands_on_min": 20, "waiting_min": 80,
             "temperature_c": "25.0", "temperature_of": "dough", "worked": "machine"},
            {"kind": "bake", "text": "Bake <hot>.", "hands_on_min": 0, "waiting_min": 35,
             "temperature_c": "220.5", "temperature_of": "oven"},
        ],
    )  # fmt: skip
    milk, egg = revision.components.get(kind="roux").lines.last(), shelf["egg"]
    milk.entered, milk.note = "150 ml", "warm"
    milk.save()
    revision.components.get(kind="dough").lines.filter(ingredient=egg).update(entered="1 each")
    return revision


def again(client, answer, name) -> Revision:
    """The recipe that comes of bringing a downloaded file in and saving it as it is."""
    sheet = client.post(BRING, {"text": "", "file": file(answer.content, name)})
    saved = client.post(BRING, {**fields_of(sheet), "save": "1", "twin": "new"})
    assert saved.status_code == 302, sheet.context["form"]
    slug = saved.headers["Location"].split("/")[2]
    return Revision.objects.with_formula().get(recipe__slug=slug)


@pytest.mark.parametrize("address", [OURS, JSONLD, TEXT])
def test_a_file_comes_back_as_the_same_recipe(instructor_client, full, address):
    answer = instructor_client.get(address)
    revision = again(instructor_client, answer, address.rpartition("/")[2])
    assert revision.pk != full.pk
    original = Revision.objects.with_formula().get(pk=full.pk)
    assert written_of(revision) == written_of(original)


@pytest.mark.parametrize("address", [OURS, JSONLD])
def test_another_instructor_gets_it_with_the_ingredients_it_lacks(
    instructor_client, other_client, other_instructor, full, shelf, address
):
    shelf["rye"].delete()
    shelf["milk"].owner = full.recipe.owner
    shelf["milk"].save()
    answer = instructor_client.get(address)
    sheet = other_client.post(BRING, {"text": "", "file": file(answer.content, "r.json")})
    line = sheet.context["form"].parts[0].lines[1]
    assert (line["ingredient"].value(), line["new_kind"].value()) == ("Milk", "liquid")
    assert (line["amount"].value(), line["unit"].value()) == ("154.5", "g")
    saved = other_client.post(BRING, {**fields_of(sheet), "save": "1"})
    assert saved.status_code == 302
    revision = Revision.objects.with_formula().get(recipe__owner=other_instructor)
    milk = revision.components.all()[0].lines.all()[1]
    assert (milk.ingredient.owner, milk.mass_g) == (other_instructor, Decimal("154.5"))


def test_grams_stay_when_the_words_would_now_weigh_something_else(instructor_client, full, shelf):
    answer = instructor_client.get(OURS)
    shelf["milk"].density_g_per_ml = Decimal("1.1")
    shelf["milk"].save()
    revision = again(instructor_client, answer, "recipe.json")
    milk = revision.components.all()[0].lines.all()[1]
    assert (milk.mass_g, milk.entered) == (Decimal("154.5"), "")


@pytest.mark.parametrize(("address", "name"), [(OURS, "bread.json"), (JSONLD, "bread.jsonld")])
def test_it_is_an_attachment_with_a_plain_name(instructor_client, bread, address, name):
    answer = instructor_client.get(address)
    assert answer.headers["Content-Type"] == "application/json"
    assert answer.headers["Content-Disposition"] == f'attachment; filename="{name}"'
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert json.loads(answer.content)


def test_masses_are_text_and_no_floats(instructor_client, full):
    data = json.loads(instructor_client.get(OURS).content)
    assert data["components"][1]["lines"][0]["mass_g"] == "500.1234"
    assert data["piece_g"] == "412.5"


def test_json_ld_cannot_end_a_script_element(instructor_client, full):
    assert b"<" not in instructor_client.get(JSONLD).content


@pytest.mark.parametrize("address", [OURS, JSONLD])
def test_it_is_the_owners_alone(other_client, assistant_client, stranger, bread, address):
    assert other_client.get(address).status_code == 404
    assert assistant_client.get(address).status_code == 404
    assert stranger.get(address).headers["Location"].startswith("/sign-in/")


@pytest.mark.parametrize("address", [OURS, JSONLD])
def test_it_is_only_read(instructor_client, bread, address):
    assert instructor_client.post(address).status_code == 405


def test_the_recipe_page_leads_to_both(instructor_client, bread):
    content = instructor_client.get("/recipes/bread/").content.decode()
    assert f'href="{OURS}"' in content
    assert f'href="{JSONLD}"' in content


@pytest.mark.parametrize("title", ["Bring", "New"])
def test_a_recipe_never_takes_the_address_of_a_page(instructor_client, shelf, title):
    sheet = instructor_client.post(BRING, {"text": f"{title}\nMakes 1 loaf\n\n500 g bread flour\n"})
    instructor_client.post(BRING, {**fields_of(sheet), "save": "1"})
    slug = Recipe.objects.get().slug
    assert slug.startswith(f"{title.lower()}-")
    assert instructor_client.get(f"/recipes/{slug}/").status_code == 200


@pytest.mark.parametrize("address", [OURS, JSONLD])
def test_the_number_of_queries_does_not_grow(instructor_client, full, bread_queries, address):
    bread_queries(lambda: instructor_client.get(address))


@pytest.fixture
def bread_queries(django_assert_max_num_queries):
    def check(get):
        with django_assert_max_num_queries(8):
            get()

    return check


def seeded(recipe):
    """A recipe of the demo, its ingredients named as in the shared table."""
    book = IngredientBook(table_ingredients())

    def named(line):
        known = book.get(line.ingredient.key)
        return replace(line, ingredient=NamedIngredient(known.key, known.name, known.kind))

    parts = tuple(replace(part, lines=tuple(map(named, part.lines))) for part in recipe.parts)
    return replace(recipe, parts=parts), book


@pytest.mark.parametrize("recipe", DEMO_RECIPES, ids=lambda recipe: recipe.title)
def test_each_seeded_recipe_comes_back_the_same_from_its_text(recipe):
    written, book = seeded(recipe)
    source, read = read_pasted(recipe_text(written), book)
    assert read.written == written
    assert source == "bakebench-recipe"
    assert not any(line.doubts for line in read.lines)


@pytest.mark.parametrize("recipe", DEMO_RECIPES, ids=lambda recipe: recipe.title)
def test_its_text_without_our_mark_is_read_as_any_other(recipe):
    written, book = seeded(recipe)
    text = recipe_text(written)
    source, read = read_pasted(text[: text.index(LAST_LINE)], book)
    assert source == "text"
    weighed = [
        [(line.ingredient.key, line.mass_g) for line in part.lines] for part in read.written.parts
    ]
    assert weighed == [
        [(line.ingredient.key, line.mass_g) for line in part.lines] for part in written.parts
    ]
    assert [part.kind for part in read.written.parts] == [part.kind for part in written.parts]
    assert (read.written.title, read.written.pieces, read.written.piece_g) == (
        written.title,
        written.pieces,
        written.piece_g,
    )


@pytest.mark.parametrize("old", ["Makes 1 pieces", "(dough", "(bake", " g Bread flour"])
def test_a_text_whose_form_was_changed_is_not_taken_for_ours(old):
    written, book = seeded(DEMO_RECIPES[0])
    text = recipe_text(written)
    assert old in text
    source, _ = read_pasted(text.replace(old, old.replace(" ", "  ").replace("(", "<")), book)
    assert source == "text"


RYE = NamedFlour("rye-flour", "Rye flour", Decimal(20))


@pytest.mark.parametrize("named", [
    NamedIngredient("white-starter", "White starter", IngredientKind.STARTER, Decimal("60.5"), (
        NamedFlour("bread-flour", "Bread flour", Decimal(80)), RYE)),
    NamedIngredient("", "Barm of ours", IngredientKind.STARTER, None, (
        NamedFlour("", "Village flour, stoneground", Decimal(100)),)),
    NamedIngredient("white-starter", "White starter", IngredientKind.STARTER),
])  # fmt: skip
def test_a_starter_comes_back_from_the_text_with_its_water_and_flours(named):
    written, _ = seeded(DEMO_RECIPES[0])
    kinds = (IngredientKind.STARTER, IngredientKind.FLOUR)
    book = IngredientBook(
        KnownIngredient(key, name, kinds[n > 0])
        for n, (key, name) in enumerate(
            [("white-starter", "White starter"), ("bread-flour", "Bread flour"),
             ("rye-flour", "Rye flour")]
        )
    )  # fmt: skip
    part = WrittenPart(
        ComponentKind.DOUGH, "Dough", lines=(WrittenLine(named, Decimal(90), "", "ripe"),)
    )
    written = replace(written, parts=(part, replace(part, name="Another")))
    source, read = read_pasted(recipe_text(written), book)
    assert (source, read.written) == ("bakebench-recipe", written)
