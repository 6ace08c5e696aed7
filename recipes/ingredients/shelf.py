"""Ingredients by the words people type for them."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from django import forms

from recipes.core.written import NamedIngredient
from recipes.forms.words import quoted
from recipes.models import Ingredient
from recipes.selectors import region_of
from wording.lists import either

SHARED = " (shared)"


class Shelf:
    """The ingredients a user may write into a line.

    The user's own are listed by name; a shared one with the same name adds `(shared)`. The book's
    `region` says what cups and spoons mean; it comes with the rows of `recipes.selectors.shelf_of`.
    """

    def __init__(self, ingredients: Iterable[Ingredient]) -> None:
        rows = list(ingredients)
        self.region = region_of(rows)
        own = {_plain(row.name) for row in rows if row.owner_id is not None}
        self._labels = {
            row.key: row.name + SHARED
            if row.owner_id is None and _plain(row.name) in own
            else row.name
            for row in rows
        }
        self._by_label = {_plain(self._labels[row.key]): row for row in rows}

    @property
    def labels(self) -> list[str]:
        """All labels in alphabetical order, for a list to choose from."""
        return sorted(self._labels.values(), key=str.casefold)

    def label(self, ingredient: Ingredient | NamedIngredient) -> str:
        """What a line shows for an ingredient."""
        return self._labels.get(ingredient.key, ingredient.name)

    def find(self, text: str) -> Ingredient:
        """The ingredient with that label. Raises ValidationError with similar labels."""
        found = self._by_label.get(_plain(text))
        if found is None:
            raise forms.ValidationError(self._unknown(text), code="unknown")
        return found

    def _unknown(self, text: str) -> str:
        near = self._near(_plain(text))
        if near:
            return f"{quoted(text)} is not on the list. Did you mean {either(near)}?"
        return f"{quoted(text)} is not on the list. Add it under Ingredients, or choose another."

    def _near(self, plain: str) -> tuple[str, ...]:
        holding = [label for label in self._by_label if plain in label]
        close = get_close_matches(plain, self._by_label, n=3, cutoff=0.6)
        labels = dict.fromkeys([*close, *sorted(holding)])
        return tuple(self.label(self._by_label[label]) for label in list(labels)[:3])


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()
