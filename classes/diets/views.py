"""What people must not eat, compared with everything the class bakes: for the staff only."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from classes.access import class_seen_by, teaches
from classes.core.diets.conflicts import Conflict
from classes.core.keys import PersonKey
from classes.diets.forms import DecisionForm, shown_people, ways_out
from classes.diets.selectors import conflict_in, diet_sheet
from classes.diets.services import ChangedMeanwhile, decide_diet, take_back_decision
from classes.models import ClassSession
from classes.models.journal import note_look
from classes.selectors import class_plan
from classes.sessions.row_views import key_of
from config.requests import UserRequest

LOOK = "what people must not eat"
MEANWHILE = (
    "Not decided: what they told you, what they bake or the decision has changed since this "
    "page was "
    "opened. Look again."
)
BACK = {"door": "classes:door"}


@require_safe
def diets(request: UserRequest, code: str) -> HttpResponse:
    """Conflicts to decide, what to redo, variants for the whole class, who has not answered."""
    session = class_seen_by(request.user, code)
    return _page(request, session)


def _page(
    request: UserRequest, session: ClassSession, bound: DecisionForm | None = None
) -> HttpResponse:
    note_look(session=session, user=request.user, what=LOOK, at=timezone.now())
    sheet = diet_sheet(session, class_plan(session))
    context: dict[str, Any] = {
        "session": session,
        "sheet": sheet,
        "people": shown_people(session, sheet.people, bound),
        "looks": session.looks.select_related("user")[:20],
        "may_change": teaches(request.user, session),
        "section": "classes",
    }
    return render(request, "classes/diets.html", context)


@require_POST
def diet_decide(request: UserRequest, code: str) -> HttpResponse:
    """Decide one conflict or undo it; both instructor and assistant may."""
    session = class_seen_by(request.user, code)
    conflict = _conflict(request, session)
    back = BACK.get(request.POST.get("back", ""), "classes:diets")
    if conflict.mark != request.POST.get("seen"):
        messages.error(request, MEANWHILE)
        return redirect(back, code=session.code)
    if "take_back" in request.POST:
        take_back_decision(conflict=conflict)
        messages.success(request, f"{conflict.eater.name}, {conflict.title}: open again.")
        return redirect(back, code=session.code)
    variants = ways_out(session, [conflict])[conflict.person, conflict.revision]
    form = DecisionForm(request.POST, conflict, variants)
    if not form.is_valid():
        return _page(request, session, form)
    try:
        after = decide_diet(session=session, user=request.user, at=timezone.now(), **form.decided)
    except ChangedMeanwhile:
        messages.error(request, MEANWHILE)
    else:
        _say(request, conflict, after)
    return redirect(back, code=session.code)


def _conflict(request: UserRequest, session: ClassSession) -> Conflict:
    person = PersonKey.student(key_of(request.POST.get("person")))
    found = conflict_in(class_plan(session), person, str(key_of(request.POST.get("revision"))))
    if found is None:
        raise Http404
    return found


def _say(request: UserRequest, before: Conflict, after: Conflict | None) -> None:
    who = f"{before.eater.name}, {before.title}"
    if after is not None and after.is_open:
        messages.error(request, f"{who}: saved, but still open. {after.lapse or ''}".strip())
    else:
        messages.success(request, f"{who}: decided. Amounts and papers follow it.")
