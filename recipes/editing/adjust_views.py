"""Editing a formula's proportions: before and after side by side, saved as a change."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from config.forms.saving import one_save
from config.requests import UserRequest
from recipes import selectors, services
from recipes.access import instructor_required
from recipes.book.facts import kinds_of
from recipes.core.formula import Formula
from recipes.editing.adjust_form import AdjustForm
from recipes.editing.adjustment import before_after
from recipes.editing.views import FORM_METHODS
from recipes.models import Recipe, Revision

RESULT, FORM = "adjusted", "adjust"
_FRAGMENTS = {RESULT: "recipes/_adjusted_update.html", FORM: "recipes/_adjust.html"}


@instructor_required
@require_http_methods(FORM_METHODS)
def adjust(request: UserRequest, slug: str) -> HttpResponse:
    if "save" in request.POST:
        with one_save(request, Recipe.objects.filter(owner=request.user, slug=slug)) as save:
            if save.first:
                return redirect(save.first)
            current, formula, form = _form(request, slug)
            trouble = _refusal(form) if form.is_valid() and not form.turned else None
            if trouble == "":
                return save.done(_saved(request, current, form))
    else:
        current, formula, form = _form(request, slug)
        form.is_valid()
        trouble = None
    context = {
        "section": "recipes",
        "revision": current,
        "form": form,
        "trouble": trouble,
        "seen": before_after(formula, form.made, kinds_of(current)),
    }
    target = request.htmx.target if request.htmx else None
    return render(request, _FRAGMENTS.get(target or "", "recipes/adjust.html"), context)


def _form(request: UserRequest, slug: str) -> tuple[Revision, Formula, AdjustForm]:
    current = selectors.revision_of(request.user, slug)
    formula = selectors.formula_value(current)
    return current, formula, AdjustForm(request.POST, current, formula)


def _refusal(form: AdjustForm) -> str:
    """Why there is nothing to save; empty if there is something."""
    if not form.was_seen:
        return "The recipe has changed since this page was opened. Look again before you save."
    return "" if form.is_changed else "Nothing is changed yet."


def _saved(request: UserRequest, before: Revision, form: AdjustForm) -> Revision:
    saved = services.change_recipe(recipe=before.recipe, written=form.written())
    kept = f" Classes that use revision {before.number} keep it." if before.in_use else ""
    messages.success(request, f"Saved as revision {saved.number}.{kept}")
    return saved
