"""The home region of the recipe book, as an owner sets it and an import goes by it."""

from __future__ import annotations

import pytest
from django.urls import reverse

from recipes.core.regions import HomeRegion
from recipes.importing.shelf import ingredient_book
from recipes.selectors import home_region
from tests.factories import IngredientFactory

MEASURES = reverse("house:measures")
BRING = reverse("recipes:bring")


@pytest.fixture
def honey(db):
    return IngredientFactory(name="Honey", key="honey", kind="sugar", density_g_per_ml="1.433")


def grams(client, text, **typed):
    """What the first line of a text is read as on the review sheet."""
    answer = client.post(BRING, {"text": f"Loaf\n{text}\n\nMethod\nMix.", **typed})
    row = answer.context["form"].parts[0].lines[0]
    return f"{row['amount'].value()} {row['unit'].value()}", row.state.word


def test_an_owner_says_whose_measures_are_meant(owner_client, honey, owner):
    assert home_region() is None
    assert 'value="" selected' in owner_client.get(MEASURES).content.decode()
    assert grams(owner_client, "1 tbsp honey") == ("1 tbsp", "Check")
    answer = owner_client.post(MEASURES, {"home_region": "au"}, follow=True)
    assert "Measures are those of: Australia." in answer.content.decode()
    assert ingredient_book(owner).region is HomeRegion.AU
    assert grams(owner_client, "1 tbsp honey") == ("1 Australian tbsp", "Understood")
    assert 'value="au" selected' in owner_client.get(MEASURES).content.decode()


def test_one_text_can_be_read_by_others(owner_client, honey):
    owner_client.post(MEASURES, {"home_region": "au"})
    assert grams(owner_client, "1 tbsp honey", region="uk")[0] == "1 metric tbsp"
    # A US tablespoon is none of this book's, so it comes as grams: 339 g a cup, a 16th.
    assert grams(owner_client, "1 tbsp honey\nUS cups", region="uk")[0] == "21.1894 g"


@pytest.mark.parametrize("posted", ["", "mars", "\0"])
def test_a_region_there_is_not_is_refused(owner_client, posted):
    assert owner_client.post(MEASURES, {"home_region": posted}).status_code == 200
    assert home_region() is None


def test_who_is_no_owner_finds_no_such_page(instructor_client):
    assert instructor_client.get(MEASURES).status_code == 404
    assert instructor_client.post(MEASURES, {"home_region": "us"}).status_code == 404
    assert home_region() is None


def test_the_region_comes_with_the_ingredients_in_one_query(
    owner, honey, django_assert_num_queries
):
    with django_assert_num_queries(1):
        ingredient_book(owner)
