"""The cups and spoons of a handout for home are those that an import reads by."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from classes.home_kitchen.amounts import Home
from classes.home_kitchen.values import HomeKitchen
from classes.selectors import class_plan
from recipes.core.regions import HomeRegion
from recipes.core.units import Measures, convert, parse_unit
from recipes.importing.shelf import table_ingredients
from recipes.importing.text.lines import read_line
from recipes.importing.text.matching import IngredientBook
from recipes.models import Book
from recipes.selectors import home_region
from recipes.services import set_home_region
from tests.classes.demo_class import demo_class
from tests.handouts.conftest import planned
from tests.handouts.home.kitchens import page
from tests.handouts.pdfs import plain
from wording.masses import spooned

BOOK = IngredientBook(table_ingredients())
KNOWN = [
    known
    for known in map(BOOK.get, BOOK.keys)
    if known.density_g_per_ml and read_line(f"100 g {known.name}", BOOK).match.key == known.key
]
MOST_APART = Decimal("0.03")


@pytest.fixture
def session(db):
    return demo_class()


def test_most_ingredients_are_tried():
    assert len(KNOWN) >= 50


class Row:
    """As much of an ingredient's facts as measuring it needs."""

    def __init__(self, known):
        self.kind, self.density_g_per_ml = known.kind, known.density_g_per_ml


@settings(max_examples=400, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    known=st.sampled_from(KNOWN),
    region=st.sampled_from(HomeRegion),
    mass_g=st.decimals("0.6", "2500", places=1),
    flour_cup=st.sampled_from(["spooned", "dipped"]),
)
def test_what_goes_out_comes_back(known, region, mass_g, flour_cup):
    kitchen = HomeKitchen(measured="cups", flour_cup=flour_cup, home_region=region)
    scoops = Home(kitchen, {known.key: Row(known)}).scoops(known.key, mass_g)
    if scoops is None:
        return
    text = f"{plain(spooned(scoops))} {known.name}, {flour_cup}"
    line = read_line(text, BOOK.in_region(region))
    measured_g = mass_g * (1 + scoops.error_percent / 100)
    assert line.match.key == known.key, text
    assert abs(line.written.mass_g - measured_g) <= MOST_APART * measured_g, text
    assert (known.kind == "flour") == any(one.kind == "FlourByVolume" for one in line.doubts)


@pytest.mark.parametrize("region", [region.value for region in HomeRegion])
def test_the_cup_is_the_regions(region):
    units = {"us": "US cup", "uk": "metric cup", "au": "metric cup", "ca": "metric cup"}
    cup = convert(Decimal(1), parse_unit(units.get(region, "metric cup")), Measures.VOLUME)
    assert abs(HomeKitchen(home_region=HomeRegion(region)).cup_ml - cup) < Decimal("0.001")


def test_a_plan_has_the_books_home_region_and_else_the_kitchens(session):
    assert home_region() is HomeRegion.UK  # The demo's kitchen is in Dublin.
    Book.objects.all().delete()
    assert class_plan(planned(session)).kitchen.home_region is HomeRegion.UK
    set_home_region(region=HomeRegion.AU)
    kitchen = class_plan(planned(session)).kitchen
    assert HomeKitchen.near(kitchen).home_region is HomeRegion.AU
    kept = replace(HomeKitchen.near(kitchen), large=True).kept()
    assert "home_region" not in kept


def test_the_page_says_which_cup_is_meant(stranger, session):
    assert "Cups of 250 ml and tablespoons of 15 ml" in page(stranger, session, measured="cups")
    set_home_region(region=HomeRegion.US)
    assert "Cups of 236.6 ml and tablespoons of 14.8 ml" in page(stranger, session, measured="cups")
