"""The first page after signing in: what comes next, and what is still missing for it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from classes.core.demand import DEMONSTRATION
from classes.core.hours.checking.unsaid import Unsaid, unsaid_in
from classes.core.hours.problem import values as values
from classes.diets.selectors import undecided_in
from classes.hours.selectors import room_of
from classes.hours.unsaid_words import unsaid_words
from classes.models import ClassSession, Kitchen, TaughtRecipe
from config.requests import UserRequest
from recipes.access import is_instructor
from recipes.core.numbers import ZERO
from recipes.selectors import recipe_book, written_steps


@dataclass(frozen=True, slots=True)
class OpenHours:
    """A class, and what is missing in words."""

    session: ClassSession
    missing: tuple[str, ...]


def open_hours(sessions: Iterable[ClassSession]) -> list[OpenHours]:
    """The classes, fetched with their kitchens, that leave something unsaid; in order.

    Nothing is planned here, so a gap that only a plan reveals shows only on the hours page.
    """
    listed = list(sessions)
    rows = (
        TaughtRecipe.objects.filter(session__in=[session.pk for session in listed])
        .select_related("revision")
        .prefetch_related("revision__steps")
    )
    taught: dict[int, list[TaughtRecipe]] = {}
    for row in rows:
        taught.setdefault(row.session_id, []).append(row)
    found = [(session, _unsaid(session, taught.get(session.pk, []))) for session in listed]
    return [
        OpenHours(session, tuple(unsaid_words(gap, session.kitchen.writing) for gap in unsaid))
        for session, unsaid in found
        if unsaid
    ]


def _unsaid(session: ClassSession, taught: list[TaughtRecipe]) -> tuple[Unsaid, ...]:
    recipes = tuple(map(_spoken, taught))
    return unsaid_in(values.ClassWork(values.Hours(0), room_of(session), recipes, ()))


def _spoken(row: TaughtRecipe) -> values.TimedRecipe:
    """What a recipe says about its steps, without the people who bake it."""
    revision, shown = row.revision, row.demonstration_batches
    degrees = revision.dough_temperature_c
    return values.TimedRecipe(
        key=str(revision.pk),
        title=revision.title,
        steps=written_steps(revision),
        groups=(),
        demonstration=values.Group(DEMONSTRATION, shown, shown, ZERO) if shown else None,
        mixing=values.Mixing(row.mixing),
        dough_c=values.USUAL_DOUGH_C if degrees is None else degrees,
    )


SHOWN = 5


@require_GET
def home(request: UserRequest) -> HttpResponse:
    """Coming classes, and for an instructor what is still missing to build one."""
    seen = ClassSession.objects.seen_by(request.user).coming(timezone.now())
    coming = list(seen.select_related("kitchen")[:SHOWN])
    context = {
        "coming": coming,
        "undecided": undecided_in(coming),
        "open_hours": open_hours(coming),
        "section": "home",
    }
    if is_instructor(request.user):
        context |= {
            "instructor": True,
            "has_kitchen": Kitchen.objects.owned_by(request.user).exists(),
            "recipes": recipe_book(request.user)[:SHOWN],
        }
    return render(request, "home.html", context)
