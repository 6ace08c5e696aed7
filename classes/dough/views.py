"""A recipe in a kitchen: the water and ice it needs, and how long it rises there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from classes.dough import shown as bench
from classes.dough.refusals import Refusal
from classes.dough.rise_form import RiseForm
from classes.dough.water_form import MeasuredForm, WaterForm, mixer_key
from classes.kitchens.services import keep_friction
from classes.models import Kitchen, Mixer
from config.requests import UserRequest
from recipes.access import instructor_required
from recipes.core.heat.dough_batch import liquid_of
from recipes.core.scaling import batch
from recipes.models import Revision
from recipes.selectors import formula_value, revision_of

ANSWER = "answer"
NOT_KEPT = (
    "Nothing was saved: the friction must come out between 0 and 40 °C by the bakers’ formula."
)


@dataclass(frozen=True, slots=True)
class Where:
    """The instructor's kitchens and the requested one, or an unsaved one with default figures."""

    kitchens: list[Kitchen]
    kitchen: Kitchen

    def context(self, revision: Revision) -> dict[str, Any]:
        return {
            "section": "recipes",
            "revision": revision,
            "kitchens": self.kitchens,
            "kitchen": self.kitchen,
            "writing": self.kitchen.writing,
        }


def where_asked(request: UserRequest, asked: QueryDict) -> Where:
    """The kitchen of `?kitchen=ID`, else the first; another's gets 404."""
    kitchens = list(Kitchen.objects.owned_by(request.user).prefetch_related("mixers"))
    wanted = asked.get("kitchen", "")
    if not wanted:
        return Where(kitchens, kitchens[0] if kitchens else Kitchen())
    for kitchen in kitchens:
        if str(kitchen.pk) == wanted:
            return Where(kitchens, kitchen)
    raise Http404


def _shown(request: UserRequest, page: str, context: dict[str, Any]) -> HttpResponse:
    """The page, or for htmx the part that is its target."""
    template = f"classes/{page}.html"
    if request.htmx:
        part = f"classes/_{page}_update.html"
        template = part if request.htmx.target == ANSWER else f"{template}#bench"
    return render(request, template, context)


@require_http_methods(["GET", "HEAD", "POST"])
@instructor_required
def water(request: UserRequest, slug: str) -> HttpResponse:
    """Water and ice for a recipe in a kitchen; a POST saves a measured friction for a mixer."""
    asked = request.POST if request.method == "POST" else request.GET
    revision, where = revision_of(request.user, slug), where_asked(request, asked)
    formula = formula_value(revision)
    form = WaterForm(asked, revision, formula, where.kitchen)
    liquid = liquid_of(batch(formula, formula.dough_g))
    measured = MeasuredForm(asked, form, liquid.name if liquid else "water")
    context = where.context(revision) | {"form": form, "measured": measured, "liquid": liquid}
    if form.is_valid():
        made = bench.batch_of(revision, formula, form.dough_g)
        context |= {
            "made": made,
            "answer": bench.water_answer(form, made),
            "roux": bench.roux_answer(form, made),
            "friction": bench.measured_answer(form, measured, made),
        }
    if request.method == "POST":
        mixer = _mixer(asked, form)
        if mixer and _kept(request, mixer, context.get("friction")):
            return _back(request, where.kitchen, form, measured, mixer)
    return _shown(request, "water", context)


def _mixer(asked: QueryDict, form: WaterForm) -> Mixer | None:
    """The mixer of this kitchen that the pressed button names; another's gets 404."""
    wanted = asked.get("keep", "")
    if not wanted:
        return None
    for mixer in form.mixers:
        if str(mixer.pk) == wanted:
            return mixer
    raise Http404


def _kept(request: UserRequest, mixer: Mixer, found: bench.MeasuredAnswer | None) -> bool:
    """Save a friction of the bakers' formula; anything else is refused with a message."""
    try:
        if found is None or found.friction is None or not found.is_sum:
            raise ValidationError(NOT_KEPT)
        keep_friction(mixer=mixer, friction_c=found.friction.rise_c)
    except ValidationError:
        messages.error(request, NOT_KEPT)
        return False
    messages.success(request, f"{mixer.name} keeps a friction of {mixer.friction_c} °C.")
    return True


def _back(
    request: UserRequest, kitchen: Kitchen, form: WaterForm, measured: MeasuredForm, mixer: Mixer
) -> HttpResponse:
    """Redirect to the same figures, now mixed by that mixer."""
    query = {"kitchen": kitchen.pk, **form.data, **measured.data, "mixing": mixer_key(mixer)}
    return redirect(f"{request.path}?{urlencode(query)}")


@require_safe
@instructor_required
def rise(request: UserRequest, slug: str) -> HttpResponse:
    """How long a recipe rises in a kitchen, and the effect of its altitude."""
    revision, where = revision_of(request.user, slug), where_asked(request, request.GET)
    form = RiseForm(request.GET, revision, where.kitchen)
    context = where.context(revision) | {"form": form}
    if form.is_valid():
        answer = bench.rise_answer(form)
        context |= {"refusal" if isinstance(answer, Refusal) else "answer": answer}
        height = bench.altitude_answer(revision, form.cleaned_data["altitude_m"])
        context |= {"height": height}
    return _shown(request, "rise", context)
