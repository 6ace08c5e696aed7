"""What people must not eat, against everything the class bakes: for the staff alone."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from classes.access import class_seen_by, teaches
from classes.diets import diet_sheet
from classes.journal import note_look
from classes.selectors import class_numbers
from recipes.baking.errors import NobodyBakes


@require_safe
def diets(request: HttpRequest, code: str) -> HttpResponse:
    """Findings, what to redo, variants for the whole class, and who has not answered."""
    session = class_seen_by(request.user, code)
    note_look(
        session=session, user=request.user, what="what people must not eat", at=timezone.now()
    )
    try:
        numbers = class_numbers(session)
    except NobodyBakes:
        numbers = None
    context = {
        "session": session,
        "sheet": diet_sheet(session, numbers),
        "looks": session.looks.select_related("user")[:20],
        "may_change": teaches(request.user, session),
        "section": "classes",
    }
    return render(request, "classes/diets.html", context)
