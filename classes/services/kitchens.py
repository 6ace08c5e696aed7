"""Writes to kitchens, each one transaction."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import models, transaction

from classes.models import Kitchen


@transaction.atomic
def save_kitchen(
    *, kitchen: Kitchen, contents: Iterable[models.Model], removed: Iterable[models.Model] = ()
) -> Kitchen:
    """Save a kitchen with what stands in it or lies in its pantry.

    Raises ProtectedError when something removed is still needed.
    """
    kitchen.save()
    for item in removed:
        item.delete()
    for item in contents:
        item.kitchen = kitchen
        item.save()
    return kitchen
