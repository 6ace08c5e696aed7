"""The kind of bread and the recipe's own pan: in the form, and through every file of ours."""

from decimal import Decimal

import pytest

from recipes.editing.head import PAN_MEASURES, HeadForm
from recipes.exporting.document import document_text
from recipes.exporting.jsonld import jsonld_text
from recipes.importing.document import read_document
from recipes.importing.intake import read_pasted
from recipes.importing.text.matching import IngredientBook
from recipes.models import Revision
from recipes.selectors import written_of
from tests.factories import RevisionFactory
from tests.recipes.test_bring import BRING, fields_of
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
NEW = "/recipes/new/"
LOAF_PAN = {
    "bread_kind": "pan loaf",
    "pan_shape": "loaf",
    "pan_length_mm": "21.6",
    "pan_width_mm": "4 1/2 in",
    "pan_depth_mm": "64 mm",
    "pan_water_ml": "6 cups",
}


def head(**pan: str) -> HeadForm:
    form = HeadForm({"title": "Loaf", "piece_name": "loaf", "pieces": "1", "piece_g": "500", **pan})
    form.is_valid()
    return form


def test_a_pan_is_kept_in_whole_millimeters_and_milliliters(instructor_client, posted):
    instructor_client.post(NEW, posted | LOAF_PAN)
    saved = Revision.objects.get(title="Morning loaf")
    assert (saved.bread_kind, saved.pan_shape) == ("pan loaf", "loaf")
    assert (saved.pan_length_mm, saved.pan_width_mm, saved.pan_depth_mm) == (216, 114, 64)
    assert saved.pan_water_ml == 1420


def test_a_recipe_without_pan_and_kind_is_complete(instructor_client, posted):
    instructor_client.post(NEW, posted)
    saved = Revision.objects.get(title="Morning loaf")
    assert (saved.bread_kind, saved.pan_shape, saved.pan_length_mm) == ("", "", None)


def test_the_form_shows_a_saved_pan_in_centimeters(instructor_client, instructor):
    RevisionFactory(
        recipe__owner=instructor, recipe__slug="bread", pan_shape="round", pan_length_mm=229
    )
    answer = instructor_client.get("/recipes/bread/edit/")
    shown = answer.context["form"].head
    assert shown["pan_length_mm"].value() == "22.9"
    assert shown["pan_shape"].value() == "round"
    assert "Pan and kind of bread" in text_of(answer)


@pytest.mark.parametrize(
    ("pan", "field", "message"),
    [
        ({"pan_length_mm": "23"}, "pan_shape", "Choose the pan's shape"),
        ({"pan_water_ml": "900"}, "pan_shape", "Choose the pan's shape"),
        ({"pan_shape": "round"}, "pan_length_mm", "Enter the diameter of the round pan."),
        ({"pan_shape": "square"}, "pan_length_mm", "Enter the side of the square pan."),
        (
            {"pan_shape": "tray", "pan_width_mm": "30"},
            "pan_length_mm",
            "Enter how long the tray is.",
        ),
        (
            {"pan_shape": "loaf", "pan_length_mm": "21"},
            "pan_width_mm",
            "Enter how wide the loaf pan is.",
        ),
        (
            {"pan_shape": "round", "pan_length_mm": "23", "pan_width_mm": "20"},
            "pan_width_mm",
            "A round pan has one size",
        ),
        ({"pan_shape": "round", "pan_length_mm": "2 cups"}, "pan_length_mm", "is a unit of volume"),
        ({"pan_shape": "round", "pan_length_mm": "0.5"}, "pan_length_mm", "Enter 1 cm or more."),
        ({"pan_shape": "round", "pan_length_mm": "2000"}, "pan_length_mm", "Enter 1000 cm or less"),
        ({"pan_shape": "round", "pan_length_mm": "wide"}, "pan_length_mm", "We cannot read"),
        (
            {"pan_shape": "round", "pan_length_mm": "23", "pan_water_ml": "0"},
            "pan_water_ml",
            "Enter 1 ml or more.",
        ),
        ({"pan_shape": "oval", "pan_length_mm": "23"}, "pan_shape", "Select a valid choice"),
        ({"bread_kind": "flat"}, "bread_kind", "Select a valid choice"),
    ],
)
def test_what_is_missing_or_wrong_is_said_by_its_field(pan, field, message):
    errors = head(**pan).errors
    assert list(errors) == [field]
    assert message in errors[field][0]


def test_a_width_that_repeats_the_only_size_is_dropped():
    form = head(pan_shape="square", pan_length_mm="20", pan_width_mm="200 mm")
    assert form.errors == {}
    assert form.cleaned_data["pan_width_mm"] is None


@pytest.fixture
def in_a_pan(db):
    made = RevisionFactory(
        piece_g=Decimal(500),
        bread_kind="pan loaf",
        pan_shape="loaf",
        pan_length_mm=216,
        pan_width_mm=114,
        pan_depth_mm=64,
        pan_water_ml=1300,
    )
    return written_of(Revision.objects.with_formula().get(pk=made.pk))


def test_our_own_file_keeps_them(in_a_pan):
    assert in_a_pan.pan_length_mm == 216
    assert read_document(document_text(in_a_pan)) == in_a_pan


@pytest.mark.parametrize("written", [document_text, jsonld_text])
def test_a_pasted_file_of_ours_keeps_them_through_the_review(in_a_pan, written):
    _, read = read_pasted(written(in_a_pan), IngredientBook(()))
    assert read.written == in_a_pan
    assert read.written.pan_water_ml == 1300


def test_the_review_sheet_keeps_them(instructor_client, in_a_pan):
    sheet = fields_of(instructor_client.post(BRING, {"text": document_text(in_a_pan)}))
    instructor_client.post(BRING, {**sheet, "save": "1"})
    saved = Revision.objects.with_formula().latest("pk")
    assert saved.recipe.owner.username == "ines"
    assert [
        getattr(written_of(saved), name) for name in ("bread_kind", "pan_shape", *PAN_MEASURES)
    ] == ["pan loaf", "loaf", 216, 114, 64, 1300]
