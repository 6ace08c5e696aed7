"""Variants of a recipe, for people who must not eat one of its ingredients."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.models import User
from django.db.models import ProtectedError
from django.http import HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from config.forms.editing import Form, edited
from config.forms.rows import leave_unchecked, with_row
from config.requests import UserRequest
from recipes.access import instructor_required
from recipes.models import Recipe, Revision
from recipes.selectors import revision_of
from recipes.variants.forms import SwapFormSet, SwapRows, VariantForm
from recipes.variants.selectors import variant_sheets
from recipes.variants.services import add_variant, remove_variant

PREFIX = "swaps"
Parts = tuple[VariantForm, SwapFormSet]


@instructor_required
@require_http_methods(["GET", "POST"])
def variants(request: UserRequest, slug: str) -> HttpResponse:
    """The variants with their amounts, and the form for another."""
    added = "add" in request.POST

    def saved(revision: Revision, parts: Parts) -> str:
        form, swaps = parts
        made = add_variant(revision=revision, name=form.cleaned_data["name"], swaps=swaps.written)
        messages.success(request, f"The variant {made.name} is saved.")
        return reverse("recipes:variants", args=[slug])

    page = Form(
        lambda: revision_of(request.user, slug),
        lambda revision, data: _parts(request.user, revision, data),
        saved,
        (Recipe.objects.filter(owner=request.user, slug=slug),),
    )
    edit = edited(request, page, again=with_row(request.POST, PREFIX) if added else None)
    if edit.answer:
        return edit.answer
    revision, (form, swaps) = edit.row, edit.parts
    if added:
        leave_unchecked([form, swaps])
    context = {"section": "recipes", "revision": revision, "form": form, "swaps": swaps}
    template = "recipes/variants.html"
    if request.htmx:
        return render(request, f"{template}#form", context)
    return render(request, template, context | {"sheets": variant_sheets(revision)})


def _parts(user: User, revision: Revision, data: QueryDict | None) -> Parts:
    form = VariantForm(data, revision=revision)
    return form, SwapRows(data, prefix=PREFIX, revision=revision, user=user)


@instructor_required
@require_POST
def variant_remove(request: UserRequest, slug: str, pk: int) -> HttpResponse:
    revision = revision_of(request.user, slug)
    variant = get_object_or_404(revision.variants, pk=pk)
    try:
        remove_variant(variant=variant)
    except ProtectedError:
        messages.error(request, f"A class uses {variant.name}, so it stays.")
    else:
        messages.success(request, f"{variant.name} is removed.")
    return redirect("recipes:variants", slug=slug)
