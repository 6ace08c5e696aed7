"""The door, on a phone: came, absent, walked in, and evening out stations in one step."""

from __future__ import annotations

import secrets

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from classes.access import class_seen_by, teaches
from classes.diets.forms import shown_people
from classes.enrollment.forms.enroll import WalkInForm
from classes.enrollment.models import Enrollment
from classes.enrollment.services.door import mark_at_door, regroup, walk_in
from classes.enrollment.services.seats import NoSeats
from classes.models import ClassSession
from classes.models.journal import note_look
from classes.selectors import class_plan
from classes.sessions.row_views import key_of
from config.requests import UserRequest

MARKS = {
    "came": Enrollment.Door.CAME,
    "absent": Enrollment.Door.ABSENT,
    "undo": Enrollment.Door.EXPECTED,
}


@require_http_methods(["GET", "HEAD", "POST"])
def door(request: UserRequest, code: str) -> HttpResponse:
    """Everybody on the roster, with one tap for each; the assistant may do it too."""
    session = class_seen_by(request.user, code)
    form = None
    if request.method == "POST":
        if "walk_in" in request.POST:
            form = WalkInForm(request.POST)
            if form.is_valid() and _walked_in(request, session, form):
                return redirect(f"{reverse('classes:door', args=[session.code])}#decide")
        else:
            _mark(request, session)
            return redirect("classes:door", code=session.code)
    note_look(session=session, user=request.user, what="the door", at=timezone.now())
    people = list(session.enrollments.all())
    plan = class_plan(session)
    concerned = [concern for concern in plan.concerns if concern.open]
    context = {
        "session": session,
        "people": people,
        "undecided": shown_people(session, concerned),
        "may_change": teaches(request.user, session),
        "stations": plan.at,
        "came": sum(person.door == Enrollment.Door.CAME for person in people),
        "absent": sum(person.door == Enrollment.Door.ABSENT for person in people),
        "form": form or WalkInForm(initial={"form_key": secrets.token_urlsafe(24)}),
        "section": "classes",
    }
    return render(request, "classes/door.html", context)


def _mark(request: UserRequest, session: ClassSession) -> None:
    if "regroup" in request.POST:
        counts = regroup(session=session)
        shown = ", ".join(f"{name}: {count}" for name, count in counts.items())
        messages.success(request, f"Stations are now even. {shown}.")
        return
    what = next((name for name in MARKS if name in request.POST), None)
    if what is None:
        raise Http404
    person = get_object_or_404(session.enrollments, pk=key_of(request.POST.get(what)))
    try:
        mark_at_door(enrollment=person, door=MARKS[what])
    except NoSeats:
        messages.error(request, f"{person.name}’s seat was given away. Free a seat first.")


def _walked_in(request: UserRequest, session: ClassSession, form: WalkInForm) -> bool:
    try:
        person = walk_in(
            session=session,
            diner=form.diner(),
            form_key=form.cleaned_data["form_key"],
            price=session.price,
            at=timezone.now(),
        )
    except NoSeats:
        form.add_error(
            None, "Every seat is taken. Mark who is absent first, or give the class more seats."
        )
        return False
    messages.success(request, f"{person.name} is in. Even out the stations when everybody is here.")
    return True
