"""The papers as values: what cannot be left out, and how a paper tells who, when and which."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from classes.core.money import Estimate, Money
from classes.core.regions import Region
from handouts.documents import (
    Handout,
    MissingCautions,
    NoRecipe,
    Occasion,
    PreparationList,
    StationCard,
)
from handouts.kinds.stations import StationRecipe
from handouts.safety.cautions import (
    CAUTIONS,
    Hazard,
    cautions_for,
)
from recipes.core.allergens import found_in

DUBLIN = ZoneInfo("Europe/Dublin")
BAKING = frozenset({Hazard.FLOUR, Hazard.OVEN})
OWN = cautions_for(BAKING, Region.ALL)


def occasion(**fields):
    told = {
        "title": "Morning class",
        "code": "ABCDEF",
        "kitchen": "Hall",
        "starts_at": datetime(2030, 5, 4, 9, tzinfo=UTC),
        "ends_at": datetime(2030, 5, 4, 13, tzinfo=UTC),
        "printed_at": datetime(2030, 4, 11, 8, 30, tzinfo=UTC),
        "zone": DUBLIN,
        "revisions": ("Hearth loaf, revision 1",),
    }
    return Occasion(**(told | fields))


OWN_FIELDS = {
    Handout: {"name": "Ada", "station": "Bench 1", "recipes": ()},
    PreparationList: {
        "aisles": (),
        "tap": (),
        "cash_out": Estimate(Money(0, "EUR")),
        "currency": "EUR",
        "handling_loss_percent": Decimal(0),
        "allergens": found_in(()),
        "pooled": (),
        "stations": (),
        "demonstration": None,
    },
    StationCard: {
        "station": "Bench 1",
        "people": ("Ada",),
        "recipe": StationRecipe("Hearth loaf", "Hearth loaf, revision 1", ()),
    },
}
papers = pytest.mark.parametrize("kind", OWN_FIELDS, ids=lambda kind: kind.__name__)


def build(kind, *, cautions, hazards=BAKING, **fields):
    common = {"occasion": occasion(), "hazards": hazards, "cautions": cautions}
    return kind(**(common | OWN_FIELDS[kind] | fields))


@papers
def test_a_paper_is_built_with_its_cautions(kind):
    assert build(kind, cautions=OWN).cautions == OWN


@papers
def test_a_paper_cannot_be_built_without_any_caution(kind):
    with pytest.raises(MissingCautions) as error:
        build(kind, cautions=())
    assert error.value.missing == OWN


@papers
@pytest.mark.parametrize("left_out", OWN, ids=lambda caution: caution.key)
def test_a_paper_cannot_be_built_with_a_caution_left_out(kind, left_out):
    some = tuple(caution for caution in OWN if caution != left_out)
    with pytest.raises(MissingCautions) as error:
        build(kind, cautions=some)
    assert error.value.missing == (left_out,)


@papers
def test_a_paper_of_a_class_without_hazards_still_wants_the_cautions_for_all(kind):
    with pytest.raises(MissingCautions):
        build(kind, cautions=(), hazards=frozenset())


def test_a_paper_may_carry_more_cautions_than_it_must():
    assert build(Handout, cautions=CAUTIONS).cautions == CAUTIONS


def test_a_paper_cannot_lose_its_cautions_later():
    paper = build(Handout, cautions=OWN)
    with pytest.raises(MissingCautions):
        replace(paper, cautions=())


def test_a_paper_needs_a_recipe_to_be_about():
    with pytest.raises(NoRecipe):
        occasion(revisions=())


def test_times_are_shown_in_the_kitchens_zone():
    shown = occasion()
    assert shown.day == "Saturday 4 May 2030"
    assert shown.hours == "10:00–14:00"
    assert shown.printed == "11 April 2030, 09:30, Europe/Dublin"


def test_a_class_around_midnight_names_the_day_it_ends():
    shown = occasion(
        starts_at=datetime(2030, 5, 4, 20, tzinfo=UTC), ends_at=datetime(2030, 5, 5, 0, tzinfo=UTC)
    )
    assert shown.hours == "21:00–01:00 on Sunday 5 May"


def test_the_day_is_the_kitchens_even_where_utc_has_another():
    shown = occasion(
        starts_at=datetime(2030, 5, 4, 22, tzinfo=UTC),
        ends_at=datetime(2030, 5, 5, 2, tzinfo=UTC),
        zone=ZoneInfo("Pacific/Auckland"),
    )
    assert (shown.day, shown.hours) == ("Sunday 5 May 2030", "10:00–14:00")


def test_the_running_head_cuts_long_titles_but_never_revision_numbers():
    labels = ("a" * 100 + ", revision 12", "Rye, with caraway, revision 3", "Ring, revision 1")
    head = occasion(revisions=labels).running_revisions
    assert head == f"{'a' * 40}…, revision 12 · Rye, with caraway, revision 3 · Ring, revision 1"


def test_the_running_head_counts_the_recipes_it_has_no_room_for():
    labels = tuple(f"Bread {n}, revision 1" for n in range(5))
    assert occasion(revisions=labels).running_revisions.endswith("· 2 more")


def test_the_running_head_cuts_a_class_title_to_its_line():
    assert occasion(title="Saturday loaf").running_title == "Saturday loaf"
    shown = occasion(title="W" * 100).running_title
    assert shown.endswith("W…")
    assert len(shown) < 30
