"""The hours of a class: its plan and settings, what if, and the verdict while building."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from classes.access import class_seen_by, class_taught_by, teaches
from classes.hours.answers import Answer, class_answer, draft_answer, settings_answer
from classes.hours.forms import HoursForms
from classes.hours.services import LOOK_AT_MOST_S, look_for_better, save_hours
from classes.hours.shown import (
    drawn,
    looked_words,
    said_ahead,
    said_remedies,
    said_unfed,
    said_verdict,
    said_what_if,
)
from classes.hours.what_if import WhatIfForm
from classes.hours.what_if import what_if as changed_class
from classes.models import ClassSession
from classes.selectors import class_plan
from classes.sessions.forms import SessionForm, TaughtRows
from config.forms.editing import Form, edited
from config.requests import UserRequest
from recipes.access import instructor_required

REMEDIES = "remedies"
ANSWER = "answer"


@require_http_methods(["GET", "HEAD", "POST"])
def hours(request: UserRequest, code: str) -> HttpResponse:
    """The plan of the hours; a POST looks for a better one and saves it for everybody."""
    session = class_seen_by(request.user, code)
    if request.method == "POST":
        return _look(request, class_taught_by(request.user, code))
    if request.GET.get("show") == REMEDIES:
        return _with_remedies(request, session)
    return render(request, "classes/hours.html", _plan(request, session))


def _context(request: UserRequest, session: ClassSession, answer: Answer) -> dict[str, Any]:
    return {
        "section": "classes",
        "session": session,
        "writing": session.kitchen.writing,
        "may_change": teaches(request.user, session),
        "answer": answer,
        "said": said_verdict(answer),
    }


def _plan(request: UserRequest, session: ClassSession) -> dict[str, Any]:
    """Everything that the page shows of the plan."""
    answer = class_answer(class_plan(session))
    return _context(request, session, answer) | {
        "drawn": drawn(answer),
        "ahead": said_ahead(answer),
        "unfed": said_unfed(answer),
        "look_at_most_s": LOOK_AT_MOST_S,
    }


def _with_remedies(request: UserRequest, session: ClassSession) -> HttpResponse:
    """The changes that would help: as a fragment, or on the page."""
    if request.htmx:
        part = {"remedies": said_remedies(class_answer(class_plan(session))), "session": session}
        return render(request, "classes/_remedies.html", part)
    context = _plan(request, session)
    remedies = said_remedies(context["answer"])
    return render(request, "classes/hours.html", context | {"remedies": remedies})


def _look(request: UserRequest, session: ClassSession) -> HttpResponse:
    """Look for a better plan and respond with the plan then kept."""
    before = class_answer(class_plan(session))
    found = None
    if before.hours:
        found = look_for_better(session=session, hours=before.hours, at=timezone.now())
    looked = looked_words(before, found)
    if not request.htmx:
        messages.success(request, looked)
        return redirect("classes:hours", code=session.code)
    context = _plan(request, class_taught_by(request.user, session.code))
    return render(request, "classes/hours.html#plan", context | {"looked": looked})


@require_http_methods(["GET", "HEAD", "POST"])
@instructor_required
def hours_settings(request: UserRequest, code: str) -> HttpResponse:
    """The settings of the hours; a POST with `check` only says what the verdict would be."""
    only_checks = request.method == "POST" and "check" in request.POST
    page = Form(
        lambda: class_taught_by(request.user, code),
        lambda session, data: HoursForms.of(data, session).all,
        lambda session, parts: _saved_hours(request, session),
        (ClassSession.objects.taught_by(request.user).filter(code=code),),
    )
    edit = edited(request, page, again=request.POST if only_checks else None)
    if edit.answer:
        return edit.answer
    session, (main, *taught) = edit.row, edit.parts
    forms = HoursForms(session, main, tuple(taught))
    answer = settings_answer(forms) if forms.main.is_bound else class_answer(class_plan(session))
    context = _context(request, session, answer) | {"forms": forms, "checked": only_checks}
    context["seen"] = edit.seen
    if only_checks and request.htmx:
        return render(request, "classes/_verdict.html", context)
    return render(request, "classes/hours_settings.html", context)


def _saved_hours(request: UserRequest, session: ClassSession) -> str:
    save_hours(session=session, taught=session.taught.all())
    messages.success(request, "The settings are saved. The plan follows them.")
    return reverse("classes:hours", args=[session.code])


@require_POST
@instructor_required
def verdict(request: UserRequest) -> HttpResponse:
    """The verdict on a class as its form describes it; `code` names the one being changed."""
    code = request.POST.get("code", "")
    session = class_taught_by(request.user, code) if code else ClassSession(instructor=request.user)
    form = SessionForm(request.POST, instance=session, user=request.user)
    rows = TaughtRows(
        request.POST, instance=session, prefix="taught", form_kwargs={"user": request.user}
    )
    answer = draft_answer(form, rows)
    context = {
        "session": session,
        "answer": answer,
        "said": said_verdict(answer),
        "may_change": True,
    }
    return render(request, "classes/_verdict.html", context)


@require_safe
def what_if(request: UserRequest, code: str) -> HttpResponse:
    """The plan if something about the class were different; nothing is written."""
    session = class_seen_by(request.user, code)
    plan = class_plan(session)
    present = class_answer(plan)
    form = WhatIfForm(request.GET, session, len(plan.people))
    context = _context(request, session, present) | {"form": form}
    if form.is_valid():
        look_s = LOOK_AT_MOST_S if "look" in request.GET else 0
        context |= said_what_if(changed_class(plan, present, form, look_s=look_s))
        context |= {"looked": look_s, "look_at_most_s": LOOK_AT_MOST_S}
    part = request.htmx and request.htmx.target == ANSWER
    template = "classes/_what_if_update.html" if part else "classes/what_if.html"
    return render(request, template, context)
