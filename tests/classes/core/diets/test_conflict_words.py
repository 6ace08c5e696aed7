"""What a recipe holds that somebody must not eat, in full, and what a wall has room for."""

from __future__ import annotations

from classes.core.diets.conflict_words import LONGEST_ON_WALL, MOST_ON_WALL, found_words
from classes.core.diets.conflicts import basis_of
from classes.core.diets.findings import BakedRecipe, Eater, Occurrence
from tests.recipes.core.breads import HEARTH_LOAF


def place(name="Sesame seeds"):
    return Occurrence(
        recipe="Ring", component="Topping", ingredient=name, ingredient_key="sesame",
        because="sesame", traces="", steps=(), own=True, told=("sesame",),
    )  # fmt: skip


def eater(*, private=False, words=""):
    return Eater("ada", "Ada", "Bench 1", ("sesame",), words, private)


def baked():
    return BakedRecipe("Ring", HEARTH_LOAF, (), frozenset({"ada"}))


def test_in_private_every_place_is_said_in_full():
    many = [place(f"Sesame {n} {'x' * LONGEST_ON_WALL}") for n in range(MOST_ON_WALL + 2)]
    [words] = found_words(many)
    assert all(one.ingredient in words for one in many)
    assert "more" not in words


def test_a_wall_has_the_first_few_and_says_how_many_more_there_are():
    many = [place(f"Sesame {n} {'x' * LONGEST_ON_WALL}") for n in range(MOST_ON_WALL + 2)]
    [words] = found_words(many, on_wall=True)
    assert "2 more" in words
    assert many[0].ingredient not in words


def test_telling_it_in_private_is_part_of_what_was_decided_about():
    assert "in private" in basis_of(eater(private=True), baked(), ()).told
    assert "in private" not in basis_of(eater(), baked(), ()).told
    assert "words: no seeds" in basis_of(eater(words="no seeds"), baked(), ()).told
