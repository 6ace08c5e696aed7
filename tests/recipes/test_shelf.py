"""Ingredients are found by the words people type."""

import pytest
from django.core.exceptions import ValidationError

from recipes.ingredients.shelf import Shelf
from recipes.models import Ingredient


def shelf(*names, own=()):
    rows = [Ingredient(key=f"shared-{n}", name=name) for n, name in enumerate(names)]
    rows += [Ingredient(key=f"own-{n}", name=name, owner_id=7) for n, name in enumerate(own)]
    return Shelf(rows)


@pytest.mark.parametrize("typed", ["Rye flour", "rye flour", " RYE   FLOUR "])
def test_case_and_spaces_do_not_matter(typed):
    assert shelf("Rye flour", "Water").find(typed).name == "Rye flour"


@pytest.mark.parametrize(
    ("typed", "suggested"),
    [("ry flour", "Rye flour"), ("rye", "Rye flour"), ("flour", "Oat flour")],
)
def test_near_words_are_suggested_and_never_taken(typed, suggested):
    with pytest.raises(ValidationError) as refused:
        shelf("Rye flour", "Oat flour", "Water").find(typed)
    assert suggested in refused.value.messages[0]
    assert "Did you mean" in refused.value.messages[0]


def test_words_near_nothing_say_what_to_do():
    with pytest.raises(ValidationError) as refused:
        shelf("Rye flour").find("qqqqq")
    assert "Add it under Ingredients" in refused.value.messages[0]


def test_an_own_name_is_told_apart_from_the_shared_one():
    both = shelf("Rye flour", own=["rye Flour"])
    assert both.find("rye flour").owner_id == 7
    assert both.find("Rye flour (shared)").owner_id is None
    assert both.labels == ["rye Flour", "Rye flour (shared)"]


def test_labels_lead_back_to_their_ingredient():
    both = shelf("Rye flour", "Water", own=["rye flour"])
    for row in both._by_label.values():
        assert both.find(both.label(row)) is row
