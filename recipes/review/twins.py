"""A recipe of the book that an import seems to be: the same text, or the same title."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from django.contrib.auth.models import User
from django.db.models import Q

from recipes.editing.comparing import Difference, differences, recipe_mark
from recipes.editing.recipe import RecipeForm
from recipes.editing.rows import rows_of
from recipes.models import Revision
from recipes.review.forms import ReviewForm
from recipes.selectors import written_of


@dataclass(frozen=True)
class Twin:
    """The current revision of such a recipe; `same_text` if the import was its source."""

    revision: Revision
    same_text: bool

    @cached_property
    def mark(self) -> str:
        """A mark of what the page that offered it showed."""
        return recipe_mark(self.revision)

    def differing(self, form: ReviewForm) -> list[Difference]:
        """Where the import differs from what is in the book."""
        saved = rows_of(written_of(self.revision), form.shelf)
        return differences(RecipeForm(saved, form.shelf), RecipeForm(form.rows, form.shelf))


def twin_of(user: User, *, import_mark: str, title: str) -> Twin | None:
    """The user's recipe of the same text, else of the same title; the last one saved."""
    named = Q(title__iexact=title)
    if import_mark:
        named |= Q(recipe__import_mark=import_mark)
    found = list(Revision.objects.owned_by(user).current().with_formula().filter(named))
    if not found:
        return None
    marked = [row for row in found if import_mark and row.recipe.import_mark == import_mark]
    return Twin(max(marked or found, key=lambda row: row.pk), bool(marked))
