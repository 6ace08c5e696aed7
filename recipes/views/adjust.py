"""Editing a formula's proportions: before and after side by side, saved as a change."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from recipes import selectors, services
from recipes.access import instructor_required
from recipes.adjustment import before_after
from recipes.facts import kinds_of
from recipes.forms.adjust import AdjustForm
from recipes.models import Revision
from recipes.views.editing import FORM_METHODS

RESULT, FORM = "adjusted", "adjust"
_FRAGMENTS = {RESULT: "recipes/_adjusted_update.html", FORM: "recipes/_adjust.html"}


@instructor_required
@require_http_methods(FORM_METHODS)
def adjust(request: HttpRequest, slug: str) -> HttpResponse:
    current = selectors.revision_of(request.user, slug)
    formula = selectors.formula_value(current)
    form = AdjustForm(request.POST, current, formula)
    valid = form.is_valid()
    trouble = ""
    if "save" in request.POST and valid and not form.turned:
        trouble = _refusal(form)
        if not trouble:
            return _saved(request, current, form)
    context = {
        "section": "recipes",
        "revision": current,
        "form": form,
        "trouble": trouble,
        "seen": before_after(formula, form.made, kinds_of(current)),
    }
    target = request.htmx.target if request.htmx else None
    return render(request, _FRAGMENTS.get(target, "recipes/adjust.html"), context)


def _refusal(form: AdjustForm) -> str:
    """Why there is nothing to save, or nothing."""
    if not form.was_seen:
        return "The recipe has changed since this page was opened. Look again before you save."
    return "" if form.is_changed else "Nothing is changed yet."


def _saved(request: HttpRequest, before: Revision, form: AdjustForm) -> HttpResponse:
    saved = services.change_recipe(recipe=before.recipe, draft=form.draft())
    kept = f" Classes that use revision {before.number} keep it." if before.in_use else ""
    messages.success(request, f"Saved as revision {saved.number}.{kept}")
    return redirect(saved)
