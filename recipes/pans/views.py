"""A recipe's pan page: how the pieces lie, the dough load, other pans, and the bowl."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from config.requests import UserRequest
from recipes import selectors
from recipes.access import instructor_required
from recipes.core.errors import BakingError
from recipes.core.pans import plan as pan_plan
from recipes.core.pans.balls import ball_sizes
from recipes.core.pans.sizes import DoughLoad, NoDepth, Pan, bowl_for
from recipes.pans.forms import PanForm, scaling_query

RESULT = "bench-result"


@instructor_required
@require_safe
def pans(request: UserRequest, slug: str) -> HttpResponse:
    shown = selectors.revision_of(request.user, slug)
    form = PanForm(request.GET, shown, selectors.own_pan(shown))
    context = {"section": "recipes", "revision": shown, "form": form}
    if form.is_valid():
        context |= _answers(form)
    return render(request, _template(request), context)


def _template(request: UserRequest) -> str:
    if not request.htmx:
        return "recipes/pans.html"
    is_result = request.htmx.target == RESULT
    return "recipes/_pans_update.html" if is_result else "recipes/_pans.html"


def _answers(form: PanForm) -> dict[str, Any]:
    filling = form.filling
    sizes = ball_sizes(filling.piece_g, form.model)
    best, *others = pan_plan.lyings(filling, form.model)
    return {
        "filling": filling,
        "sizes": sizes,
        "best": best,
        "others": others,
        "most_that_fit": None if best.baked.fits else pan_plan.most_that_fit(filling.pan, sizes),
        "bowl": bowl_for(filling.dough_g, **form.bowl),
        "scale_query": scaling_query(filling.pieces, filling.piece_g),
        "spread": pan_plan.published_spread(),
        "published": _published(filling.pan),
    } | _loads(form)


def _published(pan: Pan) -> tuple[pan_plan.PublishedFill, ...]:
    return pan_plan.published_fills(pan) if pan_plan.has_volume(pan) else ()


def _loads(form: PanForm) -> dict[str, Any]:
    """The load here, the recipe's own, and what follows from the one in use."""
    filling, own = form.filling, form.own_filling
    own_load = _load_of(own, form)
    goal = form.load_typed or own_load
    found: dict[str, Any] = {
        "load": filling.load(form.load_by),
        "own": own,
        "own_load": own_load,
        "goal": goal,
    }
    if goal:
        same = pan_plan.at_load(filling, goal, own.dough_g if own else filling.dough_g)
        found |= {
            "same": same,
            "pans": _pans_for(filling, goal),
            "pieces_query": scaling_query(same.by_pieces.pieces, same.by_pieces.piece_g),
            "mass_query": scaling_query(same.by_mass.pieces, Decimal(same.by_mass.piece_g)),
        }
    return found


def _load_of(own: pan_plan.Filling | None, form: PanForm) -> DoughLoad | None:
    """The recipe's own load; also None if its pan's volume is needed but not known."""
    try:
        return own.load(form.load_by) if own else None
    except NoDepth:
        return None


def _pans_for(filling: pan_plan.Filling, load: DoughLoad) -> tuple[Pan, ...]:
    """None if only an impossibly large pan would hold them."""
    try:
        return pan_plan.pans_for(filling, load)
    except BakingError:
        return ()
