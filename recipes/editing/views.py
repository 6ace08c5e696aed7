"""Writing and changing a recipe: plain posts, with the rows swapped in place under htmx."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from config.forms.saving import one_save
from config.forms.seen import SEEN
from config.requests import UserRequest
from recipes import selectors, services
from recipes.access import instructor_required
from recipes.core.units import UNITS, Measures
from recipes.editing.comparing import Difference, differences, recipe_mark
from recipes.editing.recipe import RecipeForm
from recipes.editing.row_buttons import press, pressed
from recipes.editing.rows import fresh_rows, posted_rows, rows_of
from recipes.ingredients.shelf import Shelf
from recipes.models import Recipe, Revision

# Buttons of the page that compares: save over what is there, or continue with the form.
OVER, BACK = "over", "back"
FORM_METHODS = ["GET", "HEAD", "POST"]
LINE_UNITS = tuple(
    unit.name for unit in UNITS if unit.measures in (Measures.MASS, Measures.VOLUME, Measures.COUNT)
)


@instructor_required
@require_http_methods(FORM_METHODS)
def new(request: UserRequest) -> HttpResponse:
    form = _form(request, None)
    if form.bound and form.is_valid():
        with one_save(request) as save:
            if save.first:
                return redirect(save.first)
            saved = services.create_recipe(owner=request.user, written=form.written())
            messages.success(request, f"{saved.title} is in the book.")
            _say_left_out(request, form)
            return save.done(saved)
    return _show(request, form, None)


@instructor_required
@require_http_methods(FORM_METHODS)
def edit(request: UserRequest, slug: str) -> HttpResponse:
    """The form; before saving, the locked recipe is compared with what the page had shown."""
    own = Recipe.objects.filter(owner=request.user, slug=slug)
    current = selectors.revision_of(request.user, slug)
    form = _form(request, current)
    if form.bound and BACK not in request.POST and form.is_valid():
        with one_save(request, own) as save:
            if save.first:
                return redirect(save.first)
            current = selectors.revision_of(request.user, slug)
            if differing := _unseen(request, current):
                return _compare(request, current, differing)
            saved = services.change_recipe(recipe=current.recipe, written=form.written())
            messages.success(request, f"Saved as revision {saved.number}.")
            _say_left_out(request, form)
            return save.done(saved)
    return _show(request, form, current)


def _say_left_out(request: UserRequest, form: RecipeForm) -> None:
    if form.left_out:
        messages.warning(request, form.left_out)


def _unseen(request: UserRequest, current: Revision) -> list[Difference]:
    """Where the recipe differs from what was sent, if it is no longer the one that was shown."""
    seen = request.POST.get(OVER) or request.POST.get(SEEN)
    if seen is None or seen == recipe_mark(current):
        return []
    shelf = Shelf(selectors.shelf_of(current.recipe.owner))
    theirs = RecipeForm(rows_of(selectors.written_of(current), shelf), shelf)
    return differences(theirs, RecipeForm(posted_rows(request.POST), shelf))


def _compare(request: UserRequest, current: Revision, differing: list[Difference]) -> HttpResponse:
    """Both recipes where they differ, and the choice between them."""
    again = ("csrfmiddlewaretoken", SEEN, OVER, BACK)
    carried = [(name, value) for name, value in request.POST.items() if name not in again]
    context = {
        "section": "recipes",
        "revision": current,
        "differing": differing,
        "carried": carried,
        "seen": recipe_mark(current),
    }
    return render(request, "recipes/compare.html", context, status=409)


def _form(request: UserRequest, current: Revision | None) -> RecipeForm:
    """The form as requested: new or saved, with a row added or removed, or to be checked."""
    shelf = Shelf(selectors.shelf_of(request.user))
    if request.method != "POST":
        rows = rows_of(selectors.written_of(current), shelf) if current else fresh_rows()
        return RecipeForm(rows, shelf)
    rows = posted_rows(request.POST)
    button = pressed(request.POST)
    if BACK in request.POST:
        return RecipeForm(rows, shelf)
    if button:
        return RecipeForm(rows, shelf, focus=press(rows, button))
    return RecipeForm(rows, shelf, bound=True)


def _show(request: UserRequest, form: RecipeForm, current: Revision | None) -> HttpResponse:
    template = "recipes/_recipe_form.html" if request.htmx else "recipes/edit.html"
    context = {"section": "recipes", "form": form, "revision": current, "units": LINE_UNITS}
    if current:
        context["seen"] = request.POST.get(SEEN) or recipe_mark(current)
    return render(request, template, context)
