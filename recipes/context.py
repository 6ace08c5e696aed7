"""What every page may ask about its reader."""

from __future__ import annotations

from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject

from recipes.access import is_instructor


def reader(request: HttpRequest) -> dict[str, object]:
    """`instructs`: whether the reader is an instructor; asked of the database only when used."""
    return {"instructs": SimpleLazyObject(lambda: is_instructor(request.user))}
