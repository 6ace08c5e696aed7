"""Bringing a recipe in: paste or choose, check it on the review sheet, save."""

from __future__ import annotations

from collections.abc import Iterable

from django.contrib import messages
from django.contrib.auth.models import User
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from config.forms.saving import one_save
from config.requests import UserRequest
from recipes import selectors, services
from recipes.access import instructor_required
from recipes.editing.row_buttons import pressed
from recipes.editing.views import BACK, FORM_METHODS, LINE_UNITS
from recipes.importing.intake import SourceKind
from recipes.importing.shelf import ingredient_book
from recipes.ingredients.services import add_missing_ingredients
from recipes.models import Ingredient
from recipes.review.doubt_words import Names
from recipes.review.forms import ReviewForm
from recipes.review.intake import RECOGNIZED, BringForm
from recipes.review.posts import (
    KEEP,
    RESTORE,
    RIGHT,
    SURE,
    USE,
    accept,
    keep,
    posted_sheet,
    press_review,
    restore,
    use,
)
from recipes.review.row_forms import ReviewShelf
from recipes.review.rows import ReviewSheet, sheet_of
from recipes.review.twins import Twin, twin_of
from recipes.uploads import at_most

MOST_BYTES = 2_500_000
# Buttons of the page that asks about a recipe that is in the book: its mark, or a new recipe.
TWIN, APART = "twin", "new"
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
    rows = selectors.shelf_of(request.user)
    shelf = ReviewShelf(rows)
    sheet = sheet_of(form.read, book, {row.key: shelf.label(row) for row in rows})
    sheet.mark = form.mark
    return _show(request, _form(sheet, shelf), form.source)


def _form(
    sheet: ReviewSheet, shelf: ReviewShelf, focus: str = "", *, bound: bool = False
) -> ReviewForm:
    return ReviewForm(sheet.rows, shelf, bound=bound, focus=focus, sheet=sheet)


def _review(request: UserRequest) -> HttpResponse:
    sheet = posted_sheet(request.POST)
    rows = selectors.shelf_of(request.user)
    shelf = ReviewShelf(rows)
    source = next((kind for kind in SourceKind if kind == request.POST["review"]), None)
    if (focus := _change(request, sheet, shelf, rows)) is not None:
        return _show(request, _form(sheet, shelf, focus), source)
    used = use(sheet, request.POST.get(USE, ""), {row.key: shelf.label(row) for row in rows})
    if used or SURE in request.POST:
        form = _form(sheet, shelf)
        if not used:
            form.accept_sure()
        form.go_on(used)
        return _show(request, form, source)
    answered = request.POST.get(RIGHT, "")
    accept(sheet, answered)
    form = _form(sheet, shelf, bound=True)
    valid = form.is_valid()
    if not valid or "save" not in request.POST or BACK in request.POST:
        form.go_on(answered)
        return _show(request, form, source, checked=not answered)
    return _save(request, form)


def _save(request: UserRequest, form: ReviewForm) -> HttpResponse:
    """Save what was checked; for an import that seems to be in the book already, ask once.

    The user's own row is locked, so that of two simultaneous saves the second sees the first's.
    """
    written, mark = form.written(), form.sheet.mark
    with one_save(request, User.objects.filter(pk=request.user.pk)) as save:
        if save.first:
            return redirect(save.first)
        twin = twin_of(request.user, import_mark=mark, title=written.title)
        wanted = request.POST.get(TWIN, "")
        if twin is not None and wanted not in (APART, twin.mark):
            return _offer(request, form, twin)
        add_missing_ingredients(owner=request.user, wanted=form.new_ingredients)
        if twin is None or wanted == APART:
            saved = services.create_recipe(owner=request.user, written=written, import_mark=mark)
            messages.success(request, f"{saved.title} is in the book.")
        else:
            recipe = twin.revision.recipe
            saved = services.change_recipe(recipe=recipe, written=written, import_mark=mark)
            messages.success(request, f"Saved as revision {saved.number}.")
        _say_what_is_open(request, form)
        return save.done(saved)


def _say_what_is_open(request: UserRequest, form: ReviewForm) -> None:
    if form.added_names:
        messages.success(request, f"New on your list: {', '.join(form.added_names)}.")
    if form.unread_names:
        names = ", ".join(form.unread_names)
        messages.warning(request, f"Nobody has said yet what is in: {names}.")
    if form.asking.count:
        messages.warning(request, f"Questions of the import left open: {form.asking.in_words}.")


def _offer(request: UserRequest, form: ReviewForm, twin: Twin) -> HttpResponse:
    """The recipe in the book beside the import, and the choice of what to save."""
    again = ("csrfmiddlewaretoken", TWIN, BACK)
    context = {
        "section": "recipes",
        "twin": twin,
        "differing": twin.differing(form),
        "carried": [
            (name, value)
            for name, values in request.POST.lists()
            if name not in again
            for value in values
        ],
    }
    return render(request, "recipes/twin.html", context, status=409)


def _change(
    request: UserRequest, sheet: ReviewSheet, shelf: ReviewShelf, rows: Iterable[Ingredient]
) -> str | None:
    """Do what a button asks of the rows; return the field to continue with, None without one."""
    if place := request.POST.get(RESTORE):
        known = Names({row.key: shelf.label(row) for row in rows})
        return restore(sheet, place, ingredient_book(request.user), known)
    if place := request.POST.get(KEEP):
        return keep(sheet, place)
    button = pressed(request.POST)
    return press_review(sheet, button) if button else None


def _show_intake(request: UserRequest, form: BringForm) -> HttpResponse:
    return render(request, "recipes/bring.html", {"section": "recipes", "form": form})


def _show(
    request: UserRequest, form: ReviewForm, source: SourceKind | None, *, checked: bool = False
) -> HttpResponse:
    """The sheet; one that was `checked` lists what keeps it from being saved."""
    template = "recipes/_review_form.html" if request.htmx else "recipes/review.html"
    context = {
        "section": "recipes",
        "form": form,
        "checked": checked,
        "source": source,
        "recognized": RECOGNIZED.get(source, "") if source else "",
        "units": LINE_UNITS,
    }
    return render(request, template, context)
