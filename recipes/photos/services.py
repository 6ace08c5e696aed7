"""Writes of photos: a row and a file, added and removed together."""

from __future__ import annotations

from functools import partial

from django.core.files.base import ContentFile
from django.db import transaction
from django.utils.crypto import get_random_string

from recipes.models import Photo, Recipe

MOST_PHOTOS = 12
NAME_LETTERS = 24


class EnoughPhotos(ValueError):
    """The recipe already has as many photos as are allowed."""


@transaction.atomic
def add_photo(*, recipe: Recipe, picture: bytes, alt: str) -> Photo:
    """Store a rewritten picture under a name that we choose. Raises EnoughPhotos."""
    locked = Recipe.objects.select_for_update().get(pk=recipe.pk)
    if locked.photos.count() >= MOST_PHOTOS:
        raise EnoughPhotos
    photo = Photo(recipe=locked, alt=alt)
    photo.image.save(f"{get_random_string(NAME_LETTERS)}.jpg", ContentFile(picture), save=True)
    return photo


@transaction.atomic
def remove_photo(*, photo: Photo) -> None:
    """Remove the row, and the file once the transaction is committed."""
    photo.delete()
    transaction.on_commit(partial(photo.image.delete, save=False))
