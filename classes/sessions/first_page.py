"""The first page after signing in: what comes next."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from classes.diets.selectors import undecided_in
from classes.hours.open_hours import open_hours
from classes.models import ClassSession, Kitchen
from config.requests import UserRequest
from recipes.access import is_instructor
from recipes.selectors import recipe_book

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
