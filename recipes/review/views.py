"""Bringing a recipe in: paste or choose, look it over on the review sheet, save."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from config.forms.saving import one_save
from config.requests import UserRequest
from recipes import selectors, services
from recipes.access import instructor_required
from recipes.editing.row_buttons import pressed
from recipes.editing.views import FORM_METHODS, LINE_UNITS
from recipes.importing.intake import SourceKind
from recipes.importing.shelf import ingredient_book
from recipes.ingredients.shelf import Shelf
from recipes.review.doubt_words import Names
from recipes.review.forms import ReviewForm
from recipes.review.intake import RECOGNIZED, BringForm
from recipes.review.posts import RESTORE, posted_sheet, press_review, restore
from recipes.review.rows import sheet_of
from recipes.uploads import at_most

MOST_BYTES = 2_500_000
TOO_LARGE = "That was more than a recipe: at most 1 MB is accepted. Keep only the recipe."


def _refuse(request: UserRequest) -> HttpResponse:
    context = {"section": "recipes", "form": BringForm(), "trouble": TOO_LARGE}
    return render(request, "recipes/bring.html", context, status=413)


@instructor_required
@require_http_methods(FORM_METHODS)
@at_most(MOST_BYTES, _refuse)
def bring(request: UserRequest) -> HttpResponse:
    """The one page of an import. Only its last button writes anything."""
    if request.method != "POST":
        return _show_intake(request, BringForm())
    if "review" in request.POST:
        return _review(request)
    book = ingredient_book(request.user)
    form = BringForm(request.POST, request.FILES, book=book)
    if not form.is_valid():
        return _show_intake(request, form)
    rows = selectors.ingredients_for(request.user)
    shelf = Shelf(rows)
    sheet = sheet_of(form.read, book, {row.key: shelf.label(row) for row in rows})
    return _show(request, ReviewForm(sheet.rows, shelf, left=sheet.left), form.source)


def _review(request: UserRequest) -> HttpResponse:
    sheet = posted_sheet(request.POST)
    rows = selectors.ingredients_for(request.user)
    shelf = Shelf(rows)
    source = next((kind for kind in SourceKind if kind == request.POST["review"]), None)
    place, button = request.POST.get(RESTORE, ""), pressed(request.POST)
    if place:
        known = Names({row.key: shelf.label(row) for row in rows})
        focus = restore(sheet, place, ingredient_book(request.user), known)
        return _show(request, ReviewForm(sheet.rows, shelf, focus=focus, left=sheet.left), source)
    if button:
        focus = press_review(sheet, button)
        return _show(request, ReviewForm(sheet.rows, shelf, focus=focus, left=sheet.left), source)
    form = ReviewForm(sheet.rows, shelf, bound=True, left=sheet.left)
    if not form.is_valid() or "save" not in request.POST:
        return _show(request, form, source)
    with one_save(request) as save:
        if save.first:
            return redirect(save.first)
        saved = services.create_recipe(owner=request.user, written=form.written())
        messages.success(request, f"{saved.title} is in the book.")
        if form.added_names:
            names = ", ".join(form.added_names)
            messages.warning(
                request, f"New on your list, and without allergens until you enter them: {names}."
            )
        return save.done(saved)


def _show_intake(request: UserRequest, form: BringForm) -> HttpResponse:
    return render(request, "recipes/bring.html", {"section": "recipes", "form": form})


def _show(request: UserRequest, form: ReviewForm, source: SourceKind | None) -> HttpResponse:
    template = "recipes/_review_form.html" if request.htmx else "recipes/review.html"
    context = {
        "section": "recipes",
        "form": form,
        "source": source,
        "recognized": RECOGNIZED.get(source, "") if source else "",
        "units": LINE_UNITS,
    }
    return render(request, template, context)
