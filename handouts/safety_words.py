"""The page that says where the words of cautions and first aid come from."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from config.requests import UserRequest
from handouts.safety.cautions import CAUTIONS, DEFERRAL
from handouts.safety.first_aid import EMERGENCIES, NUMBERS_SOURCE
from recipes.access import instructor_required


@require_safe
@instructor_required
def safety_words(request: UserRequest) -> HttpResponse:
    """Every wording with its source and how it is known; papers do not print that."""
    context = {
        "cautions": CAUTIONS,
        "emergencies": EMERGENCIES,
        "numbers_source": NUMBERS_SOURCE,
        "deferral": DEFERRAL,
        "section": "classes",
    }
    return render(request, "handouts/safety_words.html", context)
