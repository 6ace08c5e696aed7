"""What anybody may open: coming classes, a class, and the way to a seat in it."""

from __future__ import annotations

import secrets
from enum import Enum
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.db.models import Q
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from classes.access import booking_by_token, booking_token, student_token, waiting_by_token
from classes.access import waiting_token as token_of_waiting
from classes.forms.enroll import EnrollForm, SeatsForm, WaitingForm
from classes.jsonld import event_jsonld
from classes.limits import limit_posts, slow_guesses
from classes.models import Booking, ClassSession, Waiting
from classes.public import (
    open_class,
    open_row,
    open_session,
    open_sessions,
    public_class,
)
from classes.services.enrolling import enroll_people, join_waiting, leave_waiting
from classes.services.leaving import forget_booking, is_contact_of
from classes.services.letters import address
from classes.services.seats import NoSeats, TooLate, hold_seats, surely_full


class Refused(Enum):
    """Why nothing was held, as the address of the class's page says it."""

    NO_SEATS = "no-seats"
    TOO_LATE = "too-late"

    @classmethod
    def of(cls, word: str) -> Refused | None:
        return next((one for one in cls if one.value == word), None)

    @property
    def is_late(self) -> bool:
        return self is Refused.TOO_LATE


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
    """A class as anybody may see it, with the form for a seat or for the waiting list."""
    refused = Refused.of(request.GET.get("refused", ""))
    return _class_page(request, open_session(code), refused=refused)


def _class_page(
    request: HttpRequest, session: ClassSession, status: int = 200, **more: Any
) -> HttpResponse:
    found = open_class(session, timezone.now())
    context = {
        "shown": found,
        "session": session,
        "seats_form": SeatsForm(initial={"form_key": _new_key(), "seats": 1}),
        "waiting_form": WaitingForm(initial={"form_key": _new_key(), "seats": 1}),
        "jsonld": event_jsonld(found, address("classes:open_class", session.code)),
    }
    return render(request, "public/class.html", context | more, status=status)


@login_not_required
@require_POST
@limit_posts
def hold(request: HttpRequest, code: str) -> HttpResponse:
    """Hold seats while the form is filled in; who gets none is led back to the class's page.

    A full class is asked for by many at once, so a refusal costs no page here.
    """
    now, wanted = timezone.now(), SeatsForm.wanted(request.POST)
    if wanted is None:
        return _class_page(request, open_session(code), 400, seats_form=SeatsForm(request.POST))
    if surely_full(code=code, at=now, **wanted):
        return _refusal(code, Refused.NO_SEATS)
    try:
        booking = hold_seats(session=open_row(code), at=now, **wanted)
    except Booking.DoesNotExist:  # the key is that of a form of another class
        return _class_page(request, open_session(code), 400)
    except NoSeats:
        return _refusal(code, Refused.NO_SEATS)
    except TooLate:
        return _refusal(code, Refused.TOO_LATE)
    return redirect("classes:enroll", token=booking_token(booking))


def _refusal(code: str, why: Refused) -> HttpResponse:
    return HttpResponseRedirect(f"{reverse('classes:open_class', args=[code])}?refused={why.value}")


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
@limit_posts
@slow_guesses
def enroll(request: HttpRequest, token: str) -> HttpResponse:
    """The short form for seats that are held; sent twice it is one enrollment."""
    now = timezone.now()
    booking = booking_by_token(token)
    if booking.state == Booking.State.CONFIRMED:
        return _to_own_page(booking)
    may_forget = booking.state in (Booking.State.CANCELED, Booking.State.RUN_OUT)
    if may_forget and "forget" in request.POST:
        forget_booking(booking=booking, at=now)
        return render(request, "public/erased.html")
    if booking.state != Booking.State.HELD or booking.held_until < now:
        context = {"booking": booking, "token": token, "may_forget": may_forget and booking.email}
        return render(request, "public/run_out.html", context, status=410)
    sent = request.POST if request.method == "POST" else None
    form = EnrollForm(sent, booking.seats, email=booking.email, name=booking.name)
    if sent is not None and form.is_valid():
        try:
            contact = form.contact.cleaned_data
            enroll_people(booking=booking, people=form.diners(), at=now, **contact)
        except TooLate:
            return render(request, "public/run_out.html", {"booking": booking}, status=410)
        return _to_own_page(booking)
    session = public_class(booking.session_id)
    context = {"booking": booking, "form": form, "shown": open_class(session, now), "token": token}
    return render(request, "public/enroll.html", context)


def _to_own_page(booking: Booking) -> HttpResponse:
    """The page of the one who booked; nobody else's opens by the address of the form."""
    first = booking.people.order_by("position", "pk").first()
    if first is None or not is_contact_of(booking, first):
        raise Http404
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
@slow_guesses
def waiting(request: HttpRequest, token: str) -> HttpResponse:
    """Where somebody stands on the waiting list; a POST leaves it."""
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
    }
    return render(request, "public/waiting.html", context)
