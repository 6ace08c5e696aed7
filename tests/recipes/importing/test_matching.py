"""Names and the ingredients they mean."""

import pytest

from recipes.importing.text.matching import IngredientBook, stems
from recipes.importing.text.names import BARE_NAMES, OTHER_NAMES
from recipes.importing.values import KnownIngredient, Sureness


@pytest.mark.parametrize("key", sorted(OTHER_NAMES))
def test_every_other_name_means_its_ingredient_exactly(key, book):
    for name in OTHER_NAMES[key].split("|"):
        match = book.fit(stems(name)).match
        assert (match.key, match.sureness) == (key, Sureness.EXACT), name


@pytest.mark.parametrize("name", sorted(BARE_NAMES))
def test_a_bare_name_proposes_the_first_and_offers_the_others(name, book):
    match = book.fit(stems(name)).match
    assert match.key == BARE_NAMES[name][0]
    assert match.sureness is Sureness.LIKELY
    assert match.candidates[: len(BARE_NAMES[name])] == BARE_NAMES[name]


def test_every_shared_ingredient_is_found_by_its_own_name(book):
    for key in book.keys:
        fit = book.fit(stems(book.get(key).name))
        assert (fit.match.key, fit.match.sureness) == (key, Sureness.EXACT)


def test_every_name_in_the_tables_is_of_a_shared_ingredient(book):
    keys = {*OTHER_NAMES, *(key for keys in BARE_NAMES.values() for key in keys)}
    assert keys <= set(book.keys)


def test_an_ingredient_brings_other_words_of_its_own():
    book = IngredientBook([KnownIngredient("dust", "Fairy dust", words=("pixie powder",))])
    assert book.fit(["pixie", "powder"]).match.key == "dust"


def test_without_ingredients_nothing_is_proposed():
    match = IngredientBook([]).fit(["bread", "flour"]).match
    assert (match.key, match.candidates) == ("", ())


@pytest.mark.parametrize(
    ("word", "key"),
    [
        ("buttermlik", "buttermilk"),
        ("cinamon", "cinnamon"),
        ("molases", "molasses"),
        ("breadflour", "bread-flour"),
    ],
)
def test_one_slip_of_the_fingers_is_forgiven_with_a_doubt(word, key, book):
    match = book.fit([word]).match
    assert (match.key, match.sureness) == (key, Sureness.LIKELY)


def test_ingredients_named_in_a_text_are_found(book):
    assert set(book.named_in("beaten with 1 tbsp of whole milk and a pinch of salt")) == {
        "whole-milk",
        "table-salt",
    }
