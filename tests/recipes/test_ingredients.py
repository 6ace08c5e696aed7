"""The list of ingredients."""

import pytest

from recipes.ingredients.table import load_ingredients
from tests.factories import IngredientFactory, UserFactory
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
URL = "/ingredients/"


def test_ingredients_stand_under_their_kinds(instructor_client):
    IngredientFactory(name="Olive oil", kind="fat")
    IngredientFactory(name="Rye flour", kind="flour")
    page = text_of(instructor_client.get(URL))
    assert page.index("Flour Rye flour") < page.index("Fat Olive oil")
    assert "2 ingredients" in page


def test_an_ingredient_tells_weight_allergens_and_storage(instructor_client):
    IngredientFactory(
        name="Egg",
        kind="egg",
        density_g_per_ml="1.027",
        density_source="a table",
        each_g=50,
        each_name="large egg",
        allergens_us=["egg"],
        allergens_eu=["eggs"],
        storage="chilled",
        aisle="dairy",
        may_contain="may contain milk",
    )
    page = text_of(instructor_client.get(URL))
    for words in (
        "243 g a cup a table",
        "50 g a large egg",
        "US allergens egg",
        "EU allergens eggs",
        "Storage chilled dairy",
        "On the pack: may contain milk",
    ):
        assert words in page


def test_unknown_weight_and_allergens_are_told_as_unknown(instructor_client):
    IngredientFactory(name="Walnuts")
    page = text_of(instructor_client.get(URL))
    assert "Weighs weigh it" in page
    assert "US allergens none entered" in page
    assert "free from" not in page


def test_shared_ones_are_copied_and_own_ones_changed(instructor_client, instructor):
    IngredientFactory(name="Shared", key="shared")
    IngredientFactory(name="Own", key="own", owner=instructor)
    html = instructor_client.get(URL).content.decode()
    assert 'href="/ingredients/new/?like=shared"' in html
    assert 'href="/ingredients/own/edit/"' in html
    assert 'href="/ingredients/shared/edit/"' not in html
    assert "yours" in html


def test_nobody_sees_somebody_elses(instructor_client):
    IngredientFactory(name="Secret mix", owner=UserFactory())
    assert "Secret mix" not in instructor_client.get(URL).content.decode()


def test_a_starter_shows_its_water_its_flours_and_what_they_contain(instructor_client):
    load_ingredients()
    page = text_of(instructor_client.get(URL, {"q": "starter, whole"}))
    assert "100 % water; Whole wheat flour" in page
    assert "US allergens wheat" in page
    assert "Cannot say" not in page
    unsaid = text_of(instructor_client.get(URL, {"q": "starter"}))
    assert "Cannot say how much water; cannot say which flours" in unsaid
    assert "Cannot say which allergens it contains" in unsaid


def test_a_search_narrows_the_list(instructor_client):
    IngredientFactory(name="Rye flour")
    IngredientFactory(name="Olive oil")
    page = text_of(instructor_client.get(URL, {"q": "RYE"}))
    assert "Rye flour" in page
    assert "Olive oil" not in page
    assert "1 found" in page


def test_a_search_without_a_hit_says_what_to_do_next(instructor_client):
    page = text_of(instructor_client.get(URL, {"q": "zzz"}))
    assert "No ingredient has “zzz” in its name." in page
    assert "Add an ingredient" in page


def test_an_empty_list_says_what_to_do_next(instructor_client):
    assert "load_ingredients" in text_of(instructor_client.get(URL))


def test_the_fragment_is_the_list_alone(instructor_client, htmx):
    IngredientFactory(name="Rye flour")
    html = instructor_client.get(URL, headers=htmx).content.decode()
    assert "Rye flour" in html
    assert "<h1" not in html
    assert 'id="found" data-hx-swap-oob="innerHTML"' in html


def test_the_whole_table_takes_one_query_more_than_one_ingredient_for_the_flours_of_starters(
    instructor_client, django_assert_num_queries
):
    IngredientFactory()
    with django_assert_num_queries(4):
        instructor_client.get(URL)
    load_ingredients()
    with django_assert_num_queries(5):
        assert instructor_client.get(URL).context["found"] > 50


@pytest.mark.parametrize("method", ["post", "put", "delete"])
def test_it_is_there_to_be_read_only(instructor_client, method):
    assert getattr(instructor_client, method)(URL).status_code == 405


def test_outsiders_do_not_see_it(stranger, assistant_client):
    assert stranger.get(URL).status_code == 302
    assert assistant_client.get(URL).status_code == 404
