"""Kitchens: the list, the form with their equipment, and the pantry."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.contrib.auth.models import User
from django.db.models import ProtectedError, QuerySet
from django.http import HttpResponse, QueryDict
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from classes.access import kitchen_owned_by
from classes.kitchens.forms import (
    ContentRows,
    KitchenForm,
    MixerRows,
    OvenRows,
    ScaleRows,
    StationRows,
    StockFormSet,
    StockRows,
    stock_choices,
)
from classes.kitchens.services import save_kitchen
from classes.models import Kitchen
from classes.money.currency import kept_currencies
from classes.sessions.row_views import RowSection, kept_objects, wants_row
from config.forms.editing import Form, edited
from config.forms.rows import leave_unchecked, with_row
from config.requests import UserRequest
from recipes.access import instructor_required

Parts = tuple[KitchenForm, *tuple[ContentRows, ...]]

STILL_NEEDED = "A class still uses something that you removed, so nothing was saved."


@dataclass(frozen=True, slots=True)
class _Kind:
    prefix: str
    rows: type[ContentRows]
    title: str
    add: str
    hint: str


KINDS = (
    _Kind(
        "stations", StationRows, "Stations", "Add a station", "Benches, and how many work there."
    ),
    _Kind("ovens", OvenRows, "Ovens", "Add an oven", "Slots are loaves that fit at once."),
    _Kind("mixers", MixerRows, "Mixers", "Add a mixer", "The most dough each can knead."),
    _Kind("scales", ScaleRows, "Scales", "Add a scale", "Amounts are rounded to what these show."),
)


@require_GET
@instructor_required
def kitchen_list(request: UserRequest) -> HttpResponse:
    kitchens = Kitchen.objects.owned_by(request.user).with_contents()
    return render(
        request, "classes/kitchen_list.html", {"kitchens": kitchens, "section": "kitchens"}
    )


@require_http_methods(["GET", "POST"])
@instructor_required
def kitchen_new(request: UserRequest) -> HttpResponse:
    return _kitchen_form(request, lambda: Kitchen(owner=request.user))


@require_http_methods(["GET", "POST"])
@instructor_required
def kitchen_edit(request: UserRequest, pk: int) -> HttpResponse:
    own = Kitchen.objects.owned_by(request.user).filter(pk=pk)
    return _kitchen_form(request, lambda: kitchen_owned_by(request.user, pk), own)


def _kitchen_form(
    request: UserRequest, find: Callable[[], Kitchen], *held: QuerySet[Any]
) -> HttpResponse:
    added = wants_row(request)
    form = Form(
        find,
        lambda kitchen, data: _kitchen_parts(request.user, kitchen, data),
        lambda kitchen, parts: _saved_kitchen(request, kitchen, parts),
        held,
    )
    edit = edited(request, form, again=with_row(request.POST, added) if added else None)
    if edit.answer:
        return edit.answer
    if added:
        leave_unchecked(edit.parts)
    main, *formsets = edit.parts
    context = {
        "form": main,
        "seen": edit.seen,
        "sections": [
            RowSection(rows, kind.title, kind.add, kind.hint)
            for kind, rows in zip(KINDS, formsets, strict=True)
        ],
        "kitchen": edit.row,
        "section": "kitchens",
    }
    template = "classes/kitchen_form.html" + ("#form" if request.htmx else "")
    return render(request, template, context)


def _kitchen_parts(owner: User, kitchen: Kitchen, data: QueryDict | None) -> Parts:
    rows = (kind.rows(data, instance=kitchen, prefix=kind.prefix) for kind in KINDS)
    return KitchenForm(data, instance=kitchen, owner=owner), *rows


def _saved_kitchen(request: UserRequest, kitchen: Kitchen, parts: Parts) -> str | None:
    form, *rows = parts
    contents, removed = kept_objects(*rows)
    try:
        save_kitchen(kitchen=form.save(commit=False), contents=contents, removed=removed)
    except ProtectedError:
        form.add_error(None, STILL_NEEDED)
        return None
    messages.success(request, f"{kitchen.name} is saved.")
    if kept := kept_currencies(kitchen):
        messages.info(request, kept)
    return "classes:kitchens"


@require_http_methods(["GET", "POST"])
@instructor_required
def pantry(request: UserRequest, pk: int) -> HttpResponse:
    """What the kitchen has in stock, and the packs it buys."""
    added = wants_row(request)
    form = Form(
        lambda: kitchen_owned_by(request.user, pk),
        _pantry_parts,
        lambda kitchen, parts: _saved_pantry(request, kitchen, parts),
        (Kitchen.objects.owned_by(request.user).filter(pk=pk),),
    )
    edit = edited(request, form, again=with_row(request.POST, added) if added else None)
    if edit.answer:
        return edit.answer
    if added:
        leave_unchecked(edit.parts)
    (rows,) = edit.parts
    section = RowSection(rows, "In stock", "Add an ingredient", "Shopping subtracts these.")
    context = {"kitchen": edit.row, "seen": edit.seen, "sections": [section], "section": "kitchens"}
    template = "classes/pantry.html" + ("#form" if request.htmx else "")
    return render(request, template, context)


def _pantry_parts(kitchen: Kitchen, data: QueryDict | None) -> tuple[StockFormSet]:
    choices = stock_choices(kitchen)
    return (StockRows(data, instance=kitchen, prefix="stock", form_kwargs=choices),)


def _saved_pantry(request: UserRequest, kitchen: Kitchen, parts: tuple[StockFormSet]) -> str:
    contents, removed = kept_objects(*parts)
    save_kitchen(kitchen=kitchen, contents=contents, removed=removed)
    messages.success(request, "The pantry is saved.")
    return reverse("classes:pantry", args=[kitchen.pk])
