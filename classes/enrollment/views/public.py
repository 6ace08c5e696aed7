"""What anybody may open: coming classes, a class, its waiting list, and what a visitor holds."""

from __future__ import annotations

import secrets
from datetime import datetime
from enum import Enum
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.db.models import Q
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from classes.access import booking_by_token, booking_token, waiting_by_token
from classes.access import waiting_token as token_of_waiting
from classes.enrollment.forms.enroll import SeatsForm, WaitingForm
from classes.enrollment.jsonld import event_jsonld
from classes.enrollment.limits import limit_posts, slow_guesses
from classes.enrollment.models import Booking, Waiting
from classes.enrollment.public import listed_classes, open_class, open_session, public_class
from classes.enrollment.services.enrolling import join_waiting, leave_waiting
from classes.enrollment.services.holds import HOLD, HOLD_WITH_CONTACT
from classes.enrollment.services.letters import address
from classes.enrollment.vacancy import A_MINUTE, vacancy_of
from classes.models import ClassSession
from config import letter_files


class NotHeld(Enum):
    """Why nothing was held, as a word in the address of the class's page."""

    NO_SEATS = "no-seats"
    TOO_LATE = "too-late"
    TOO_MANY_HOLDS = "too-many-forms"

    @classmethod
    def of(cls, word: str) -> NotHeld | None:
        return next((member for member in cls if member.value == word), None)

    @property
    def is_late(self) -> bool:
        return self is NotHeld.TOO_LATE

    @property
    def is_one_too_many(self) -> bool:
        return self is NotHeld.TOO_MANY_HOLDS


def _new_key() -> str:
    return secrets.token_urlsafe(24)


@login_not_required
@require_safe
def open_list(request: HttpRequest) -> HttpResponse:
    """The coming classes that take enrollments."""
    now = timezone.now()
    return render(request, "public/list.html", {"listed": listed_classes(now)})


@login_not_required
@require_safe
def open_class_page(request: HttpRequest, code: str) -> HttpResponse:
    """A class as anybody may see it, with the form for a seat or for the waiting list."""
    refused = NotHeld.of(request.GET.get("refused", ""))
    return class_page(request, open_session(code), refused=refused)


def class_page(
    request: HttpRequest, session: ClassSession, status: int = 200, **more: Any
) -> HttpResponse:
    """The page of a class, with more in its context."""
    now = timezone.now()
    found, vacancy = open_class(session, now), vacancy_of(session, now)
    own = own_hold(request, session.code, now)
    held = own.seats if own else 0
    key = _new_key()
    context = {
        "shown": found,
        "session": session,
        "vacancy": vacancy,
        "own_hold": own,
        "sends_letters": not letter_files.in_use(),
        "hold_min": HOLD // A_MINUTE,
        "kept_min": HOLD_WITH_CONTACT // A_MINUTE,
        "seats_form": SeatsForm(
            initial={"form_key": key, "seats": held or 1}, most=vacancy.left + held
        ),
        "waiting_form": WaitingForm(initial={"form_key": key, "seats": 1}, most=session.seats),
        "jsonld": event_jsonld(found, vacancy, address("classes:open_class", session.code)),
    }
    return render(request, "public/class.html", context | more, status=status)


@login_not_required
@require_POST
@limit_posts
def wait(request: HttpRequest, code: str) -> HttpResponse:
    """Join the waiting list."""
    session = open_session(code)
    form = WaitingForm(request.POST, most=session.seats)
    if not form.is_valid():
        return class_page(request, session, 400, waiting_form=form)
    entry = join_waiting(session=session, at=timezone.now(), **form.cleaned_data)
    return redirect("classes:waiting", token=token_of_waiting(entry))


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
@limit_posts
@slow_guesses
def waiting(request: HttpRequest, token: str) -> HttpResponse:
    """Somebody's position on the waiting list; a POST leaves the list."""
    now = timezone.now()
    entry = waiting_by_token(token, at=now)
    if request.method == "POST":
        leave_waiting(entry=entry, at=now)
        return redirect("classes:waiting", token=token)
    before = Q(made_at__lt=entry.made_at) | Q(made_at=entry.made_at, pk__lt=entry.pk)
    ahead = entry.session.waiting.filter(before, state=Waiting.State.WAITING).count()
    offer = None
    if entry.state == Waiting.State.OFFERED and entry.booking:
        offer = booking_token(entry.booking)
    session = public_class(entry.session_id)
    context = {
        "entry": entry,
        "shown": open_class(session, now),
        "ahead": ahead,
        "offer": offer,
        "sends_letters": not letter_files.in_use(),
    }
    return render(request, "public/waiting.html", context)


def cookie_name(code: str) -> str:
    """The name of the cookie for the form that a browser has open for a class."""
    return f"seats-{code}"


def own_hold(request: HttpRequest, code: str, at: datetime) -> Booking | None:
    """The seats that the visitor's browser holds in a class at a moment, if any."""
    token = request.COOKIES.get(cookie_name(code))
    if not token:
        return None
    try:
        booking = booking_by_token(token)
    except Http404:
        return None
    return booking if booking.session.code == code and booking.is_held_at(at) else None
