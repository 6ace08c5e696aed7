"""What pages with forms made of rows share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.forms import BaseInlineFormSet
from django.http import HttpRequest

from classes.sessions.formsets import Child, ChildForm

MOST_FIGURES = 18


def key_of(text: str | None) -> int:
    """The key in a text; 0, which no row has, for anything else."""
    named = (text or "").strip()
    known = named.isascii() and named.isdecimal() and len(named) <= MOST_FIGURES
    return int(named) if known else 0


@dataclass(frozen=True, slots=True)
class RowSection:
    """A titled formset with the label of its add button."""

    formset: BaseInlineFormSet[Any, Any, Any]
    title: str
    add: str
    hint: str = ""


def wants_row(request: HttpRequest) -> str:
    """The prefix of the formset that the pressed button adds a row to, or empty."""
    return request.POST.get("add", "")


def kept_forms(formset: BaseInlineFormSet[Any, Any, ChildForm]) -> list[ChildForm]:
    """The rows of a valid formset that stay, in order, without untouched empty ones."""
    return [
        form
        for form in formset.forms
        if form not in formset.deleted_forms
        and (form.instance.pk or form.has_changed() or not form.empty_permitted)
    ]


def kept_objects(
    *formsets: BaseInlineFormSet[Child, Any, Any],
) -> tuple[list[Child], list[Child]]:
    """The objects that valid formsets keep, in order, and those they remove."""
    kept = [form.save(commit=False) for formset in formsets for form in kept_forms(formset)]
    removed = [
        form.instance for formset in formsets for form in formset.deleted_forms if form.instance.pk
    ]
    return kept, removed
