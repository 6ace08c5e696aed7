"""Between plain values and the recipe book: nothing is lost, nothing foreign is touched."""

from decimal import Decimal

from recipes.exporting.jsonld import jsonld_text
from recipes.importing.schema.reading import read_jsonld
from recipes.importing.shelf import ingredient_book
from recipes.importing.text.recipe import read_text
from recipes.models import Revision
from recipes.selectors import written_of
from tests.factories import IngredientFactory, RevisionFactory, flour, water


def fetched(revision):
    return Revision.objects.with_formula().get(pk=revision.pk)


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
    written = written_of(fetched(revision))
    assert written.equipment == "bowl\nscale"
    again = read_jsonld(jsonld_text(written), ingredient_book(instructor)).written
    assert again == written


def test_a_revision_is_taken_out_in_a_fixed_number_of_queries(
    instructor, django_assert_num_queries
):
    revision = RevisionFactory(recipe__owner=instructor, parts=[{}, {"kind": "roux"}], steps=[{}])
    row = fetched(revision)
    with django_assert_num_queries(0):
        written_of(row)


def test_the_owners_ingredient_is_matched_before_the_shared_one(instructor):
    flour()
    own = IngredientFactory(owner=instructor, name="Bread flour", kind="flour")
    line = read_text("500 g bread flour", ingredient_book(instructor)).lines[0]
    assert line.match.key == own.key
