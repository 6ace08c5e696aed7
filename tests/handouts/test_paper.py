"""The papers as values: what cannot be left out, and how a paper tells who, when and which."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from classes.core.money import Estimate, Money
from classes.core.regions import Region
from classes.hours.morning import Morning
from handouts.kinds.handout import Handout
from handouts.kinds.preparation import PreparationList
from handouts.kinds.station_cards import StationCard
from handouts.paper import NothingTaught, PaperHead
from handouts.preparing.arranged import ListBy
from handouts.safety.cautions import cautions_for
from handouts.safety.values import Hazard
from handouts.station_tables import StationRecipe
from recipes.core.allergens import found_in

DUBLIN = ZoneInfo("Europe/Dublin")
BAKING = frozenset({Hazard.FLOUR, Hazard.OVEN})
OWN = cautions_for(BAKING, Region.ALL)


def head(**fields):
    told = {
        "title": "Morning class",
        "code": "ABCDEF",
        "kitchen": "Hall",
        "starts_at": datetime(2030, 5, 4, 9, tzinfo=UTC),
        "ends_at": datetime(2030, 5, 4, 13, tzinfo=UTC),
        "printed_at": datetime(2030, 4, 11, 8, 30, tzinfo=UTC),
        "zone": DUBLIN,
        "revisions": ("Hearth loaf, revision 1",),
        "hazards": BAKING,
    }
    return PaperHead(**(told | fields))


OWN_FIELDS = {
    Handout: {"name": "Ada", "station": "Bench 1", "recipes": ()},
    PreparationList: {
        "by": ListBy.STATION,
        "morning": Morning(()),
        "benches": (),
        "groups": (),
        "cash_out": Estimate(Money(0, "EUR")),
        "handling_loss_percent": Decimal(0),
        "allergens": found_in(()),
        "tubs": (),
        "tables": (),
    },
    StationCard: {
        "station": "Bench 1",
        "people": ("Ada",),
        "recipe": StationRecipe("Hearth loaf", "Hearth loaf, revision 1", ()),
    },
}
papers = pytest.mark.parametrize("kind", OWN_FIELDS, ids=lambda kind: kind.__name__)


def build(kind, hazards=BAKING, **fields):
    return kind(head=head(**fields), hazards=hazards, **OWN_FIELDS[kind])


@papers
def test_a_paper_has_the_cautions_of_its_own_work(kind):
    assert build(kind).foot.cautions == OWN
    assert build(kind, frozenset(Hazard), region=Region.US).foot.cautions == cautions_for(
        frozenset(Hazard), Region.US
    )


@papers
def test_no_paper_is_made_without_saying_what_its_work_can_do(kind):
    with pytest.raises(TypeError, match="hazards"):
        kind(head=head(), **OWN_FIELDS[kind])
    with pytest.raises(TypeError, match="cautions"):
        replace(build(kind), cautions=())


def test_a_paper_needs_a_recipe_to_be_about():
    with pytest.raises(NothingTaught):
        head(revisions=())


def test_times_are_shown_in_the_kitchens_zone():
    shown = head()
    assert shown.day == "Saturday 4 May 2030"
    assert shown.hours == "10:00–14:00"
    assert shown.printed == "11 April 2030, 09:30, Europe/Dublin"


def test_a_class_around_midnight_names_the_day_it_ends():
    shown = head(
        starts_at=datetime(2030, 5, 4, 20, tzinfo=UTC), ends_at=datetime(2030, 5, 5, 0, tzinfo=UTC)
    )
    assert shown.hours == "21:00–01:00 on Sunday 5 May"


def test_the_day_is_the_kitchens_even_where_utc_has_another():
    shown = head(
        starts_at=datetime(2030, 5, 4, 22, tzinfo=UTC),
        ends_at=datetime(2030, 5, 5, 2, tzinfo=UTC),
        zone=ZoneInfo("Pacific/Auckland"),
    )
    assert (shown.day, shown.hours) == ("Sunday 5 May 2030", "10:00–14:00")


def test_the_running_head_cuts_long_titles_but_never_revision_numbers():
    labels = ("a" * 100 + ", revision 12", "Rye, with caraway, revision 3", "Ring, revision 1")
    shown = head(revisions=labels).running_revisions
    assert shown == f"{'a' * 40}…, revision 12 · Rye, with caraway, revision 3 · Ring, revision 1"


def test_the_running_head_counts_the_recipes_it_has_no_room_for():
    labels = tuple(f"Bread {n}, revision 1" for n in range(5))
    assert head(revisions=labels).running_revisions.endswith("· 2 more")


def test_the_running_head_cuts_a_class_title_to_its_line():
    assert head(title="Saturday loaf").running_title == "Saturday loaf"
    shown = head(title="W" * 100).running_title
    assert shown.endswith("W…")
    assert len(shown) < 30
