"""Our own JSON loses nothing, and names the path of every fault."""

import json
from contextlib import suppress
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipes import models
from recipes.core.choices import ComponentKind, IngredientKind, StepKind, TemperatureOf, Worked
from recipes.core.heat.doneness import BreadKind
from recipes.core.pans.sizes import PanShape
from recipes.core.written import (
    NamedFlour,
    NamedIngredient,
    WrittenLine,
    WrittenPart,
    WrittenRecipe,
    WrittenStep,
)
from recipes.exporting.document import document, document_text
from recipes.importing import document as reader
from recipes.importing import errors
from recipes.importing.document import read_data, read_document
from recipes.importing.doubts import OtherHydration
from recipes.importing.intake import SourceKind, read_pasted
from recipes.importing.jsontext import MOST_CHARACTERS
from recipes.importing.settled import reading_of
from recipes.importing.text.matching import IngredientBook
from recipes.importing.values import KnownIngredient
from tests.recipes.importing.made import RECIPES

THOROUGH = settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))

FLOUR = NamedIngredient("bread-flour", "Bread flour", IngredientKind.FLOUR)
GRAIN = NamedIngredient("", "Spent grain", IngredientKind.GRAIN)
EGG = NamedIngredient("egg", "Egg, whole", IngredientKind.EGG)
LOAF = WrittenRecipe(
    title="Hearth loaf",
    piece_name="loaf",
    pieces=1,
    piece_g=Decimal("520.0"),
    bake_loss_percent=Decimal(0),
    parts=(
        WrittenPart(
            ComponentKind.DOUGH,
            "Dough",
            lines=(
                WrittenLine(FLOUR, Decimal("304.27")),
                WrittenLine(GRAIN, Decimal("12.5"), "", "dried"),
            ),
        ),
        WrittenPart(
            ComponentKind.WASH,
            "Egg wash",
            for_pieces=12,
            lines=(WrittenLine(EGG, Decimal(50), "1 each"),),
        ),
    ),
    steps=(WrittenStep(StepKind.BAKE, "Bake it.", 2, 30, Decimal("230.0")),),
)


def changed(path, value):
    """The loaf's document with one value set, or taken away when it is KeyError."""
    data = document(LOAF)
    place = data
    for name in path[:-1]:
        place = place[name]
    if value is KeyError:
        del place[path[-1]]
    else:
        place[path[-1]] = value
    return data


@THOROUGH
@given(RECIPES)
def test_a_recipe_comes_back_from_its_json_as_it_was(recipe):
    assert read_document(document_text(recipe)) == recipe


@THOROUGH
@given(recipe=RECIPES)
def test_a_recipe_is_reviewed_line_by_line(recipe, book):
    read = reading_of(recipe, book)
    assert read.written == recipe
    assert [line.written for line in read.lines] == [
        line for part in recipe.parts for line in part.lines
    ]
    for line in read.lines:
        assert bool(line.match.key) is bool(line.written.ingredient.key) is not bool(line.doubts)


def test_a_starter_of_other_water_than_the_books_asks():
    book = IngredientBook(
        [
            KnownIngredient("rye-starter", "Rye starter", IngredientKind.STARTER),
            KnownIngredient(
                "white-starter",
                "White starter",
                IngredientKind.STARTER,
                hydration_percent=Decimal(100),
            ),
        ]
    )

    def asked(key, hydration):
        named = NamedIngredient(key, "Starter", IngredientKind.STARTER, hydration)
        part = WrittenPart(ComponentKind.DOUGH, "Dough", lines=(WrittenLine(named, Decimal(90)),))
        (line,) = reading_of(replace(LOAF, parts=(part,)), book).lines
        return line.doubts

    assert asked("white-starter", Decimal(50)) == (OtherHydration(Decimal(50), Decimal(100)),)
    assert asked("rye-starter", Decimal(50)) == (OtherHydration(Decimal(50), None),)
    assert asked("white-starter", Decimal("100.0")) == asked("white-starter", None) == ()


WHITE, RYE = (NamedFlour(f"{of}-flour", f"{of.capitalize()} flour", Decimal(50))
              for of in ("white", "rye"))  # fmt: skip


@pytest.mark.parametrize(("said", "book", "asks"), [
    ((), (WHITE, RYE), False), ((WHITE, RYE), (RYE, WHITE), False),
    ((replace(WHITE, key="", percent=Decimal("50.0")), RYE), (WHITE, RYE), False),
    ((WHITE,), (WHITE, RYE), True), ((WHITE, RYE), (), True),
    ((replace(WHITE, percent=Decimal(40)), RYE), (WHITE, RYE), True),
    ((replace(WHITE, key="", name="Village flour"), RYE), (WHITE, RYE), True),
])  # fmt: skip
def test_a_starter_of_other_flours_than_the_books_asks(said, book, asks):
    known = [
        KnownIngredient("white-starter", "White starter", IngredientKind.STARTER),
        *(KnownIngredient(flour.key, flour.name) for flour in (WHITE, RYE)),
    ]
    named = NamedIngredient("white-starter", "Starter", IngredientKind.STARTER, None, said)
    part = WrittenPart(ComponentKind.DOUGH, "Dough", lines=(WrittenLine(named, Decimal(90)),))
    fed = IngredientBook(known, fed=lambda key: book)
    (line,) = reading_of(replace(LOAF, parts=(part,)), fed).lines
    assert [doubt.kind for doubt in line.doubts] == ["OtherFlours"] * asks


def test_numbers_are_written_as_text():
    line = document(LOAF)["components"][0]["lines"][0]
    assert line["mass_g"] == "304.27"
    assert document(LOAF)["piece_g"] == "520"
    json.loads(document_text(LOAF), parse_float=pytest.fail)


def test_what_has_a_usual_value_may_be_left_out():
    line = {"ingredient": {"name": "Bread flour", "kind": "flour"}, "mass_g": "300"}
    bare = {
        "format": "bakebench-recipe",
        "version": 1,
        "title": "Loaf",
        "piece_g": "500",
        "components": [{"kind": "dough", "name": "Dough", "lines": [line]}],
    }
    recipe = read_data(bare)
    assert (recipe.pieces, recipe.piece_name, recipe.steps) == (1, "loaf", ())


LINE = ("components", 0, "lines", 0)


@pytest.mark.parametrize(
    ("path", "value", "error", "where"),
    [
        (("title",), KeyError, errors.MissingField, "title"),
        (("title",), "", errors.UnfitText, "title"),
        (("title",), 5, errors.WrongType, "title"),
        (("title",), None, errors.WrongType, "title"),
        (("title",), "x" * 101, errors.TextTooLong, "title"),
        (("title",), "a\0b", errors.UnfitText, "title"),
        (("title",), "\ud800", errors.UnfitText, "title"),
        (("pieces",), 0, errors.NumberOutOfRange, "pieces"),
        (("pieces",), 1000, errors.NumberOutOfRange, "pieces"),
        (("pieces",), "12", errors.WrongType, "pieces"),
        (("pieces",), True, errors.WrongType, "pieces"),
        (("pieces",), None, errors.WrongType, "pieces"),
        (("piece_g",), KeyError, errors.MissingField, "piece_g"),
        (("piece_g",), 520.5, errors.NotDecimalText, "piece_g"),
        (("piece_g",), 520, errors.NotDecimalText, "piece_g"),
        (("piece_g",), "1e3", errors.NotDecimalText, "piece_g"),
        (("piece_g",), "NaN", errors.NotDecimalText, "piece_g"),
        (("piece_g",), "1_000", errors.NotDecimalText, "piece_g"),
        (("piece_g",), "١٢", errors.NotDecimalText, "piece_g"),
        (("piece_g",), "9" * 400, errors.NotDecimalText, "piece_g"),
        (("piece_g",), "500.25", errors.NumberOutOfRange, "piece_g"),
        (("piece_g",), "0.5", errors.NumberOutOfRange, "piece_g"),
        (("piece_g",), ["5"], errors.WrongType, "piece_g"),
        (("bake_loss_percent",), "100.01", errors.NumberOutOfRange, "bake_loss_percent"),
        (("core_temperature_c",), "351", errors.NumberOutOfRange, "core_temperature_c"),
        (("core_temperature_c",), {}, errors.WrongType, "core_temperature_c"),
        (("components",), KeyError, errors.MissingField, "components"),
        (("components",), [], errors.MissingField, "components[0]"),
        (("components",), {}, errors.WrongType, "components"),
        (("components",), [5], errors.WrongType, "components[0]"),
        (("components",), [{}] * 41, errors.TooMany, "components"),
        (("components", 0, "kind"), "glue", errors.NotAChoice, "components[0].kind"),
        (("components", 0, "lines"), [], errors.MissingField, "components[0].lines[0]"),
        (("components", 0, "for_pieces"), 3, errors.WrongType, "components[0].for_pieces"),
        (("components", 1, "for_pieces"), 0, errors.NumberOutOfRange, "components[1].for_pieces"),
        (("components", 1, "for_pieces"), KeyError, errors.MissingField,
         "components[1].for_pieces"),
        (("components", 0, "cooking_loss_percent"), "100", errors.NumberOutOfRange,
         "components[0].cooking_loss_percent"),
        ((*LINE, "mass_g"), KeyError, errors.MissingField, "components[0].lines[0].mass_g"),
        ((*LINE, "mass_g"), "0", errors.NumberOutOfRange, "components[0].lines[0].mass_g"),
        ((*LINE, "mass_g"), "-5", errors.NumberOutOfRange, "components[0].lines[0].mass_g"),
        ((*LINE, "mass_g"), "0.00001", errors.NumberOutOfRange, "components[0].lines[0].mass_g"),
        ((*LINE, "ingredient"), KeyError, errors.MissingField,
         "components[0].lines[0].ingredient"),
        ((*LINE, "ingredient"), "salt", errors.WrongType, "components[0].lines[0].ingredient"),
        ((*LINE, "ingredient", "name"), " ", errors.UnfitText,
         "components[0].lines[0].ingredient.name"),
        ((*LINE, "ingredient", "kind"), "stone", errors.NotAChoice,
         "components[0].lines[0].ingredient.kind"),
        ((*LINE, "allergen"), "none", errors.UnknownField, "components[0].lines[0].allergen"),
        (("steps", 0, "text"), "x" * 601, errors.TextTooLong, "steps[0].text"),
        (("steps", 0, "waiting_min"), 10081, errors.NumberOutOfRange, "steps[0].waiting_min"),
        (("steps", 0, "hands_on_min"), 2.0, errors.WrongType, "steps[0].hands_on_min"),
        (("author",), "me", errors.UnknownField, "author"),
    ],
)  # fmt: skip
def test_a_fault_is_named_with_its_path(path, value, error, where):
    with pytest.raises(error) as refused:
        read_data(changed(path, value))
    assert refused.value.path == where


@pytest.mark.parametrize(
    ("text", "error"),
    [
        ("", errors.NotJson),
        ("{", errors.NotJson),
        ("[" * 100_000, errors.NotJson),
        ('{"format": 1, "format": 2}', errors.NotJson),
        ("[]", errors.NotOurs),
        ("5", errors.NotOurs),
        ("{}", errors.NotOurs),
        ('{"format": "another"}', errors.NotOurs),
        ('{"format": ["bakebench-recipe"]}', errors.NotOurs),
        ('{"format": "bakebench-recipe"}', errors.UnknownVersion),
        ('{"format": "bakebench-recipe", "version": 2}', errors.UnknownVersion),
        ('{"format": "bakebench-recipe", "version": "1"}', errors.UnknownVersion),
        ('{"format": "bakebench-recipe", "version": true}', errors.UnknownVersion),
        ('{"format": "bakebench-recipe", "version": 1.0}', errors.UnknownVersion),
        (" " * (MOST_CHARACTERS + 1), errors.TooMuchText),
    ],
)
def test_what_is_not_ours_is_refused(text, error):
    with pytest.raises(error):
        read_document(text)


@pytest.mark.parametrize("number", ["1.5", "1e400", "NaN", "-Infinity", "9" * 5000])
def test_a_number_out_of_all_bounds_is_refused_at_its_path(number):
    text = document_text(LOAF).replace('"pieces": 1', f'"pieces": {number}')
    with pytest.raises(errors.NumberOutOfRange) as refused:
        read_document(text)
    assert refused.value.path == "pieces"


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.sampled_from([*document(LOAF), "lines", "x"]), inner, max_size=6)
    ),
    max_leaves=12,
)


@THOROUGH
@given(data=JSON)
def test_random_json_is_read_or_refused_by_name(data, book):
    with suppress(errors.ImportingError):
        read_pasted(json.dumps(data), book)


@THOROUGH
@given(data=st.data())
def test_our_json_with_any_value_replaced_is_read_or_refused_by_name(data):
    whole = document(LOAF)
    place = whole
    while True:
        keys = list(place) if isinstance(place, dict) else range(len(place))
        key = data.draw(st.sampled_from(list(keys)))
        if not isinstance(place[key], dict | list) or not place[key] or data.draw(st.booleans()):
            break
        place = place[key]
    place[key] = data.draw(JSON)
    with suppress(errors.ImportingError):
        read_document(json.dumps(whole))


def test_a_file_of_ours_is_known_when_pasted(book):
    source, read = read_pasted(document_text(LOAF), book)
    assert source is SourceKind.DOCUMENT
    assert read.written == LOAF
    doubted = [line.written.ingredient.name for line in read.lines if line.doubts]
    assert doubted == ["Spent grain"]


def model_field(model, name):
    return model._meta.get_field(name)


@pytest.mark.parametrize(
    ("model", "name", "limit"),
    [
        (models.Revision, "piece_g", reader._PIECE),
        (models.Revision, "bake_loss_percent", reader._PERCENT),
        (models.Revision, "core_temperature_c", reader._CELSIUS),
        (models.FormulaLine, "mass_g", reader._MASS),
        (models.Component, "cooking_loss_percent", reader._COOKING_LOSS),
    ],
)
def test_numbers_that_pass_fit_the_rows(model, name, limit):
    column = model_field(model, name)
    least, most, places = limit
    assert places == column.decimal_places
    for end in (least, most):
        column.clean(end, None)


@pytest.mark.parametrize(
    ("path", "model", "name"),
    [
        (("title",), models.Revision, "title"),
        (("summary",), models.Revision, "summary"),
        (("note",), models.Revision, "note"),
        (("piece_name",), models.Revision, "piece_name"),
        (("equipment",), models.Revision, "equipment"),
        (("components", 0, "name"), models.Component, "name"),
        ((*LINE, "entered"), models.FormulaLine, "entered"),
        ((*LINE, "note"), models.FormulaLine, "note"),
        ((*LINE, "ingredient", "name"), models.Ingredient, "name"),
        ((*LINE, "ingredient", "key"), models.Ingredient, "key"),
        (("steps", 0, "text"), models.Step, "text"),
    ],
)
def test_texts_may_be_as_long_as_their_rows_and_no_longer(path, model, name):
    most = model_field(model, name).max_length
    read_data(changed(path, "x" * most))
    with pytest.raises(errors.TextTooLong):
        read_data(changed(path, "x" * (most + 1)))


@pytest.mark.parametrize(
    ("words", "model", "name"),
    [
        (IngredientKind, models.Ingredient, "kind"),
        (ComponentKind, models.Component, "kind"),
        (StepKind, models.Step, "kind"),
        (Worked, models.Step, "worked"),
        (TemperatureOf, models.Step, "temperature_of"),
        (BreadKind, models.Revision, "bread_kind"),
        (PanShape, models.Revision, "pan_shape"),
    ],
)
def test_the_columns_choose_from_the_words_of_the_core_and_hold_them(words, model, name):
    column = model_field(model, name)
    assert column.choices == [(word.value, word.label) for word in words]
    assert max(map(len, words)) <= column.max_length
