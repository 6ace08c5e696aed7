"""The queries of the list of ingredients."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib.auth.models import User
from django.shortcuts import get_object_or_404

from recipes.core.allergens import EU_FOURTEEN, US_NINE, Allergen, named
from recipes.core.choices import IngredientKind
from recipes.models import Ingredient
from recipes.selectors import ingredient_value, ingredients_for, with_flours
from wording.starters import made_of


@dataclass(frozen=True, slots=True)
class IngredientEntry:
    """An ingredient as the list shows it, with its allergens in words.

    Those of a starter include those of its flours. `made_of` is empty for anything else.
    """

    ingredient: Ingredient
    us: tuple[Allergen, ...]
    eu: tuple[Allergen, ...]
    allergens_known: bool
    may_contain: str
    made_of: str = ""


@dataclass(frozen=True, slots=True)
class IngredientGroup:
    """All ingredients of a kind."""

    kind: IngredientKind
    entries: tuple[IngredientEntry, ...]


def ingredient_groups(user: User, words: str = "") -> list[IngredientGroup]:
    """Shared and own ingredients by kind and name, only those whose name contains `words`."""
    rows = ingredients_for(user)
    if words:
        rows = rows.filter(name__icontains=words)
    by_kind: dict[str, list[IngredientEntry]] = {}
    for row in with_flours(rows):
        by_kind.setdefault(row.kind, []).append(_entry(row))
    return [
        IngredientGroup(kind, tuple(by_kind[kind])) for kind in IngredientKind if kind in by_kind
    ]


def _entry(row: Ingredient) -> IngredientEntry:
    value = ingredient_value(row)
    return IngredientEntry(
        row,
        named(value.allergens_us, US_NINE),
        named(value.allergens_eu, EU_FOURTEEN),
        value.allergens_known,
        value.may_contain,
        made_of(value),
    )


def own_ingredient(user: User, key: str) -> Ingredient:
    """An ingredient that the user owns; else 404."""
    return get_object_or_404(Ingredient, owner=user, key=key)
