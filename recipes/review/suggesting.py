"""What is near to an ingredient that is not on the list."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from recipes.importing.naming.index import name_words
from recipes.importing.shelf import known_ingredient
from recipes.importing.text.matching import IngredientBook
from recipes.ingredients.shelf import Shelf
from recipes.models import Ingredient


@dataclass(frozen=True, slots=True)
class Suggestion:
    """An ingredient of the list that may be meant."""

    key: str
    label: str


class ReviewShelf(Shelf):
    """The list, and for a name that is not on it those of the same kind and grade."""

    def __init__(self, ingredients: Iterable[Ingredient]) -> None:
        self._rows = list(ingredients)
        super().__init__(self._rows)

    @cached_property
    def _book(self) -> IngredientBook:
        return IngredientBook(map(known_ingredient, self._rows), region=None)

    def near(self, name: str) -> list[Suggestion]:
        """At most five that may be meant by a name, nearest first."""
        words = name_words(name)
        codes = [word for word in words if word[-1].isdigit()]
        match = self._book.fit([word for word in words if word not in codes], codes).match
        rows = {row.key: row for row in self._rows}
        return [Suggestion(key, self.label(rows[key])) for key in match.candidates]
