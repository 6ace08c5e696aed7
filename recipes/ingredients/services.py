"""Writes to the list of ingredients."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import User
from django.db import transaction
from django.utils.crypto import get_random_string
from django.utils.text import slugify

from recipes.models import Ingredient, StarterFlour

SLUG_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"


Flours = Mapping[Ingredient, Decimal]


def with_random_end(base: str) -> str:
    """A slug or key that nothing else has."""
    return f"{base}-{get_random_string(6, SLUG_LETTERS)}"


@transaction.atomic
def add_ingredient(
    *, owner: User, values: dict[str, Any], flours: Flours | None = None
) -> Ingredient:
    """Add an ingredient of the owner's own; `values` are field values of Ingredient.

    `flours` are what a starter is made of, in percent of its flour.
    """
    key = with_random_end(slugify(str(values["name"]))[:70] or "ingredient")
    added = Ingredient.objects.create(owner=owner, key=key, **values)
    _make_of(added, flours or {})
    return added


@transaction.atomic
def add_missing_ingredients(*, owner: User, wanted: Iterable[dict[str, Any]]) -> None:
    """Add those whose names the owner does not have.

    `wanted` are field values of Ingredient, and a starter's `flours`.
    """
    for told in wanted:
        if not Ingredient.objects.filter(owner=owner, name__iexact=told["name"]).exists():
            values = {name: value for name, value in told.items() if name != "flours"}
            add_ingredient(owner=owner, values=values, flours=told.get("flours"))


@transaction.atomic
def change_ingredient(
    *, ingredient: Ingredient, values: dict[str, Any], flours: Flours | None = None
) -> Ingredient:
    """Change an ingredient that has an owner.

    Grams already in recipes stay as they are. Without `flours`, a starter keeps what it is made of.
    """
    if ingredient.owner_id is None:
        raise ValueError("A shared ingredient is changed by refreshing the table only.")
    for name, value in values.items():
        setattr(ingredient, name, value)
    ingredient.save()
    if flours is not None:
        ingredient.made_of.all().delete()
        _make_of(ingredient, flours)
    return ingredient


def _make_of(starter: Ingredient, flours: Flours) -> None:
    StarterFlour.objects.bulk_create(
        StarterFlour(starter=starter, flour=flour, percent=percent)
        for flour, percent in flours.items()
    )
