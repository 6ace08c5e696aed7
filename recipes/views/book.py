"""The recipe book to read: the list, and a recipe's formula card at any size."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from recipes import selectors
from recipes.access import instructor_required
from recipes.baking.allergens import allergens
from recipes.baking.card import baked_g, formula_card
from recipes.forms.scaling import ScalingForm
from recipes.models import Revision

LONGEST_SEARCH = 100


def searched(request: HttpRequest) -> str:
    """The words of a list's search field."""
    return request.GET.get("q", "").replace("\0", "").strip()[:LONGEST_SEARCH]


@instructor_required
@require_safe
def recipe_list(request: HttpRequest) -> HttpResponse:
    words = searched(request)
    entries = selectors.book_entries(request.user, words)
    template = "recipes/_book.html" if request.htmx else "recipes/list.html"
    context = {"section": "recipes", "entries": entries, "q": words}
    return render(request, template, context | {"found": len(entries), "word": "recipe"})


@instructor_required
@require_safe
def detail(request: HttpRequest, slug: str) -> HttpResponse:
    return _card_page(request, selectors.revision_of(request.user, slug))


@instructor_required
@require_safe
def revision(request: HttpRequest, slug: str, number: int) -> HttpResponse:
    return _card_page(request, selectors.revision_of(request.user, slug, number))


BATCH, SCALING = "batch", "scaling"
_FRAGMENTS = {BATCH: "recipes/_batch_update.html", SCALING: "recipes/_scaling.html"}


def _card_page(request: HttpRequest, shown: Revision) -> HttpResponse:
    formula = selectors.formula_value(shown)
    form = ScalingForm(request.GET, shown, formula)
    target = request.htmx.target if request.htmx else None
    turned = form.turned(request.GET) if target != BATCH else None
    if turned:
        return redirect(f"{request.path}?{turned}")
    context = {"section": "recipes", "revision": shown, "scaling": form}
    if form.is_valid():
        context["card"] = formula_card(formula, form.made.dough_g, form.scales)
    if target in _FRAGMENTS:
        return render(request, _FRAGMENTS[target], context)
    steps = shown.steps.all()
    context |= {
        "steps": steps,
        "times": selectors.times_of(steps),
        "others": selectors.other_revisions(shown),
        "allergens": allergens(formula),
        "baked_g": baked_g(shown.piece_g, shown.bake_loss_percent),
    }
    return render(request, "recipes/detail.html", context)
