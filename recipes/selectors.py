"""Rows to frozen values of the baking core, and the queries of the recipe book."""

from __future__ import annotations

from django.contrib.auth.models import AbstractUser
from django.db.models import QuerySet
from django.shortcuts import get_object_or_404

from recipes.baking import formula as baking
from recipes.baking.numbers import HUNDRED, ZERO
from recipes.models import Component, Ingredient, IngredientKind, Revision


def ingredient_value(row: Ingredient) -> baking.Ingredient:
    """The ingredient as the arithmetic sees it."""
    return baking.Ingredient(
        key=row.key,
        name=row.name,
        is_flour=row.kind == IngredientKind.FLOUR,
        is_added_liquid=row.kind == IngredientKind.LIQUID,
        water_share=(row.water_percent or ZERO) / HUNDRED,
        each_g=row.each_g,
        each_name=row.each_name,
        allergens_us=tuple(row.allergens_us),
        allergens_eu=tuple(row.allergens_eu),
        may_contain=row.may_contain,
    )


def component_value(row: Component) -> baking.Component:
    """A component with its lines; expects them prefetched."""
    return baking.Component(
        kind=baking.ComponentKind(row.kind),
        name=row.name,
        lines=tuple(
            baking.Line(ingredient_value(line.ingredient), line.mass_g, line.note)
            for line in row.lines.all()
        ),
        for_pieces=row.for_pieces,
        cooking_loss=row.cooking_loss_percent / HUNDRED,
    )


def formula_value(revision: Revision) -> baking.Formula:
    """The formula of a revision fetched `with_formula`; masses in grams."""
    return baking.Formula(
        title=revision.title,
        components=tuple(component_value(part) for part in revision.components.all()),
        piece_g=revision.piece_g,
        pieces=revision.pieces,
    )


def recipe_book(user: AbstractUser) -> QuerySet[Revision]:
    """The current revision of each recipe that the user owns, by title."""
    return Revision.objects.owned_by(user).current().select_related("recipe")


def revision_of(user: AbstractUser, slug: str, number: int | None = None) -> Revision:
    """A revision of the user's own recipe, the current one unless numbered; else 404."""
    revisions = Revision.objects.owned_by(user).with_formula().filter(recipe__slug=slug)
    wanted = revisions.current() if number is None else revisions.filter(number=number)
    return get_object_or_404(wanted)


def ingredients_for(user: AbstractUser) -> QuerySet[Ingredient]:
    """The shared ingredients and the user's own, by name."""
    return Ingredient.objects.for_user(user)
