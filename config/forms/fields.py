"""A form's fields by their type, for changing one when the form is made."""

from __future__ import annotations

from typing import TypeVar

from django.forms import BaseForm, Field

Kind = TypeVar("Kind", bound=Field)


def field_of(form: BaseForm, name: str, kind: type[Kind]) -> Kind:
    """A field of this type, so that its `choices`, `queryset` and the like can be set."""
    found = form.fields[name]
    if not isinstance(found, kind):
        raise TypeError(f"{name} is no {kind.__name__}")
    return found
