"""Writes to the recipe book, each in one transaction."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.contrib.auth.models import User
from django.db import transaction
from django.utils.text import slugify

from recipes.core.choices import IngredientKind
from recipes.core.regions import HomeRegion
from recipes.core.written import (
    NamedFlour,
    NamedIngredient,
    WrittenRecipe,
    settled,
    values_of,
)
from recipes.ingredients.services import add_ingredient, with_random_end
from recipes.models import Book, Component, FormulaLine, Ingredient, Recipe, Revision, Step
from recipes.variants.services import carry_variants

# `/recipes/new/` is the page to write a recipe, `/recipes/bring/` the one to import it.
TAKEN_SLUGS = frozenset({"new", "bring"})


def _new_slug(title: str) -> str:
    base = slugify(title)[:80] or "recipe"
    if base in TAKEN_SLUGS or Recipe.objects.filter(slug=base).exists():
        return with_random_end(base)
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
    """The rows of its ingredients; one without a key becomes the owner's own, one per name."""
    named = dict.fromkeys(line.ingredient for part in written.parts for line in part.lines)
    usable = Ingredient.objects.for_user(recipe.owner_id)
    rows = usable.in_bulk(
        [ingredient.key for ingredient in named if ingredient.key], field_name="key"
    )
    added: dict[str, Ingredient] = {}
    for ingredient in named:
        name = ingredient.name.casefold()
        if not ingredient.key and name not in added:
            added[name] = _own(recipe.owner, ingredient)
    return {
        ingredient: rows[ingredient.key] if ingredient.key else added[ingredient.name.casefold()]
        for ingredient in named
    }


def _own(owner: User, named: NamedIngredient) -> Ingredient:
    """The owner's own ingredient of that name, added where there is none."""
    own = Ingredient.objects.filter(owner=owner, name__iexact=named.name).first()
    if own:
        return own
    values: dict[str, Any] = {"name": named.name, "kind": named.kind}
    values["hydration_percent"] = named.hydration_percent
    flours = {_flour(owner, flour): flour.percent for flour in named.flours}
    return add_ingredient(owner=owner, values=values, flours=flours)


def _flour(owner: User, named: NamedFlour) -> Ingredient:
    """The flour with that key if the owner may use it, else their own with that name."""
    known = Ingredient.objects.for_user(owner).filter(key=named.key).first()
    return known or _own(owner, NamedIngredient("", named.name, IngredientKind.FLOUR))


@transaction.atomic
def create_recipe(*, owner: User, written: WrittenRecipe, import_mark: str = "") -> Revision:
    """Put a new recipe into the owner's book as revision 1; `import_mark` marks its text."""
    recipe = Recipe.objects.create(
        owner=owner, slug=_new_slug(written.title), import_mark=import_mark
    )
    revision = Revision.objects.create(recipe=recipe, **values_of(settled(written)))
    _fill(revision, written)
    return revision


@transaction.atomic
def change_recipe(*, recipe: Recipe, written: WrittenRecipe, import_mark: str = "") -> Revision:
    """Save an edit: over the current revision, or as the next one when a class uses it."""
    if import_mark:
        Recipe.objects.filter(pk=recipe.pk).update(import_mark=import_mark)
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
    carry_variants(variants, revision)
    return revision


def keep_revisions(*, revisions: Iterable[Revision]) -> None:
    """Make revisions immutable, because a class now uses them."""
    Revision.objects.filter(pk__in=[revision.pk for revision in revisions]).update(in_use=True)


def set_home_region(*, region: HomeRegion) -> None:
    """Set whose cups, spoons and eggs the book's texts mean from now on."""
    Book.objects.update_or_create(pk=1, defaults={"home_region": region.value})


def propose_home_region(*, region: HomeRegion | None) -> None:
    """Set the home region if nobody has chosen one."""
    if region:
        Book.objects.get_or_create(pk=1, defaults={"home_region": region.value})
