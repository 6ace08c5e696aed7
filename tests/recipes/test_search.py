"""Search in the recipe book: all that is asked holds at once, page by page; no promises."""

import pytest

from recipes.book import searching
from tests.factories import IngredientFactory, RevisionFactory, water
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
URL = "/recipes/"


@pytest.fixture
def book(instructor):
    """Four breads that differ in ingredients, allergens and times."""
    wheat = IngredientFactory(
        name="Wheat flour", kind="flour", allergens_us=["wheat"], allergens_eu=["gluten-cereals"]
    )
    rye = IngredientFactory(name="Rye flour", kind="flour", allergens_eu=["gluten-cereals"])
    sesame = IngredientFactory(
        name="Sesame seeds", kind="seed", allergens_us=["sesame"], allergens_eu=["sesame"]
    )
    oats = IngredientFactory(name="Oats", kind="grain", may_contain="may contain sesame")

    def add(title, minutes, *parts):
        steps = [{"hands_on_min": minutes // 2, "waiting_min": minutes - minutes // 2}]
        RevisionFactory(
            recipe__owner=instructor, title=title, parts=parts, steps=steps if minutes else []
        )

    add("Hearth loaf", 200, {"lines": {wheat: 100, water(): 60}})
    add("Rye tin", 900, {"lines": {rye: 100, water(): 80}})
    topping = {"kind": "topping", "name": "Seeds", "lines": {sesame: 10}}
    add("Seeded ring", 180, {"lines": {wheat: 100, water(): 60}}, topping)
    add("Oat bread", 0, {"lines": {wheat: 80, oats: 20}})


def titles(client, **asked):
    answer = client.get(URL, asked)
    assert answer.status_code == 200
    return [entry.revision.title for entry in answer.context["book"].entries]


EVERYTHING = ["Hearth loaf", "Oat bread", "Rye tin", "Seeded ring"]


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ({}, EVERYTHING),
        ({"q": "rye"}, ["Rye tin"]),
        ({"ingredient": "rye"}, ["Rye tin"]),
        ({"ingredient": "FLOUR"}, EVERYTHING),
        ({"ingredient": "saffron"}, []),
        ({"ingredient": "%"}, []),
        ({"holds": "us:sesame"}, ["Seeded ring"]),
        ({"holds": "us:wheat"}, ["Hearth loaf", "Oat bread", "Seeded ring"]),
        ({"holds": "eu:gluten-cereals"}, EVERYTHING),
        ({"without": "us:wheat"}, ["Rye tin"]),
        ({"without": "eu:gluten-cereals"}, []),
        ({"without": "us:sesame"}, ["Hearth loaf", "Oat bread", "Rye tin"]),
        ({"time": "180"}, ["Seeded ring"]),
        ({"time": "3 h 20 min"}, ["Hearth loaf", "Seeded ring"]),
        ({"time": "179"}, []),
        ({"holds": "us:wheat", "without": "us:sesame", "time": "4 h"}, ["Hearth loaf"]),
        ({"q": "loaf", "ingredient": "rye"}, []),
    ],
)
def test_all_that_is_asked_holds_at_once(instructor_client, book, asked, found):
    assert titles(instructor_client, **asked) == found


def test_traces_on_a_pack_are_shown_with_what_is_not_entered(instructor_client, book):
    page = text_of(instructor_client.get(URL, {"without": "us:sesame"}))
    assert "On the packs: Oats: may contain sesame" in page


def test_not_entered_is_worded_as_no_promise(instructor_client, book):
    page = text_of(instructor_client.get(URL))
    assert "“Not entered as containing” only means that nobody entered it" in page
    assert "It promises nothing: read the labels" in page
    assert "safe for" not in page
    assert "free from" not in page


@pytest.mark.parametrize(
    ("asked", "field", "words"),
    [
        ({"time": "soon"}, "time", "We cannot read “soon”"),
        ({"time": "0"}, "time", "Enter 1 min or more."),
        ({"time": "-5"}, "time", "We cannot read “-5”"),
        ({"holds": "us:gluten"}, "holds", "Select a valid choice"),
        ({"without": "x"}, "without", "Select a valid choice"),
    ],
)
def test_what_cannot_be_read_is_told_by_the_field_and_not_asked(
    instructor_client, book, htmx, asked, field, words
):
    answer = instructor_client.get(URL, asked)
    assert words in " ".join(answer.context["search"].errors[field])
    assert words in text_of(answer)
    assert len(answer.context["book"].entries) == 4
    fragment = instructor_client.get(URL, asked, headers=htmx)
    assert words in text_of(fragment)


@pytest.mark.parametrize(
    "asked", [{"ingredient": "x\0y"}, {"q": "'; --"}, {"ingredient": "z" * 90000}, {"page": "\0"}]
)
def test_odd_words_break_nothing(instructor_client, book, asked):
    titles(instructor_client, **asked)


def test_nothing_found_says_what_to_do(instructor_client, book):
    page = text_of(instructor_client.get(URL, {"ingredient": "saffron", "time": "1 h"}))
    assert "No recipe in your book matches all of this." in page
    assert "recipes without written times are left out" in page
    assert "Show all" in page


def test_the_fold_is_open_while_it_narrows(instructor_client, book):
    fold = '<details class="narrow" open>'
    assert fold in instructor_client.get(URL, {"holds": "us:sesame"}).content.decode()
    assert fold not in instructor_client.get(URL, {"q": "rye"}).content.decode()


def test_only_the_users_own_recipes_are_found(other_client, book):
    assert titles(other_client, holds="us:wheat") == []


@pytest.fixture
def many(instructor, monkeypatch):
    """Nine breads where a page takes four."""
    monkeypatch.setattr(searching, "A_PAGE", 4)
    for n in range(1, 10):
        RevisionFactory(recipe__owner=instructor, title=f"Bread {n}")


@pytest.mark.parametrize(
    ("number", "first", "last"),
    [
        ("1", "Bread 1", "Bread 4"),
        ("2", "Bread 5", "Bread 8"),
        ("3", "Bread 9", "Bread 9"),
        ("7", "Bread 9", "Bread 9"),
        ("0", "Bread 9", "Bread 9"),
        ("x", "Bread 1", "Bread 4"),
        ("9" * 5000, "Bread 1", "Bread 4"),
    ],
)
def test_the_book_comes_in_pages(instructor_client, many, number, first, last):
    shown = titles(instructor_client, page=number)
    assert (shown[0], shown[-1]) == (first, last)


def test_pages_link_each_other_and_keep_the_search(instructor_client, many):
    page = instructor_client.get(URL, {"q": "bread", "page": "2"})
    html = " ".join(page.content.decode().split())
    assert "Page 2 of 3: 5 to 8" in text_of(page)
    assert 'rel="prev" href="/recipes/?q=bread&amp;page=1"' in html
    assert 'rel="next" href="/recipes/?q=bread&amp;page=3"' in html
    assert "9 found" in text_of(page)


def test_words_in_a_page_link_are_escaped(instructor_client, instructor, many):
    RevisionFactory.create_batch(5, recipe__owner=instructor, title='"&<b>')
    html = instructor_client.get(URL, {"q": '"&<'}).content.decode()
    assert "q=%22%26%3C&amp;page=2" in html
    assert "<b>" not in html


def test_a_short_book_has_no_pages(instructor_client, book):
    assert "Page 1" not in text_of(instructor_client.get(URL))


def test_a_full_search_takes_a_fixed_number_of_queries(
    instructor_client, many, book, django_assert_max_num_queries
):
    asked = {
        "q": "e",
        "ingredient": "flour",
        "holds": "us:wheat",
        "without": "us:egg",
        "time": "99",
    }
    with django_assert_max_num_queries(13):
        instructor_client.get(URL, asked)
