"""Writes to the list of ingredients."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.models import User
from django.db import transaction
from django.utils.crypto import get_random_string
from django.utils.text import slugify

from recipes.models import Ingredient

SLUG_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"


def with_random_end(base: str) -> str:
    """A slug or key that nobody has."""
    return f"{base}-{get_random_string(6, SLUG_LETTERS)}"


@transaction.atomic
def add_ingredient(*, owner: User, values: dict[str, Any]) -> Ingredient:
    """Add an ingredient of the owner's own; `values` are field values of Ingredient."""
    key = with_random_end(slugify(str(values["name"]))[:70] or "ingredient")
    return Ingredient.objects.create(owner=owner, key=key, **values)


@transaction.atomic
def change_ingredient(*, ingredient: Ingredient, values: dict[str, Any]) -> Ingredient:
    """Change an ingredient that has an owner. Grams already in recipes stay as they are."""
    if ingredient.owner_id is None:
        raise ValueError("A shared ingredient is changed by refreshing the table only.")
    for name, value in values.items():
        setattr(ingredient, name, value)
    ingredient.save()
    return ingredient
