"""Between plain values and the recipe book: nothing is lost, nothing foreign is touched."""

from decimal import Decimal

import pytest
from hypothesis import HealthCheck, settings

from recipes.exporting import jsonld_text
from recipes.importing import errors
from recipes.importing.drafts import (
    checked,
    ingredient_book,
    record_of,
)
from recipes.importing.proposal import proposed
from recipes.importing.record import (
    IngredientName,
    LineRecord,
    PartRecord,
    RecipeRecord,
    StepRecord,
)
from recipes.importing.schema.reading import read_jsonld
from recipes.importing.text.recipe import read_text
from recipes.models import Revision
from tests.factories import IngredientFactory, RevisionFactory, flour, water

SOME = settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))


def loaf(*names, **fields):
    lines = tuple(LineRecord(name, Decimal(100)) for name in names)
    parts = (PartRecord("dough", "Dough", lines),)
    return RecipeRecord(**{"title": "Loaf", "piece_g": Decimal(500), "parts": parts, **fields})


def fetched(revision):
    return Revision.objects.with_formula().get(pk=revision.pk)


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


def test_the_owners_ingredient_is_matched_before_the_shared_one(instructor):
    flour()
    own = IngredientFactory(owner=instructor, name="Bread flour", kind="flour")
    line = read_text("500 g bread flour", ingredient_book(instructor)).lines[0]
    assert line.match.key == own.key
