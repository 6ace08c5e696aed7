"""What anybody may open: coming classes, a class, and the way to a seat in it."""

from __future__ import annotations

import secrets
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from classes.access import booking_by_token, booking_token, student_token, waiting_by_token
from classes.access import waiting_token as token_of_waiting
from classes.forms.enroll import EnrollForm, SeatsForm, WaitingForm
from classes.jsonld import event_jsonld
from classes.limits import limit_posts
from classes.models import Booking, ClassSession, Waiting
from classes.public import open_class, open_session, open_sessions
from classes.services.enrolling import enroll_people, join_waiting, leave_waiting
from classes.services.seats import NoSeats, TooLate, hold_seats


def _new_key() -> str:
    return secrets.token_urlsafe(24)


@login_not_required
@require_safe
def open_list(request: HttpRequest) -> HttpResponse:
    """The coming classes that take enrollments."""
    now = timezone.now()
    return render(request, "public/list.html", {"sessions": open_sessions(now)})


@login_not_required
@require_safe
def open_class_page(request: HttpRequest, code: str) -> HttpResponse:
    return _class_page(request, open_session(code))


def _class_page(
    request: HttpRequest, session: ClassSession, status: int = 200, **more: Any
) -> HttpResponse:
    found = open_class(session, timezone.now())
    context = {
        "shown": found,
        "session": session,
        "seats_form": SeatsForm(initial={"form_key": _new_key(), "seats": 1}),
        "waiting_form": WaitingForm(initial={"form_key": _new_key(), "seats": 1}),
        "jsonld": event_jsonld(found, request.build_absolute_uri()),
    }
    return render(request, "public/class.html", context | more, status=status)


@login_not_required
@require_POST
@limit_posts
def hold(request: HttpRequest, code: str) -> HttpResponse:
    """Hold seats while the form is filled in."""
    session = open_session(code)
    form = SeatsForm(request.POST)
    if not form.is_valid():
        return _class_page(request, session, 400, seats_form=form)
    try:
        booking = hold_seats(session=session, at=timezone.now(), **form.cleaned_data)
    except NoSeats as problem:
        session.refresh_from_db(fields=["taken"])
        return _class_page(request, session, 409, no_seats=problem, wanted=form.cleaned_data)
    except TooLate:
        return _class_page(request, session, 409, too_late=True)
    return redirect("classes:enroll", token=booking_token(booking))


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
@limit_posts
def enroll(request: HttpRequest, token: str) -> HttpResponse:
    """The short form for seats that are held; sent twice it is one enrollment."""
    now = timezone.now()
    booking = booking_by_token(token)
    if booking.state == Booking.State.CONFIRMED:
        return _to_own_page(booking)
    if booking.state != Booking.State.HELD or booking.held_until < now:
        return render(request, "public/run_out.html", {"booking": booking}, status=410)
    sent = request.POST if request.method == "POST" else None
    form = EnrollForm(sent, booking.seats, email=booking.email, name=booking.name)
    if sent is not None and form.is_valid():
        try:
            contact = form.contact.cleaned_data
            enroll_people(booking=booking, people=form.diners(), at=now, **contact)
        except TooLate:
            return render(request, "public/run_out.html", {"booking": booking}, status=410)
        return _to_own_page(booking)
    session = open_session_of(booking)
    context = {"booking": booking, "form": form, "shown": open_class(session, now), "token": token}
    return render(request, "public/enroll.html", context)


def open_session_of(booking: Booking) -> ClassSession:
    """The class of a booking, whether or not it still takes enrollments."""
    return ClassSession.objects.with_plan().get(pk=booking.session_id)


def _to_own_page(booking: Booking) -> HttpResponse:
    first = booking.people.order_by("position", "pk").first()
    return redirect("classes:place", token=student_token(first))


@login_not_required
@require_POST
@limit_posts
def wait(request: HttpRequest, code: str) -> HttpResponse:
    """Join the waiting list."""
    session = open_session(code)
    form = WaitingForm(request.POST)
    if not form.is_valid():
        return _class_page(request, session, 400, waiting_form=form)
    entry = join_waiting(session=session, at=timezone.now(), **form.cleaned_data)
    return redirect("classes:waiting", token=token_of_waiting(entry))


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
@limit_posts
def waiting(request: HttpRequest, token: str) -> HttpResponse:
    """Where somebody stands on the waiting list; a POST leaves it."""
    now = timezone.now()
    entry = waiting_by_token(token, at=now)
    if request.method == "POST":
        leave_waiting(entry=entry, at=now)
        return redirect("classes:waiting", token=token)
    ahead = entry.session.waiting.filter(
        state=Waiting.State.WAITING, made_at__lt=entry.made_at
    ).count()
    offer = None
    if entry.state == Waiting.State.OFFERED and entry.booking:
        offer = booking_token(entry.booking)
    session = ClassSession.objects.with_plan().get(pk=entry.session_id)
    context = {
        "entry": entry,
        "shown": open_class(session, now),
        "ahead": ahead,
        "offer": offer,
    }
    return render(request, "public/waiting.html", context)
