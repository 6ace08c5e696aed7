"""Kitchens: the list, the form with what stands in them, and the pantry."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib import messages
from django.db.models import ProtectedError
from django.forms import BaseInlineFormSet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from classes.access import kitchen_owned_by
from classes.forms.kitchen import (
    KitchenForm,
    MixerRows,
    OvenRows,
    ScaleRows,
    StationRows,
    StockRows,
    stock_choices,
)
from classes.kept_currencies import kept_currencies
from classes.models import Kitchen
from classes.services.kitchens import save_kitchen
from classes.views.rows import RowSection, kept_objects, wants_row
from config.rows import leave_unchecked, with_row
from recipes.access import instructor_required

STILL_NEEDED = "A class still uses something that you removed, so nothing was saved."


@dataclass(frozen=True, slots=True)
class _Kind:
    prefix: str
    rows: type[BaseInlineFormSet]
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
def kitchen_list(request: HttpRequest) -> HttpResponse:
    kitchens = Kitchen.objects.owned_by(request.user).with_contents()
    return render(
        request, "classes/kitchen_list.html", {"kitchens": kitchens, "section": "kitchens"}
    )


@require_http_methods(["GET", "POST"])
@instructor_required
def kitchen_new(request: HttpRequest) -> HttpResponse:
    return _kitchen_form(request, Kitchen(owner=request.user))


@require_http_methods(["GET", "POST"])
@instructor_required
def kitchen_edit(request: HttpRequest, pk: int) -> HttpResponse:
    return _kitchen_form(request, kitchen_owned_by(request.user, pk))


def _sections(kitchen: Kitchen, data: object) -> list[RowSection]:
    return [
        RowSection(
            kind.rows(data, instance=kitchen, prefix=kind.prefix), kind.title, kind.add, kind.hint
        )
        for kind in KINDS
    ]


def _kitchen_form(request: HttpRequest, kitchen: Kitchen) -> HttpResponse:
    added = wants_row(request)
    data = request.POST or None
    if added:
        data = with_row(request.POST, added)
    form = KitchenForm(data, instance=kitchen, owner=request.user)
    sections = _sections(kitchen, data)
    formsets = [section.formset for section in sections]
    if added:
        leave_unchecked([form, *formsets])
    elif request.method == "POST" and all([form.is_valid(), *(one.is_valid() for one in formsets)]):
        contents, removed = kept_objects(*formsets)
        try:
            save_kitchen(kitchen=form.save(commit=False), contents=contents, removed=removed)
        except ProtectedError:
            form.add_error(None, STILL_NEEDED)
        else:
            messages.success(request, f"{kitchen.name} is saved.")
            if kept := kept_currencies(kitchen):
                messages.info(request, kept)
            return redirect("classes:kitchens")
    context = {"form": form, "sections": sections, "kitchen": kitchen, "section": "kitchens"}
    template = "classes/kitchen_form.html" + ("#form" if request.htmx else "")
    return render(request, template, context)


@require_http_methods(["GET", "POST"])
@instructor_required
def pantry(request: HttpRequest, pk: int) -> HttpResponse:
    """What the kitchen has in stock, and the packs it buys."""
    kitchen = kitchen_owned_by(request.user, pk)
    added = wants_row(request)
    data = with_row(request.POST, added) if added else request.POST or None
    rows = StockRows(data, instance=kitchen, prefix="stock", form_kwargs=stock_choices(kitchen))
    if added:
        leave_unchecked([rows])
    elif request.method == "POST" and rows.is_valid():
        contents, removed = kept_objects(rows)
        save_kitchen(kitchen=kitchen, contents=contents, removed=removed)
        messages.success(request, "The pantry is saved.")
        return redirect("classes:pantry", pk=kitchen.pk)
    section = RowSection(rows, "In stock", "Add an ingredient", "Shopping subtracts these.")
    context = {"kitchen": kitchen, "sections": [section], "section": "kitchens"}
    template = "classes/pantry.html" + ("#form" if request.htmx else "")
    return render(request, template, context)
