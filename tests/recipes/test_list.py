"""The list of recipes."""

import pytest
from django.urls import reverse

from tests.factories import IngredientFactory, RevisionFactory, flour

pytestmark = pytest.mark.django_db
URL = "/recipes/"


def test_it_lists_the_users_recipes_by_title(instructor_client, instructor):
    for title in ("Rye", "Batard"):
        RevisionFactory(recipe__owner=instructor, title=title)
    page = instructor_client.get(URL).content.decode()
    assert page.index("Batard") < page.index("Rye")
    assert "2 recipes" in page


def test_an_entry_tells_yield_times_and_allergens(instructor_client, instructor):
    wheat = IngredientFactory(
        name="Wheat", kind="flour", allergens_us=["wheat"], allergens_eu=["gluten-cereals"]
    )
    RevisionFactory(
        recipe__owner=instructor,
        pieces=6,
        piece_g=70,
        parts=[{"lines": {wheat: 100}}],
        steps=[{"hands_on_min": 20, "waiting_min": 90}, {"hands_on_min": 5}],
    )
    page = " ".join(instructor_client.get(URL).content.decode().split())
    assert "6 × 70 g" in page
    assert "hands-on 25 min, waiting 1 h 30 min" in page
    assert "US: wheat" in page
    assert "EU: cereals containing gluten" in page


def test_only_the_current_revision_is_listed(instructor_client, bread):
    RevisionFactory(recipe=bread.recipe, number=2, is_current=False, title="Draft of old")
    assert "Draft of old" not in instructor_client.get(URL).content.decode()


def test_an_empty_book_says_what_to_do_next(instructor_client):
    page = instructor_client.get(URL).content.decode()
    assert "The book is empty" in page
    assert reverse("recipes:new") in page


@pytest.mark.parametrize(
    ("words", "found"),
    [("rye", True), ("RYE", True), ("%", False), ("zzz", False), ("x" * 5000, False)],
)
def test_a_search_narrows_the_list(instructor_client, instructor, words, found):
    RevisionFactory(recipe__owner=instructor, title="Seeded rye")
    page = instructor_client.get(URL, {"q": words}).content.decode()
    assert ("Seeded rye" in page) is found


def test_a_search_with_a_null_character_finds_nothing_and_breaks_nothing(instructor_client, bread):
    assert instructor_client.get(URL, {"q": "plain\0"}).status_code == 200


def test_a_search_without_a_hit_offers_all_recipes(instructor_client, bread):
    page = instructor_client.get(URL, {"q": "zzz"}).content.decode()
    assert "No recipe has “zzz”" in page
    assert "Show all" in page


def test_the_fragment_is_the_list_alone(instructor_client, bread, htmx):
    page = instructor_client.get(URL, {"q": "plain"}, headers=htmx).content.decode()
    assert "Plain bread" in page
    assert "1 found" in page
    assert "<html" not in page
    assert "<h1" not in page


def test_names_are_escaped(instructor_client, instructor):
    RevisionFactory(recipe__owner=instructor, title="<script>alert(1)</script>")
    page = instructor_client.get(URL).content.decode()
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page


def test_the_number_of_queries_does_not_grow(
    instructor_client, instructor, django_assert_num_queries
):
    # Session, user, group; count, keys; revisions, components, lines, ingredients, steps.
    for recipes in (1, 5):
        for _ in range(recipes):
            RevisionFactory(
                recipe__owner=instructor,
                parts=[{}, {"kind": "preferment", "lines": {flour(): 10}}],
                steps=[{}, {}],
            )
        with django_assert_num_queries(10):
            instructor_client.get(URL)


@pytest.mark.parametrize("method", ["post", "put", "delete"])
def test_it_is_there_to_be_read_only(instructor_client, method):
    assert getattr(instructor_client, method)(URL).status_code == 405


def test_a_stranger_is_sent_to_sign_in(stranger):
    answer = stranger.get(URL)
    assert answer.status_code == 302
    assert answer["Location"] == "/sign-in/?next=/recipes/"


def test_an_assistant_finds_no_such_page(assistant_client):
    assert assistant_client.get(URL).status_code == 404


def test_another_instructor_sees_an_empty_book(other_client, bread):
    page = other_client.get(URL).content.decode()
    assert "Plain bread" not in page
    assert "The book is empty" in page
