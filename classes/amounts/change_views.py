"""What has changed since the preparation list was printed."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from classes.access import class_seen_by, teaches
from classes.amounts.changes import changes_since, last_printed, note_printed
from classes.selectors import class_plan
from config.requests import UserRequest


@require_http_methods(["GET", "HEAD", "POST"])
def changes(request: UserRequest, code: str) -> HttpResponse:
    """The sheet of changes; a POST says that the list as it is now is printed.

    Fetching the list as PDF writes nothing, for a GET should not: whoever prints it does so with
    the button of this page, which notes the list and then leads to the PDF, or says here that the
    list as it is now hangs in the kitchen.
    """
    session = class_seen_by(request.user, code)
    plan = class_plan(session)
    if not plan.has_bakers:
        context = {
            "session": session,
            "may_change": teaches(request.user, session),
            "section": "classes",
        }
        return render(request, "classes/nobody.html", context, status=409)
    if request.method == "POST":
        note_printed(session=session, plan=plan, user=request.user, at=timezone.now())
        if "print" in request.POST:
            return redirect("handouts:papers", code=session.code, kind="preparation")
        messages.success(request, "From now on, changes are compared with this list.")
        return redirect("classes:changes", code=session.code)
    printed = last_printed(session)
    context = {
        "session": session,
        "printed": printed,
        "changes": changes_since(printed, plan) if printed else (),
        "section": "classes",
    }
    return render(request, "classes/changes.html", context)
