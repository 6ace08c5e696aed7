"""Writing and changing a recipe: plain posts, with the rows swapped in place under htmx."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from recipes import selectors, services
from recipes.access import instructor_required
from recipes.baking.units import UNITS, Measures
from recipes.forms.recipe import RecipeForm
from recipes.forms.row_buttons import press, pressed
from recipes.forms.rows import fresh_rows, posted_rows, rows_of
from recipes.forms.shelf import Shelf
from recipes.models import Revision

FORM_METHODS = ["GET", "HEAD", "POST"]
LINE_UNITS = tuple(
    unit.name for unit in UNITS if unit.measures in (Measures.MASS, Measures.VOLUME, Measures.COUNT)
)


@instructor_required
@require_http_methods(FORM_METHODS)
def new(request: HttpRequest) -> HttpResponse:
    form = _form(request, None)
    if form.bound and form.is_valid():
        saved = services.create_recipe(owner=request.user, draft=form.draft())
        messages.success(request, f"{saved.title} is in the book.")
        return redirect(saved)
    return _show(request, form, None)


@instructor_required
@require_http_methods(FORM_METHODS)
def edit(request: HttpRequest, slug: str) -> HttpResponse:
    current = selectors.revision_of(request.user, slug)
    form = _form(request, current)
    if form.bound and form.is_valid():
        saved = services.change_recipe(recipe=current.recipe, draft=form.draft())
        messages.success(request, f"Saved as revision {saved.number}.")
        return redirect(saved)
    return _show(request, form, current)


def _form(request: HttpRequest, current: Revision | None) -> RecipeForm:
    """The form as asked for: fresh or saved, with a row more or less, or to be checked."""
    shelf = Shelf(selectors.ingredients_for(request.user))
    if request.method != "POST":
        rows = rows_of(current, shelf.label) if current else fresh_rows()
        return RecipeForm(rows, shelf)
    rows = posted_rows(request.POST)
    button = pressed(request.POST)
    if button:
        return RecipeForm(rows, shelf, focus=press(rows, button))
    return RecipeForm(rows, shelf, bound=True)


def _show(request: HttpRequest, form: RecipeForm, current: Revision | None) -> HttpResponse:
    template = "recipes/_recipe_form.html" if request.htmx else "recipes/edit.html"
    context = {"section": "recipes", "form": form, "revision": current, "units": LINE_UNITS}
    return render(request, template, context)
