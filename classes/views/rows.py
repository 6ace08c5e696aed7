"""Forms made of rows: what the pages with them share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.forms import BaseInlineFormSet
from django.http import HttpRequest


@dataclass(frozen=True, slots=True)
class RowSection:
    """A titled formset with the word on its add button."""

    formset: BaseInlineFormSet
    title: str
    add: str
    hint: str = ""


def wants_row(request: HttpRequest) -> str:
    """The prefix of the formset that the pressed button adds a row to, or nothing."""
    return request.POST.get("add", "")


def kept_objects(*formsets: BaseInlineFormSet) -> tuple[list[Any], list[Any]]:
    """What valid formsets keep, in order, and what they remove, without untouched empty rows."""
    kept: list[Any] = []
    removed: list[Any] = []
    for formset in formsets:
        for form in formset.forms:
            if form in formset.deleted_forms:
                if form.instance.pk:
                    removed.append(form.instance)
            elif form.instance.pk or form.has_changed():
                kept.append(form.save(commit=False))
    return kept, removed
