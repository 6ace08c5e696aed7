"""The shared ingredients come from the table, and users' own stay as they are."""

import csv
from decimal import Decimal
from io import StringIO

import pytest
from django.core.management import call_command
from django.db import IntegrityError

from recipes.ingredients.table import STARTERS, TABLE, load_ingredients, read_table
from recipes.models import Ingredient
from tests.factories import IngredientFactory, UserFactory

pytestmark = pytest.mark.django_db


def rows_of_the_file():
    rows = []
    for path in (TABLE, STARTERS):
        with path.open(encoding="utf-8", newline="") as file:
            rows += csv.DictReader(file)
    return rows


def test_every_row_of_the_table_becomes_a_valid_shared_ingredient():
    load_ingredients()
    assert Ingredient.objects.filter(owner=None).count() == len(rows_of_the_file())
    for ingredient in Ingredient.objects.all():
        ingredient.full_clean()


def test_values_arrive_as_written():
    load_ingredients()
    flour = Ingredient.objects.get(key="bread-flour")
    row = next(row for row in rows_of_the_file() if row["key"] == "bread-flour")
    assert flour.density_g_per_ml == Decimal(row["density_g_per_ml"])
    assert flour.water_percent == Decimal(row["water_pct"])
    assert flour.allergens_us == ["wheat"]
    assert flour.allergens_eu == ["gluten-cereals"]
    assert flour.tap is False


def test_an_empty_cell_stays_unknown():
    load_ingredients()
    salt = Ingredient.objects.get(key="coarse-flake-salt-light")
    assert (salt.water_percent, salt.density_g_per_ml, salt.each_g) == (None, None, None)


def test_only_the_tap_row_is_from_the_tap():
    assert [row["key"] for row in read_table() if row.get("tap")] == ["water"]


def test_a_starter_is_made_of_its_flours_and_one_without_knows_no_allergens():
    load_ingredients()
    load_ingredients(refresh=True)
    rye = Ingredient.objects.get(key="rye-starter")
    assert [(part.flour.key, part.percent) for part in rye.made_of.all()] == [("rye-flour", 100)]
    assert (rye.kind, rye.hydration_percent) == ("starter", 100)
    unsaid = Ingredient.objects.get(key="sourdough-starter")
    assert (unsaid.hydration_percent, unsaid.made_of.count()) == (None, 0)
    assert not unsaid.allergens_known


def test_a_hydration_is_a_starters_alone():
    with pytest.raises(IntegrityError, match="hydration"):
        IngredientFactory(kind="flour", hydration_percent=100)


def test_loading_twice_changes_nothing():
    load_ingredients()
    again = load_ingredients()
    assert (again.added, again.refreshed, again.left) == (0, 0, len(rows_of_the_file()))


def test_a_changed_shared_value_survives_until_a_refresh():
    load_ingredients()
    Ingredient.objects.filter(key="water").update(note="Hard water here")
    load_ingredients()
    assert Ingredient.objects.get(key="water").note == "Hard water here"
    load_ingredients(refresh=True)
    assert Ingredient.objects.get(key="water").note == "From the tap, never bought."


def test_a_refresh_never_touches_what_a_user_owns():
    own = IngredientFactory(key="water", name="My water", owner=UserFactory(), kind="liquid")
    loaded = load_ingredients(refresh=True)
    own.refresh_from_db()
    assert (own.name, own.note) == ("My water", "")
    assert (loaded.refreshed, loaded.left) == (0, 1)


def test_the_command_says_what_it_did():
    out = StringIO()
    call_command("load_ingredients", stdout=out)
    assert f"{len(rows_of_the_file())} added, 0 refreshed, 0 left" in out.getvalue()
    out = StringIO()
    call_command("load_ingredients", "--refresh", stdout=out)
    assert f"0 added, {len(rows_of_the_file())} refreshed" in out.getvalue()
