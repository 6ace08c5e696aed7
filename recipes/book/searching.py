"""Search in the recipe book: by words, ingredient, allergens as entered, and time; paginated."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from django.contrib.auth.models import User
from django.core.paginator import Page, Paginator
from django.db.models import Exists, F, OuterRef, Q, QuerySet, Subquery, Sum

from recipes.core.allergens import AllergensFound, found_in
from recipes.models import FormulaLine, Ingredient, Revision, Step
from recipes.selectors import (
    WorkTimes,
    ingredient_value,
    ingredients_for,
    recipe_book,
    times_of,
    with_flours,
)

A_PAGE = 40


class AllergenKey(NamedTuple):
    """An entry of one of the lists: `us` or `eu`, and its key there."""

    regime: str
    key: str


@dataclass(frozen=True, slots=True)
class Wanted:
    """The search criteria; all must match, and empty ones are ignored.

    `holds` and `not_entered` go only by what is entered for the ingredients. Recipes without times
    are found only if `most_min` is empty.
    """

    words: str = ""
    ingredient: str = ""
    holds: AllergenKey | None = None
    not_entered: AllergenKey | None = None
    most_min: int | None = None

    def __bool__(self) -> bool:
        asked = (self.words, self.ingredient, self.holds, self.not_entered)
        return any(asked) or self.most_min is not None


def matching(user: User, wanted: Wanted) -> QuerySet[Revision]:
    """The current revisions in the user's book that match `wanted`, by title."""
    found = recipe_book(user).order_by("title", "pk")
    if wanted.words:
        found = found.filter(Q(title__icontains=wanted.words) | Q(summary__icontains=wanted.words))
    if wanted.most_min is not None:
        found = found.alias(total_min=_total_min()).filter(total_min__range=(1, wanted.most_min))
    if wanted.holds:
        found = found.filter(_has_any(_entered_with(user, wanted.holds)))
    if wanted.not_entered:
        found = found.filter(~_has_any(_entered_with(user, wanted.not_entered)))
    if wanted.ingredient:
        named = ingredients_for(user).filter(name__icontains=wanted.ingredient)
        found = found.filter(_has_any(named.values_list("pk", flat=True)))
    return found


def _has_any(ingredients: Iterable[int]) -> Exists:
    """Whether a revision has a line of one of the ingredients, given by primary key.

    The sum keeps SQLite from scanning all lines of an ingredient for every recipe.
    """
    lines = FormulaLine.objects.filter(component__revision=OuterRef("pk"))
    return Exists(lines.alias(of=F("ingredient_id") + 0).filter(of__in=list(ingredients)))


def _total_min() -> Subquery:
    """The minutes of all steps of a revision, hands-on and waiting."""
    steps = Step.objects.filter(revision=OuterRef("pk")).order_by().values("revision")
    return Subquery(steps.values(total=Sum(F("hands_on_min") + F("waiting_min"))))


def _entered_with(user: User, allergen: AllergenKey) -> list[int]:
    """The ingredients entered with an allergen, starters of a flour entered with it among them.

    In Python, because the shelf is small and JSON is not a column to filter by.
    """
    column = f"allergens_{allergen.regime}"
    rows = ingredients_for(user).order_by().values_list("pk", column, f"made_of__flour__{column}")
    return list({pk for pk, *lists in rows for keys in lists if keys and allergen.key in keys})


@dataclass(frozen=True, slots=True)
class BookEntry:
    """A recipe as the list shows it."""

    revision: Revision
    times: WorkTimes
    allergens: AllergensFound


@dataclass(frozen=True, slots=True)
class BookPage:
    """One page of the recipes found; `found` counts those on all pages."""

    entries: tuple[BookEntry, ...]
    found: int
    page: Page[int]


def book_page(user: User, wanted: Wanted, number: str) -> BookPage:
    """A page of the user's book; an invalid number gives the first page, one too high the last."""
    found = matching(user, wanted).values_list("pk", flat=True)
    page = Paginator(found, A_PAGE).get_page(number)
    keys = list(page)
    rows = Revision.objects.with_formula().in_bulk(keys)
    with_flours(row for revision in rows.values() for row in _ingredients(revision))
    return BookPage(tuple(_entry(rows[key]) for key in keys), page.paginator.count, page)


def _entry(revision: Revision) -> BookEntry:
    found = found_in(map(ingredient_value, _ingredients(revision)))
    return BookEntry(revision, times_of(revision.steps.all()), found)


def _ingredients(revision: Revision) -> Iterator[Ingredient]:
    for part in revision.components.all():
        for line in part.lines.all():
            yield line.ingredient
