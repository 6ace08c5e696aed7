"""Between plain values and the recipe book: nothing is lost, nothing foreign is touched."""

from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings

from recipes.exporting import document_text, jsonld_text
from recipes.importing import errors
from recipes.importing.document import read_document
from recipes.importing.drafts import (
    checked,
    ingredient_book,
    record_of,
    record_of_draft,
    save_import,
    to_draft,
)
from recipes.importing.jsonld import read_jsonld
from recipes.importing.proposal import proposed
from recipes.importing.record import (
    IngredientName,
    LineRecord,
    PartRecord,
    RecipeRecord,
    StepRecord,
)
from recipes.importing.text import read_text
from recipes.ingredient_table import load_ingredients
from recipes.models import Ingredient, Recipe, Revision
from recipes.services import create_recipe
from tests.factories import IngredientFactory, RevisionFactory, flour, water
from tests.recipes.importing.made import RECIPES

SOME = settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))


def loaf(*names, **fields):
    lines = tuple(LineRecord(name, Decimal(100)) for name in names)
    parts = (PartRecord("dough", "Dough", lines),)
    return RecipeRecord(**{"title": "Loaf", "piece_g": Decimal(500), "parts": parts, **fields})


def fetched(revision):
    return Revision.objects.with_formula().get(pk=revision.pk)


def ingredients(draft):
    return [line.ingredient for part in draft.components for line in part.lines]


def test_an_ingredient_is_found_by_its_key(instructor):
    mill = flour()
    draft = to_draft(loaf(IngredientName("bread-flour", "another name")), instructor)
    assert ingredients(draft) == [mill]


def test_an_ingredient_is_found_by_its_name(instructor):
    mill = flour()
    draft = to_draft(loaf(IngredientName("no-such-key", " bread  FLOUR ")), instructor)
    assert ingredients(draft) == [mill]


def test_of_two_with_one_name_the_owners_is_taken(instructor):
    flour()
    own = IngredientFactory(owner=instructor, name="Bread flour")
    draft = to_draft(loaf(IngredientName("", "Bread flour")), instructor)
    assert ingredients(draft) == [own]


def test_an_ingredient_of_somebody_else_is_never_used(instructor, other_instructor):
    secret = IngredientFactory(owner=other_instructor, name="Secret spice")
    draft = to_draft(loaf(IngredientName(secret.key, "Secret spice", "spice")), instructor)
    (found,) = ingredients(draft)
    assert found.pk is None
    assert found.owner == instructor
    assert secret.key not in {entry.key for entry in map(ingredient_book(instructor).get, [
        "bread-flour", secret.key]) if entry}  # fmt: skip


def test_a_new_ingredient_is_one_however_often_it_is_named(instructor):
    record = loaf(IngredientName("", "Acorn meal", "flour"), IngredientName("", "acorn meal"))
    first, second = ingredients(to_draft(record, instructor))
    assert first is second
    assert (first.name, first.kind) == ("Acorn meal", "flour")


def test_a_draft_writes_nothing(instructor):
    to_draft(loaf(IngredientName("", "Acorn meal", "flour")), instructor)
    assert Ingredient.objects.count() == 0


def test_saving_adds_the_recipe_and_its_new_ingredients(instructor):
    flour()
    record = loaf(IngredientName("bread-flour", "Bread flour"), IngredientName("", "Acorn meal"))
    revision = save_import(owner=instructor, record=record)
    assert revision.recipe.owner == instructor
    added = Ingredient.objects.get(name="Acorn meal")
    assert (added.owner, added.kind) == (instructor, "other")
    assert [line.ingredient.name for line in revision.components.get().lines.all()] == [
        "Bread flour",
        "Acorn meal",
    ]


def test_a_fault_writes_nothing(instructor):
    record = loaf(IngredientName("", "Acorn meal"), title="x" * 101)
    with pytest.raises(errors.TextTooLong) as refused:
        save_import(owner=instructor, record=record)
    assert refused.value.path == "title"
    assert (Recipe.objects.count(), Ingredient.objects.count()) == (0, 0)


@pytest.mark.parametrize(
    ("fields", "path"),
    [
        ({"piece_g": Decimal("0.5")}, "piece_g"),
        ({"parts": ()}, "components[0]"),
        ({"steps": (StepRecord("bake", ""),)}, "steps[0].text"),
        ({"steps": (StepRecord("juggle", "Up."),)}, "steps[0].kind"),
    ],
)
def test_a_record_beyond_the_books_limits_is_refused_with_the_path(fields, path):
    with pytest.raises(errors.FieldError) as refused:
        checked(loaf(IngredientName("", "Flour"), **fields))
    assert refused.value.path == path


@SOME
@given(record=RECIPES)
def test_a_whole_draft_comes_back_from_our_json(record, django_user_model, db):
    owner = django_user_model.objects.get_or_create(username="ines")[0]
    draft = to_draft(record, owner)
    again = to_draft(read_document(document_text(record_of_draft(draft))), owner)
    assert (again.head, again.steps) == (draft.head, draft.steps)
    assert record_of_draft(again) == record_of_draft(draft)


@SOME
@given(record=RECIPES)
def test_a_saved_recipe_comes_back_from_our_json(record, django_user_model, db):
    owner = django_user_model.objects.get_or_create(username="ines")[0]
    saved = record_of(fetched(save_import(owner=owner, record=record)))
    assert read_document(document_text(saved)) == saved
    named = [line.ingredient.name for part in record.parts for line in part.lines]
    kept = [line.ingredient.name for part in saved.parts for line in part.lines]
    assert [" ".join(name.split()).casefold() for name in named] == [
        " ".join(name.split()).casefold() for name in kept
    ]
    assert [line.mass_g for part in saved.parts for line in part.lines] == [
        line.mass_g for part in record.parts for line in part.lines
    ]


def test_a_revision_comes_back_from_its_jsonld(instructor):
    revision = RevisionFactory(
        recipe__owner=instructor,
        note="Made up.",
        equipment="bowl\r\nscale",
        core_temperature_c=Decimal("96.0"),
        parts=[
            {"kind": "preferment", "lines": {flour(): "30.25", water(): 30}},
            {"kind": "dough", "lines": {flour(): 70, water(): 40}},
            {"kind": "wash", "for_pieces": 12, "lines": {water(): 15}},
        ],
        steps=[{"kind": "bake", "waiting_min": 30, "temperature_c": Decimal("230.0")}],
    )
    record = record_of(fetched(revision))
    assert record.equipment == "bowl\nscale"
    again = proposed(read_jsonld(jsonld_text(record), ingredient_book(instructor)))
    assert again == record


def test_a_revision_is_taken_out_in_a_fixed_number_of_queries(
    instructor, django_assert_num_queries
):
    revision = RevisionFactory(recipe__owner=instructor, parts=[{}, {"kind": "roux"}], steps=[{}])
    row = fetched(revision)
    with django_assert_num_queries(0):
        record_of(row)


def test_a_pasted_recipe_goes_all_the_way_into_the_book(instructor, django_assert_num_queries):
    load_ingredients()
    with django_assert_num_queries(1):
        book = ingredient_book(instructor)
    text = (
        "Seed loaf\nMakes 2 loaves\n500 g bread flour\n1 1/2 cups water\n1 tsp table salt\n"
        "7 g instant yeast\n30 g acorn meal\nMethod\nMix 10 min. Let rise 1 hour. Bake at 230 °C."
    )
    revision = save_import(owner=instructor, record=proposed(read_text(text, book)))
    revision = fetched(revision)
    lines = list(revision.components.all()[0].lines.all())
    assert [(line.ingredient.key, line.entered) for line in lines[:3]] == [
        ("bread-flour", ""),
        ("water", "1.5 cup"),
        ("table-salt", "1 tsp"),
    ]
    assert lines[1].mass_g == Decimal("354.8824")
    assert lines[4].ingredient.owner == instructor
    assert [step.kind for step in revision.steps.all()] == ["mix", "bulk", "bake"]


def test_the_owners_ingredient_is_matched_before_the_shared_one(instructor):
    flour()
    own = IngredientFactory(owner=instructor, name="Bread flour", kind="flour")
    line = read_text("500 g bread flour", ingredient_book(instructor)).lines[0]
    assert line.match.key == own.key


def test_drafts_of_the_form_and_of_the_import_are_alike(instructor):
    flour()
    draft = to_draft(loaf(IngredientName("bread-flour", "Bread flour")), instructor)
    revision = create_recipe(owner=instructor, draft=draft)
    assert record_of(fetched(revision)) == record_of_draft(draft)
