"""The recipe book to read: the list, and a recipe's formula card at any size."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from config.requests import UserRequest
from recipes import selectors
from recipes.access import instructor_required
from recipes.book.doneness import doneness
from recipes.book.facts import RecipeFacts
from recipes.book.forms import LONGEST_WORDS, HeightForm, ScalingForm, SearchForm
from recipes.book.searching import book_page
from recipes.core.batch.card import formula_card
from recipes.core.batch.yields import batch_yield
from recipes.models import Revision


def searched(request: UserRequest) -> str:
    """The words in a list's search field."""
    return request.GET.get("q", "").replace("\0", "").strip()[:LONGEST_WORDS]


@instructor_required
@require_safe
def recipe_list(request: UserRequest) -> HttpResponse:
    search = SearchForm(request.GET)
    wanted = search.wanted
    book = book_page(request.user, wanted, request.GET.get("page", "1"))
    template = "recipes/_book.html" if request.htmx else "recipes/list.html"
    context = {"section": "recipes", "search": search, "wanted": wanted, "book": book}
    return render(request, template, context)


@instructor_required
@require_safe
def detail(request: UserRequest, slug: str) -> HttpResponse:
    return _card_page(request, selectors.revision_of(request.user, slug))


@instructor_required
@require_safe
def revision(request: UserRequest, slug: str, number: int) -> HttpResponse:
    return _card_page(request, selectors.revision_of(request.user, slug, number))


BATCH, SCALING, DONE = "batch", "scaling", "done"
_FRAGMENTS = {
    BATCH: "recipes/_batch_update.html",
    SCALING: "recipes/_scaling.html",
    DONE: "recipes/_done.html",
}


def _card_page(request: UserRequest, shown: Revision) -> HttpResponse:
    formula = selectors.formula_value(shown)
    form = ScalingForm(request.GET, shown, formula)
    target = request.htmx.target if request.htmx else None
    turned = form.turned(request.GET) if target != BATCH else None
    if turned:
        return redirect(f"{request.path}?{turned}")
    facts, height = RecipeFacts(shown, formula), HeightForm(request.GET)
    context = {
        "section": "recipes",
        "revision": shown,
        "scaling": form,
        "facts": facts,
        "height": height,
        "done": doneness(shown, height.height_m),
    }
    if form.is_valid():
        context["card"] = formula_card(formula, form.made.dough_g, form.scales)
        context["yielded"] = batch_yield(form.made.dough_g, facts.bake_loss)
    if target in _FRAGMENTS:
        return render(request, _FRAGMENTS[target], context)
    context |= {"steps": shown.steps.all(), "others": selectors.other_revisions(shown)}
    return render(request, "recipes/detail.html", context)
