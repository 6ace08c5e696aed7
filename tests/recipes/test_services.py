"""Revisions: written over while nobody uses them, kept once a class does."""

from decimal import Decimal

import pytest
from django.db import IntegrityError

from recipes.core.choices import ComponentKind, StepKind
from recipes.core.written import WrittenLine, WrittenPart, WrittenRecipe, WrittenStep
from recipes.ingredients.services import add_ingredient
from recipes.models import Recipe, Revision, Step
from recipes.selectors import formula_value, ingredient_value, name_of, revision_of, times_of
from recipes.services import change_recipe, create_recipe, keep_revisions
from tests.factories import IngredientFactory, RevisionFactory, flour, water

pytestmark = pytest.mark.django_db


def written(title="Loaf", grams="100"):
    line = WrittenLine(name_of(flour()), Decimal(grams))
    return WrittenRecipe(
        title,
        piece_g=Decimal(100),
        parts=(WrittenPart(ComponentKind.DOUGH, "Dough", lines=(line,)),),
        steps=(WrittenStep(StepKind.MIX, "Mix.", 10, 20),),
    )


def test_recipes_of_the_same_title_get_different_addresses(instructor):
    slugs = {create_recipe(owner=instructor, written=written()).recipe.slug for _ in range(3)}
    assert len(slugs) == 3
    assert "loaf" in slugs


@pytest.mark.parametrize("title", ["麵包", "!!!", "new", "New!"])
def test_every_title_gets_an_address_that_opens(instructor, instructor_client, title):
    revision = create_recipe(owner=instructor, written=written(title))
    assert instructor_client.get(revision.get_absolute_url()).context["revision"] == revision


def test_a_change_replaces_parts_and_steps(instructor):
    first = create_recipe(owner=instructor, written=written())
    change_recipe(recipe=first.recipe, written=written("Better", "250"))
    now = revision_of(instructor, "loaf")
    assert (now.pk, now.number, now.title) == (first.pk, 1, "Better")
    assert formula_value(now).flour_g == 250
    assert Step.objects.count() == 1


def test_a_kept_revision_outlives_every_change(instructor):
    first = create_recipe(owner=instructor, written=written())
    keep_revisions(revisions=[first])
    for n in (2, 3):
        changed = change_recipe(recipe=first.recipe, written=written(f"Change {n}"))
        assert changed.number == 2
    kept = revision_of(instructor, "loaf", 1)
    assert (kept.title, kept.is_current, kept.in_use) == ("Loaf", False, True)
    assert formula_value(kept).flour_g == 100


def test_a_failed_change_leaves_everything_as_it_was(instructor):
    first = create_recipe(owner=instructor, written=written())
    with pytest.raises(Exception, match="line_mass_positive"):
        change_recipe(recipe=first.recipe, written=written("Broken", "-1"))
    now = revision_of(instructor, "loaf")
    assert (now.title, formula_value(now).flour_g) == ("Loaf", 100)
    assert Recipe.objects.count() == Revision.objects.count() == 1


def test_ingredients_of_the_same_name_get_different_keys(instructor, other_instructor):
    values = {"name": "Mill flour", "kind": "flour"}
    keys = {
        add_ingredient(owner=user, values=values).key for user in (instructor, other_instructor)
    }
    assert len(keys) == 2


def test_an_ingredient_reaches_the_core_with_its_shares():
    row = IngredientFactory(kind="liquid", water_percent=Decimal("88.13"), allergens_us=["milk"])
    value = ingredient_value(row)
    assert (value.is_added_liquid, value.is_flour) == (True, False)
    assert value.water_share == Decimal("0.8813")
    assert value.allergens_us == ("milk",)


def test_unknown_water_counts_as_none_and_tap_water_as_whole():
    assert ingredient_value(IngredientFactory()).water_share == 0
    assert ingredient_value(water()).water_share == 1


def test_times_add_up_over_the_steps():
    steps = RevisionFactory(
        steps=[{"hands_on_min": 20, "waiting_min": 5}, {"waiting_min": 75}]
    ).steps.all()
    times = times_of(steps)
    assert (times.hands_on_min, times.waiting_min, times.total_min) == (20, 80, 100)


def test_a_part_of_something_whole_needs_its_share():
    egg = IngredientFactory(each_g=50)
    with pytest.raises(IntegrityError, match="ingredient_part_has_share"):
        IngredientFactory(part_of=egg)
