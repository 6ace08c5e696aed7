"""Classes: the list, the page of one, the form, and the roster."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from django.contrib import messages
from django.contrib.auth.models import User
from django.db.models import QuerySet
from django.http import Http404, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from classes.access import (
    calendar_token,
    class_known_to,
    class_seen_by,
    class_taught_by,
    link_ends_at,
    student_token,
    teaches,
)
from classes.core.diets.conflict_words import lines_for_staff
from classes.enrollment.models import Booking, Enrollment
from classes.enrollment.services.letters import untold
from classes.enrollment.vacancy import decision_of
from classes.hours.answers import class_answer, draft_answer
from classes.hours.shown import said_verdict
from classes.models import ClassSession, Kitchen
from classes.selectors import class_plan, people_of
from classes.sessions.clashes import ClassesClash
from classes.sessions.forms import (
    EnrollmentForm,
    RosterFormSet,
    RosterRows,
    SessionForm,
    TaughtFormSet,
    TaughtRows,
    roster_choices,
)
from classes.sessions.row_views import RowSection, kept_forms, kept_objects, wants_row
from classes.sessions.services import renew_link, save_class, save_roster
from config.forms.editing import Form, edited
from config.forms.rows import leave_unchecked, with_row
from config.requests import UserRequest
from recipes.access import instructor_required, is_instructor
from recipes.models import Variant
from recipes.selectors import recipe_book


@require_GET
def class_list(request: UserRequest) -> HttpResponse:
    now = timezone.now()
    seen = ClassSession.objects.seen_by(request.user).select_related("kitchen")
    context = {
        "coming": seen.coming(now),
        "past": seen.past(now),
        "instructor": is_instructor(request.user),
        "calendar": request.build_absolute_uri(
            reverse("classes:own_calendar", args=[calendar_token(request.user)])
        ),
        "section": "classes",
    }
    return render(request, "classes/list.html", context)


@require_GET
def class_detail(request: UserRequest, code: str) -> HttpResponse:
    """A class for those who work in it; other instructors see only when, where and what."""
    try:
        session = class_seen_by(request.user, code)
    except Http404:
        context = {"session": class_known_to(request.user, code), "section": "classes"}
        return render(request, "classes/seen.html", context)
    plan = class_plan(session)
    answer = class_answer(plan)
    context = {
        "session": session,
        "answer": answer,
        "said": said_verdict(answer),
        "may_change": teaches(request.user, session),
        "people": plan.people,
        "roster": session.enrollments.all(),
        "untold": untold(session),
        "decision": decision_of(session, at=timezone.now()),
        "undecided": lines_for_staff(conflict for conflict in plan.conflicts if conflict.is_open),
        "section": "classes",
    }
    return render(request, "classes/detail.html", context)


@require_http_methods(["GET", "POST"])
@instructor_required
def class_new(request: UserRequest) -> HttpResponse:
    has_kitchen = Kitchen.objects.owned_by(request.user).exists()
    if not has_kitchen or not recipe_book(request.user).exists():
        context = {"has_kitchen": has_kitchen, "section": "classes"}
        return render(request, "classes/not_yet.html", context)
    return _class_form(request, lambda: ClassSession(instructor=request.user))


@require_http_methods(["GET", "POST"])
@instructor_required
def class_edit(request: UserRequest, code: str) -> HttpResponse:
    own = ClassSession.objects.taught_by(request.user).filter(code=code)
    people = Enrollment.objects.filter(session__in=own)
    return _class_form(request, lambda: class_taught_by(request.user, code), people, own)


def _class_form(
    request: UserRequest, find: Callable[[], ClassSession], *held: QuerySet[Any]
) -> HttpResponse:
    added = wants_row(request)
    unchecked = added or "check" in request.POST
    again = with_row(request.POST, added) if added else request.POST
    page = Form(
        find,
        lambda session, data: _class_parts(request.user, session, data),
        lambda session, parts: _saved_class(request, session, parts),
        held,
    )
    edit = edited(request, page, again=again if unchecked else None)
    if edit.answer:
        return edit.answer
    form, taught = edit.parts
    context = {
        "form": form,
        "seen": edit.seen,
        "sections": [RowSection(taught, "What everybody bakes", "Add a recipe")],
        "session": edit.row,
        "section": "classes",
        **_fits(edit.row, form, taught),
        "may_change": True,
    }
    if unchecked:
        leave_unchecked([form, taught])
    template = "classes/form.html" + ("#form" if request.htmx else "")
    return render(request, template, context)


Parts = tuple[SessionForm, TaughtFormSet]


def _class_parts(user: User, session: ClassSession, data: QueryDict | None) -> Parts:
    initial = {} if session.pk else {"kitchen": Kitchen.objects.owned_by(user).first()}
    form = SessionForm(data, instance=session, user=user, initial=initial)
    taught = TaughtRows(data, instance=session, prefix="taught", form_kwargs={"user": user})
    return form, taught


def _saved_class(request: UserRequest, session: ClassSession, parts: Parts) -> ClassSession | None:
    form, taught = parts
    rows, removed = kept_objects(taught)
    try:
        save_class(
            session=form.save(commit=False),
            stations=form.cleaned_data["stations"],
            assistants=form.cleaned_data["assistants"],
            taught=rows,
            removed=removed,
        )
    except ClassesClash as taken:
        form.refuse(taken.clashes)
        return None
    messages.success(request, f"{session.title} is saved. {form.about_break}".strip())
    return session


def _fits(session: ClassSession, form: SessionForm, taught: TaughtFormSet) -> dict[str, Any]:
    """Whether the class, as typed or else as saved, fits its hours; empty before either exists."""
    if form.is_bound:
        answer = draft_answer(form, taught)
    elif session.pk:
        answer = class_answer(class_plan(session))
    else:
        return {}
    return {"answer": answer, "said": said_verdict(answer)}


@require_http_methods(["GET", "POST"])
def roster(request: UserRequest, code: str) -> HttpResponse:
    """Who comes: the instructor types it in; an assistant only reads it."""
    added = wants_row(request)
    posts = request.method == "POST"
    own = ClassSession.objects.taught_by(request.user).filter(code=code)
    page = Form(
        lambda: (class_taught_by if posts else class_seen_by)(request.user, code),
        _roster_parts,
        lambda session, parts: _saved_roster(request, session, parts),
        (
            Booking.objects.filter(session__in=own),
            Enrollment.objects.filter(session__in=own),
            own,
        ),
    )
    edit = edited(request, page, again=with_row(request.POST, added) if added else None)
    if edit.answer:
        return edit.answer
    if added:
        leave_unchecked(edit.parts)
    session, (rows,) = edit.row, edit.parts
    may_change = teaches(request.user, session)
    context = {
        "session": session,
        "seen": edit.seen,
        "sections": [RowSection(rows, "People", "Add a person")],
        "may_change": may_change,
        "stations": _stations(session),
        "links": [
            (enrollment, request.build_absolute_uri(_student_path(enrollment)))
            for enrollment in session.enrollments.all()
        ],
        "links_end": link_ends_at(session),
        "leaving": rows.leaving if rows.is_bound else (),
        "section": "classes",
    }
    template = "classes/roster.html" + ("#form" if request.htmx else "")
    return render(request, template, context)


def _roster_parts(session: ClassSession, data: QueryDict | None) -> tuple[RosterFormSet]:
    rows = RosterRows(
        data,
        instance=session,
        prefix="people",
        queryset=Enrollment.objects.prefetch_related("variants"),
        form_kwargs=roster_choices(session),
    )
    return (rows,)


def _saved_roster(request: UserRequest, session: ClassSession, parts: tuple[RosterFormSet]) -> str:
    (rows,) = parts
    _, removed = kept_objects(rows)
    people = [(form.save(commit=False), _variants(form)) for form in kept_forms(rows)]
    save_roster(session=session, people=people, removed=removed, at=timezone.now())
    messages.success(request, "The roster is saved. Amounts and papers follow it.")
    return reverse("classes:roster", args=[session.code])


def _variants(form: EnrollmentForm) -> Iterable[Variant]:
    chosen: Iterable[Variant] = form.cleaned_data.get("variants", ())
    return chosen


def _student_path(enrollment: Enrollment) -> str:
    return reverse("handouts:student", args=[student_token(enrollment)])


def _stations(session: ClassSession) -> list[tuple[str, list[str]]]:
    people = people_of(session)
    return [
        (station.name, [person.name for person in people if person.station == station.name])
        for station in session.stations.all()
    ]


@require_POST
@instructor_required
def new_link(request: UserRequest, code: str, pk: int) -> HttpResponse:
    session = class_taught_by(request.user, code)
    enrollment = get_object_or_404(session.enrollments, pk=pk)
    renew_link(enrollment=enrollment)
    messages.success(request, f"{enrollment.name} has a new link. The old one no longer opens.")
    return redirect("classes:roster", code=session.code)
