"""Writes to the recipe book, each one transaction."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import User
from django.db import transaction
from django.utils.crypto import get_random_string
from django.utils.text import slugify

from recipes.core.written import NamedIngredient, WrittenRecipe, settled, values_of
from recipes.models import (
    Component,
    FormulaLine,
    Ingredient,
    Recipe,
    Revision,
    Step,
    Variant,
    VariantSwap,
)


@dataclass(frozen=True, slots=True)
class SwapDraft:
    """One replacement of a variant, in the named component or in all."""

    replaced: Ingredient
    by: Ingredient
    parts: Decimal = Decimal(1)
    component_name: str = ""


SLUG_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
# `/recipes/new/` is the page that writes a recipe, `/recipes/bring/` the one that takes it in.
TAKEN_SLUGS = frozenset({"new", "bring"})


def _with_random_end(base: str) -> str:
    return f"{base}-{get_random_string(6, SLUG_LETTERS)}"


def _new_slug(title: str) -> str:
    base = slugify(title)[:80] or "recipe"
    if base in TAKEN_SLUGS or Recipe.objects.filter(slug=base).exists():
        return _with_random_end(base)
    return base


def _fill(revision: Revision, written: WrittenRecipe) -> None:
    ingredients = _ingredients_of(revision.recipe, written)
    components = Component.objects.bulk_create(
        Component(revision=revision, position=position, **values_of(part))
        for position, part in enumerate(written.parts)
    )
    FormulaLine.objects.bulk_create(
        FormulaLine(
            component=component,
            position=position,
            ingredient=ingredients[line.ingredient],
            **values_of(line),
        )
        for component, part in zip(components, written.parts, strict=True)
        for position, line in enumerate(part.lines)
    )
    Step.objects.bulk_create(
        Step(revision=revision, position=position, **values_of(step))
        for position, step in enumerate(written.steps)
    )


def _ingredients_of(recipe: Recipe, written: WrittenRecipe) -> dict[NamedIngredient, Ingredient]:
    """The rows of its ingredients; one without a key becomes the owner's own, once a name."""
    named = dict.fromkeys(line.ingredient for part in written.parts for line in part.lines)
    usable = Ingredient.objects.for_user(recipe.owner_id)
    rows = usable.in_bulk([one.key for one in named if one.key], field_name="key")
    added: dict[str, Ingredient] = {}
    for one in named:
        name = one.name.casefold()
        if not one.key and name not in added:
            own = Ingredient.objects.filter(owner=recipe.owner, name__iexact=one.name).first()
            values = {"name": one.name, "kind": one.kind}
            added[name] = own or add_ingredient(owner=recipe.owner, values=values)
    return {one: rows[one.key] if one.key else added[one.name.casefold()] for one in named}


@transaction.atomic
def create_recipe(*, owner: User, written: WrittenRecipe) -> Revision:
    """Put a new recipe into the owner's book as revision 1."""
    recipe = Recipe.objects.create(owner=owner, slug=_new_slug(written.title))
    revision = Revision.objects.create(recipe=recipe, **values_of(settled(written)))
    _fill(revision, written)
    return revision


@transaction.atomic
def change_recipe(*, recipe: Recipe, written: WrittenRecipe) -> Revision:
    """Save an edit: over the current revision, or as the next one when a class uses it."""
    current = Revision.objects.select_for_update().get(recipe=recipe, is_current=True)
    variants = list(current.variants.prefetch_related("swaps__replaced", "swaps__by"))
    head = values_of(settled(written))
    if current.in_use:
        Revision.objects.filter(pk=current.pk).update(is_current=False)
        revision = Revision.objects.create(recipe=recipe, number=current.number + 1, **head)
    else:
        current.components.all().delete()
        current.steps.all().delete()
        for name, value in head.items():
            setattr(current, name, value)
        current.save()
        revision = current
    _fill(revision, written)
    _carry_variants(variants, revision)
    return revision


@transaction.atomic
def add_variant(*, revision: Revision, name: str, swaps: Sequence[SwapDraft]) -> Variant:
    """Keep a variant of a revision."""
    variant = Variant.objects.create(revision=revision, name=name)
    VariantSwap.objects.bulk_create(
        VariantSwap(
            variant=variant,
            position=position,
            component_name=swap.component_name,
            replaced=swap.replaced,
            by=swap.by,
            parts=swap.parts,
        )
        for position, swap in enumerate(swaps)
    )
    return variant


def remove_variant(*, variant: Variant) -> None:
    """Take a variant out of the book. Raises ProtectedError while a class uses it."""
    variant.delete()


def _carry_variants(variants: Sequence[Variant], revision: Revision) -> None:
    """Bring along the variants whose replaced ingredients the changed recipe still has."""
    has = {
        (name, line.ingredient_id)
        for part in revision.components.prefetch_related("lines")
        for line in part.lines.all()
        for name in ("", part.name)
    }
    for variant in variants:
        swaps = variant.swaps.all()
        fits = all((swap.component_name, swap.replaced_id) in has for swap in swaps)
        if fits and variant.revision_id != revision.pk:
            add_variant(
                revision=revision,
                name=variant.name,
                swaps=[
                    SwapDraft(swap.replaced, swap.by, swap.parts, swap.component_name)
                    for swap in swaps
                ],
            )
        elif not fits and variant.revision_id == revision.pk:
            variant.delete()


def keep_revisions(*, revisions: Iterable[Revision]) -> None:
    """Make revisions immutable, because a class now uses them."""
    Revision.objects.filter(pk__in=[one.pk for one in revisions]).update(in_use=True)


@transaction.atomic
def add_ingredient(*, owner: User, values: dict[str, Any]) -> Ingredient:
    """Add an ingredient of the owner's own; `values` are field values of Ingredient."""
    key = _with_random_end(slugify(str(values["name"]))[:70] or "ingredient")
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
