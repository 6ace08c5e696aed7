"""A recipe's exchange page: yeast forms, salts, eggs and flours for the batch that is shown."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from config.requests import UserRequest
from recipes import selectors
from recipes.access import instructor_required
from recipes.book.forms import ScalingForm
from recipes.core.batch.card import formula_card
from recipes.core.exchange.sheet import exchange_sheet, has_unknown_yeast
from recipes.exchange.forms import ExchangeForm

RESULT = "bench-result"


@instructor_required
@require_safe
def exchange(request: UserRequest, slug: str) -> HttpResponse:
    shown = selectors.revision_of(request.user, slug)
    formula = selectors.formula_value(shown)
    scaling = ScalingForm(request.GET, shown, formula)
    staples = selectors.staples_of(shown)
    flours = selectors.flours_for(request.user)
    unknown = has_unknown_yeast(formula, staples)
    form = ExchangeForm(request.GET, flours, asks_form=unknown)
    context = {"section": "recipes", "revision": shown, "scaling": scaling, "form": form}
    if scaling.is_valid() and form.is_valid():
        card = formula_card(formula, scaling.made.dough_g, scaling.scales)
        context["sheet"] = exchange_sheet(card, staples, form.asked, scaling.scales)
    return render(request, _template(request), context)


def _template(request: UserRequest) -> str:
    if not request.htmx:
        return "recipes/exchange.html"
    is_result = request.htmx.target == RESULT
    return "recipes/_exchange_update.html" if is_result else "recipes/_exchange.html"
