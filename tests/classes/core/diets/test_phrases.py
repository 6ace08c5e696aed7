"""Phrases in which a word means another food, and all the others, in which it counts."""

from __future__ import annotations

from string import ascii_lowercase

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from classes.core.diets.phrases import BLANK, without_other_foods
from classes.core.diets.words import WORDS, keys_in, name_in, one_key
from recipes.core.allergens import EU_FOURTEEN, US_NINE
from recipes.core.formula import FormulaIngredient

PLAIN_PHRASES = [
    ("peanut butter", {"peanuts"}),
    ("no Peanut Butter, please", {"peanuts"}),
    ("peanut-butter", {"peanuts"}),
    ("peanut butters!", {"peanuts"}),
    ("peanut butter allergy", {"peanuts"}),
    ("cannot eat peanut butter", {"peanuts"}),
    ("peanut butter and sesame", {"peanuts", "sesame"}),
    ("sesame and peanut butter", {"peanuts", "sesame"}),
    ("almond butter", {"nuts"}),
    ("nut butter", {"nuts"}),
    ("cocoa butter", set()),
    ("shea butter", set()),
    ("butter beans", set()),
    ("almond milk", {"nuts"}),
    ("raw almond milk", {"nuts"}),
    ("oat milk", {"gluten-cereals"}),
    ("soy milk", {"soybeans"}),
    ("coconut milk", set()),
    ("rice milk; eggs", {"eggs"}),
    ("oat/almond milk", {"gluten-cereals", "nuts"}),
    ("milk thistle", set()),
    ("cream of tartar", set()),
    ("coconut cream", set()),
    ("soy yoghurt", {"soybeans"}),
    ("coconut yogurt", set()),
    ("butternut squash", set()),
    ("butter-nut squash", set()),
    ("nutmeg", set()),
    ("coconut", set()),
    ("coco nut", set()),
    ("buckwheat", set()),
    ("buck-wheat", set()),
    ("eggplant", set()),
    ("egg plants", set()),
    ("oyster mushrooms", set()),
    ("crab apples", set()),
    ("rice flour", set()),
    ("monkey nuts", {"nuts", "peanuts"}),
]

EVERY_WORD_COUNTS = [
    ("butter", {"milk"}),
    ("no milk", {"milk"}),
    ("milk is fine", {"milk"}),
    ("can eat butter", {"milk"}),
    ("peanut butter is fine", {"peanuts", "milk"}),
    ("I drink oat milk", {"gluten-cereals", "milk"}),
    ("only almond milk", {"nuts", "milk"}),
    ("peanut butter cookies", {"peanuts", "milk"}),
    ("coconut milk chocolate", {"milk"}),
    ("coconut cream pie", {"milk"}),
    ("peanut, butter", {"peanuts", "milk"}),
    ("peanut\nbutter", {"peanuts", "milk"}),
    ("peanut butter, butter", {"peanuts", "milk"}),
    ("peanut and butter", {"peanuts", "milk"}),
    ("cow’s or oat milk", {"gluten-cereals", "milk"}),
    ("cow, goat and oat milk", {"gluten-cereals", "milk"}),
    ("milk, oat milk", {"gluten-cereals", "milk"}),
    ("non-oat milk", {"gluten-cereals", "milk"}),
    ("goat milk", {"milk"}),
    ("milk powder", {"milk"}),
    ("ice cream", {"milk"}),
    ("cream", {"milk"}),
    ("cream of wheat", {"wheat", "milk"}),
    ("butter nut", {"milk", "nuts"}),
    ("pine nuts", {"nuts"}),
    ("egg noodles", {"eggs"}),
    ("egg-free", {"eggs"}),
    ("wheat free", {"wheat"}),
    ("oyster sauce", {"molluscs"}),
    ("no milk except oat milk", {"gluten-cereals", "milk"}),
    ("milk, vegan", {"milk"}),
]


@pytest.mark.parametrize(
    ("words", "keys"), PLAIN_PHRASES, ids=[ascii(words) for words, _ in PLAIN_PHRASES]
)
def test_a_plain_phrase_names_what_it_is_made_of(words, keys):
    assert set(keys_in(words)) == keys


@pytest.mark.parametrize(
    ("words", "keys"), EVERY_WORD_COUNTS, ids=[ascii(words) for words, _ in EVERY_WORD_COUNTS]
)
def test_whatever_is_not_plainly_a_phrase_keeps_its_warning(words, keys):
    assert set(keys_in(words)) == keys


@pytest.mark.parametrize(
    ("name", "words", "word"),
    [
        ("Butter, unsalted", "peanut butter", ""),
        ("Butter, unsalted", "peanut butter, butter", "butter"),
        ("Butter, unsalted", "butter is fine", "butter"),
        ("Peanut butter", "peanut butter", "peanut butter"),
        ("Peanut butter", "peanuts", "peanut"),
        ("Coconut milk", "coconut milk", "coconut milk"),
        ("Coconut flakes", "coconut milk", "coconut"),
        ("Whole milk", "coconut milk", ""),
        ("Whole milk", "I use coconut milk", "milk"),
        ("Heavy cream", "cream of tartar", ""),
        ("Heavy cream", "whipped cream", "cream"),
        ("Rice flour, white", "rice flour", "rice flour"),
        ("Buckwheat flour", "buckwheat", "buckwheat"),
        ("Oat flour", "oat milk", "oat"),
        ("Nutmeg, ground", "nutmeg", "nutmeg"),
        ("Egg, whole", "eggplant", ""),
        ("Walnuts", "coconut", ""),
    ],
)
def test_an_ingredient_is_not_named_by_a_word_for_another_food(name, words, word):
    assert name_in(FormulaIngredient("some", name), words) == word


def test_only_the_word_for_another_food_is_blanked():
    assert without_other_foods("no peanut butter") == f"no peanut {BLANK * 6}"


# Properties

OWN_NAMES = [(one.key, one.label) for one in (*US_NINE, *EU_FOURTEEN)]
OWN_NAMES += [(key, word) for key, words in WORDS.items() for word in words.split()]
texts = st.sampled_from(
    [words for words, _ in PLAIN_PHRASES + EVERY_WORD_COUNTS] + [word for _, word in OWN_NAMES]
)
# An allergen's own name in two words is no longer its name with a word between them.
TWO_WORDS = [word for _, word in OWN_NAMES if " " in word]
# Nothing that a phrase is made of, or that has to do with one, is spelled with these alone.
fillers = st.text(alphabet=sorted(set(ascii_lowercase) - set("aeiou")), min_size=1, max_size=9)
sentences = st.text(max_size=40)


@given(texts, texts)
def test_what_is_added_after_a_comma_takes_no_hit_away(before, after):
    assert {*keys_in(before), *keys_in(after)} <= set(keys_in(f"{before}, {after}"))


@given(texts.filter(lambda words: words not in TWO_WORDS), fillers, st.integers(0, 20))
@example("cow’s or oat milk", "b", 1)
@example("cow’s or oat milk", "b", 2)
def test_a_word_added_anywhere_takes_no_hit_away(words, filler, at):
    tokens = words.split(" ")
    at = min(at, len(tokens))
    added = " ".join([*tokens[:at], filler, *tokens[at:]])
    assert set(keys_in(words)) <= set(keys_in(added))


@given(sentences, st.sampled_from(OWN_NAMES), sentences)
def test_its_own_name_finds_every_allergen_whatever_stands_around(before, named, after):
    key, name = named
    assert one_key(key) in keys_in(f"{before}, {name}, {after}")


@given(sentences)
def test_reading_changes_no_letter_but_to_a_blank(words):
    read = without_other_foods(words)
    assert len(read) == len(words)
    assert all(new in (old, BLANK) for new, old in zip(read, words, strict=True))
