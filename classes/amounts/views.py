"""Amounts of a class as a page and as files; the preparation list, its ticks and its changes."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from django.contrib import messages
from django.http import Http404, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from classes.access import class_seen_by, teaches
from classes.amounts.changes import changes_since, last_printed, note_printed
from classes.amounts.exporting import amounts_csv, amounts_document
from classes.core.diets.conflict_words import lines_for_staff
from classes.core.diets.heeds import marked
from classes.core.preparation import Preparation, preparation
from classes.hours.morning import morning_of
from classes.models import ClassSession
from classes.models.journal import note_look
from classes.plan import ClassPlan
from classes.selectors import class_plan
from classes.sessions.services import set_tick
from config.requests import UserRequest

LOOK = "the preparation list, with what people must not eat"

View = Callable[[UserRequest, ClassSession, ClassPlan], HttpResponse]


def _of_bakers(view: View) -> Callable[[UserRequest, str], HttpResponse]:
    """Wraps a view of a class; if nobody bakes in it, a page says so instead."""

    @wraps(view)
    def seen(request: UserRequest, code: str) -> HttpResponse:
        session = class_seen_by(request.user, code)
        plan = class_plan(session)
        if plan.has_bakers:
            return view(request, session, plan)
        may_change = teaches(request.user, session)
        context = {"session": session, "may_change": may_change, "section": "classes"}
        return render(request, "classes/nobody.html", context, status=409)

    return seen


@require_GET
@_of_bakers
def amounts(request: UserRequest, session: ClassSession, plan: ClassPlan) -> HttpResponse:
    context = {"session": session, "plan": plan, "section": "classes"}
    return render(request, "classes/amounts.html", context)


@require_GET
@_of_bakers
def amounts_json(request: UserRequest, session: ClassSession, plan: ClassPlan) -> HttpResponse:
    response = JsonResponse(
        amounts_document(plan), json_dumps_params={"indent": 2, "ensure_ascii": False}
    )
    return _as_file(response, f"amounts-{session.code}.json")


@require_GET
@_of_bakers
def amounts_csv_file(request: UserRequest, session: ClassSession, plan: ClassPlan) -> HttpResponse:
    response = HttpResponse(amounts_csv(plan), content_type="text/csv; charset=utf-8")
    return _as_file(response, f"amounts-{session.code}.csv")


def _as_file(response: HttpResponse, name: str) -> HttpResponse:
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


@require_http_methods(["GET", "POST"])
@_of_bakers
def prepare(request: UserRequest, session: ClassSession, plan: ClassPlan) -> HttpResponse:
    """The list that instructor and assistant tick off; a changed amount counts as not done."""
    conflicts = plan.conflicts
    work = marked(preparation(plan.amounts, plan.shopping), plan.amounts, conflicts)
    if conflicts:
        note_look(session=session, user=request.user, what=LOOK, at=timezone.now())
    if request.method == "POST":
        return _tick(request, session, work)
    ticks = {tick.line: tick for tick in session.ticks.select_related("done_by")}
    keys = [task.key for task in work.tasks()]
    context = {
        "session": session,
        "work": work,
        "morning": morning_of(plan),
        "writing": plan.kitchen.writing,
        "ticks": ticks,
        "done": sum(key in ticks for key in keys),
        "all": len(keys),
        "undecided": lines_for_staff(conflict for conflict in conflicts if conflict.is_open),
        "stale": [tick for key, tick in ticks.items() if key not in set(keys)],
        "section": "classes",
    }
    return render(request, "classes/prepare.html", context)


def _tick(request: UserRequest, session: ClassSession, work: Preparation) -> HttpResponse:
    done = "tick" in request.POST
    key = request.POST.get("tick" if done else "untick", "")
    task = next((task for task in work.tasks() if str(task.key) == key), None)
    if task is None:
        raise Http404
    set_tick(session=session, key=task.key, done=done, user=request.user)
    if request.htmx:
        return render(request, "classes/_tick.html", {"task": task, "done": done})
    return redirect("classes:prepare", code=session.code)


@require_http_methods(["GET", "HEAD", "POST"])
@_of_bakers
def changes(request: UserRequest, session: ClassSession, plan: ClassPlan) -> HttpResponse:
    """The sheet of changes; a POST records that the list has been printed as it is now.

    Fetching the list as PDF is a GET, so it writes nothing: to print it, use the button on this
    page, which records the list and then leads to the PDF, or state here that the list as it is now
    hangs in the kitchen.
    """
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
