"""Variants of a recipe, for people who must not eat one of its ingredients."""

from __future__ import annotations

from django.contrib import messages
from django.db.models import ProtectedError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from config.rows import leave_unchecked, with_row
from recipes.access import instructor_required
from recipes.forms.variants import SwapFormSet, VariantForm
from recipes.selectors import revision_of
from recipes.services import add_variant, remove_variant
from recipes.variants import variant_sheets

PREFIX = "swaps"


@instructor_required
@require_http_methods(["GET", "POST"])
def variants(request: HttpRequest, slug: str) -> HttpResponse:
    """The variants with their amounts, and the form for another."""
    revision = revision_of(request.user, slug)
    added = "add" in request.POST
    data = with_row(request.POST, PREFIX) if added else request.POST or None
    form = VariantForm(data, revision=revision)
    swaps = SwapFormSet(data, prefix=PREFIX, revision=revision, user=request.user)
    if added:
        leave_unchecked([form, swaps])
    elif request.method == "POST" and all([form.is_valid(), swaps.is_valid()]):
        made = add_variant(revision=revision, name=form.cleaned_data["name"], swaps=swaps.drafts)
        messages.success(request, f"The variant {made.name} is kept.")
        return redirect("recipes:variants", slug=slug)
    context = {"section": "recipes", "revision": revision, "form": form, "swaps": swaps}
    template = "recipes/variants.html"
    if request.htmx:
        return render(request, f"{template}#form", context)
    return render(request, template, context | {"sheets": variant_sheets(revision)})


@instructor_required
@require_POST
def variant_remove(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    revision = revision_of(request.user, slug)
    variant = get_object_or_404(revision.variants, pk=pk)
    try:
        remove_variant(variant=variant)
    except ProtectedError:
        messages.error(request, f"A class uses {variant.name}, so it stays.")
    else:
        messages.success(request, f"{variant.name} is removed.")
    return redirect("recipes:variants", slug=slug)
