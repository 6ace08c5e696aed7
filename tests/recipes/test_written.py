"""A recipe has one written form: the form, the rows and our own JSON hand on the same."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipes.core.choices import ComponentKind, StepKind, TemperatureOf, Worked
from recipes.core.heat.doneness import BreadKind
from recipes.core.pans.sizes import PanShape
from recipes.core.written import (
    NamedIngredient,
    WrittenLine,
    WrittenPart,
    WrittenRecipe,
    WrittenStep,
    formula_of,
    settled,
)
from recipes.editing.recipe import RecipeForm
from recipes.editing.rows import posted_rows, rows_of
from recipes.exporting.document import document_text
from recipes.importing.document import read_document
from recipes.ingredients.shelf import Shelf
from recipes.models import Ingredient, Revision
from recipes.selectors import formula_value, ingredient_value, name_of, written_of
from recipes.services import create_recipe
from tests.factories import IngredientFactory, UserFactory, flour, water
from tests.recipes.importing.made import decimals

pytestmark = pytest.mark.django_db
WORDS = st.text("abc ÄÉé麵“’.<&", min_size=1, max_size=30).map(str.strip).filter(bool)
UNSAID = st.just("")
CELSIUS = st.none() | decimals("-30", "350", 1)
KEYS = ("bread-flour", "water", "egg")


@st.composite
def lines(draw, *keys):
    key = draw(st.sampled_from(keys))
    grams = draw(decimals("0.0001", "1000", 4))
    if key == "egg" and draw(st.booleans()):
        count = draw(st.integers(1, 20))
        return key, Decimal(50 * count), f"{count} each", draw(UNSAID | WORDS)
    return key, grams, "", draw(UNSAID | WORDS)


@st.composite
def parts(draw, kind=None):
    kind = kind or draw(st.sampled_from(ComponentKind))
    loss = draw(decimals("0", "90", 2)) if kind is ComponentKind.ROUX else Decimal(0)
    first = [draw(lines("bread-flour"))] if kind is ComponentKind.DOUGH else []
    return WrittenPart(
        kind=kind,
        name=draw(WORDS),
        for_pieces=None if kind.goes_into_dough else draw(st.integers(1, 999)),
        cooking_loss_percent=loss,
        lines=(*first, *draw(st.lists(lines(*KEYS), min_size=1, max_size=3))),
    )


@st.composite
def steps(draw):
    kind = draw(st.sampled_from([StepKind.PREPARE, StepKind.MIX, StepKind.DIVIDE, StepKind.COOL]))
    worked = st.none() | st.sampled_from(Worked) if kind in ("prepare", "mix") else st.none()
    return WrittenStep(
        kind=kind,
        text=draw(WORDS),
        hands_on_min=draw(st.integers(0, 1440)),
        waiting_min=draw(st.integers(0, 10080)),
        temperature_c=draw(CELSIUS),
        temperature_of=draw(st.none() | st.sampled_from(TemperatureOf)),
        worked=draw(worked),
    )


PANS = st.just({}) | st.fixed_dictionaries(
    {
        "pan_shape": st.sampled_from([PanShape.LOAF, PanShape.TRAY, PanShape.RECTANGULAR]),
        "pan_length_mm": st.integers(10, 10_000),
        "pan_width_mm": st.integers(10, 10_000),
        "pan_depth_mm": st.none() | st.integers(10, 10_000),
        "pan_water_ml": st.none() | st.integers(1, 100_000),
    }
)
HEADS = st.fixed_dictionaries(
    {
        "title": WORDS,
        "summary": UNSAID | WORDS,
        "note": UNSAID | WORDS,
        "piece_name": WORDS,
        "pieces": st.integers(1, 999),
        "piece_g": decimals("1", "20000", 1),
        "bake_loss_percent": decimals("0", "90", 2),
        "dough_temperature_c": CELSIUS,
        "core_temperature_c": CELSIUS,
        "equipment": UNSAID | st.lists(WORDS, max_size=3).map("\n".join),
        "bread_kind": st.none() | st.sampled_from(BreadKind),
    }
)


@st.composite
def recipes(draw):
    """Recipes that the form can hold; their lines name ingredients by key alone."""
    return WrittenRecipe(
        **draw(HEADS) | draw(PANS),
        parts=(draw(parts(ComponentKind.DOUGH)), *draw(st.lists(parts(), max_size=2))),
        steps=tuple(draw(st.lists(steps(), max_size=3))),
    )


def with_names(recipe, rows):
    """The recipe with its lines, the ingredients by the names in the book."""
    return WrittenRecipe(
        **{name: getattr(recipe, name) for name in recipe.__slots__ if name != "parts"},
        parts=tuple(
            WrittenPart(
                part.kind,
                part.name,
                part.for_pieces,
                part.cooking_loss_percent,
                tuple(WrittenLine(name_of(rows[key]), *rest) for key, *rest in part.lines),
            )
            for part in recipe.parts
        ),
    )


def posted(rows):
    """What a browser sends for the rows of a form."""
    data = {name: "" if value is None else str(value) for name, value in rows.head.items()}
    nested = [(row.key, row) for row in (*rows.parts, *rows.steps)]
    nested += [(f"{part.key}-{line.key}", line) for part in rows.parts for line in part.lines]
    for prefix, row in nested:
        for name, value in row.values.items():
            data[f"{prefix}-{name}"] = "" if value is None else str(value)
    for name in ("pan_length_mm", "pan_width_mm", "pan_depth_mm"):
        data[name] = data[name] and f"{data[name]} mm"
    return data


@settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)
@given(recipe=recipes())
def test_form_rows_and_json_hand_on_the_same_recipe(recipe, instructor):
    egg = {"name": "Egg", "kind": "egg", "each_g": 50, "each_name": "egg"}
    Ingredient.objects.get_or_create(key="egg", defaults=egg)
    known = {row.key: row for row in (flour(), water(), Ingredient.objects.get(key="egg"))}
    written = with_names(recipe, known)
    shelf = Shelf(known.values())
    form = RecipeForm(posted_rows(posted(rows_of(written, shelf))), shelf, bound=True)
    assert form.is_valid(), form.problems
    assert form.written() == written
    saved = create_recipe(owner=instructor, written=form.written())
    row = Revision.objects.with_formula().get(pk=saved.pk)
    assert written_of(row) == written
    assert read_document(document_text(written_of(row))) == written
    values = {name_of(one): ingredient_value(one) for one in known.values()}
    assert formula_value(row) == formula_of(written, values)


def test_what_nobody_said_becomes_the_usual_when_it_is_saved(instructor):
    line = WrittenLine(name_of(flour()), Decimal(100))
    dough = WrittenPart(ComponentKind.DOUGH, "Dough", lines=(line,))
    bare = WrittenRecipe("Loaf", piece_g=Decimal(100), parts=(dough,))
    saved = create_recipe(owner=instructor, written=bare)
    row = Revision.objects.with_formula().get(pk=saved.pk)
    assert (row.pieces, row.piece_name, row.bake_loss_percent) == (1, "loaf", 0)
    assert written_of(row) == settled(bare)


def test_an_ingredient_without_a_key_becomes_the_owners_own_once(instructor):
    lines = tuple(
        WrittenLine(NamedIngredient("", name), Decimal(10)) for name in ("Spelt", "spelt", "SPELT")
    )
    dough = WrittenPart(ComponentKind.DOUGH, "Dough", lines=lines)
    create_recipe(
        owner=instructor, written=WrittenRecipe("Loaf", piece_g=Decimal(9), parts=(dough,))
    )
    assert [row.name for row in Ingredient.objects.filter(owner=instructor)] == ["Spelt"]


def test_nobody_writes_with_the_ingredient_of_another(instructor):
    theirs = IngredientFactory(owner=UserFactory())
    dough = WrittenPart(
        ComponentKind.DOUGH, "Dough", lines=(WrittenLine(name_of(theirs), Decimal(10)),)
    )
    with pytest.raises(KeyError):
        create_recipe(
            owner=instructor, written=WrittenRecipe("Loaf", piece_g=Decimal(9), parts=(dough,))
        )
    assert not Revision.objects.exists()
