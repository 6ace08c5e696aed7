"""Photos of the user's own recipes."""

from __future__ import annotations

from django.contrib.auth.models import User
from django.db.models import QuerySet
from django.shortcuts import get_object_or_404

from recipes.models import Photo, Recipe, Revision


def recipe_with_photos(user: User, slug: str) -> Revision:
    """The current revision of the user's own recipe, with the recipe's photos; else 404."""
    revisions = Revision.objects.owned_by(user).current().select_related("recipe")
    return get_object_or_404(revisions.prefetch_related("recipe__photos"), recipe__slug=slug)


def photo_of(user: User, slug: str, pk: int) -> Photo:
    """A photo of the user's own recipe; else 404."""
    return get_object_or_404(photos_of(user, slug), pk=pk)


def photos_of(user: User, slug: str) -> QuerySet[Photo]:
    """All photos of the user's own recipe, the first added first."""
    recipes = Recipe.objects.filter(owner=user, slug=slug)
    return Photo.objects.filter(recipe__in=recipes)
