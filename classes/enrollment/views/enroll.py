"""From the page of a class to a seat in it: seats are held, and one short form is filled in."""

from __future__ import annotations

from datetime import datetime

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from classes.access import booking_by_token, booking_token, student_token
from classes.enrollment.forms.enroll import EnrollForm, SeatsForm
from classes.enrollment.limits import limit_posts, mark_of_connection, slow_guesses
from classes.enrollment.models import Booking
from classes.enrollment.public import open_class, open_row, open_session, public_class
from classes.enrollment.services.enrolling import enroll_people
from classes.enrollment.services.holds import (
    HOLD_WITH_CONTACT,
    TooManyHolds,
    change_hold,
    hold_anew,
    hold_seats,
    keep_hold,
    longer_hold,
    surely_full,
)
from classes.enrollment.services.leaving import booking_made_by, forget_booking
from classes.enrollment.services.seats import NoSeats, TooLate
from classes.enrollment.views.public import NotHeld, class_page, cookie_name, own_hold


@login_not_required
@require_POST
@limit_posts
def hold(request: HttpRequest, code: str) -> HttpResponse:
    """Hold seats while the form is filled in; those who get none return to the class's page.

    Many ask for a full class at once, so a refusal renders no page here.
    """
    now, wanted = timezone.now(), SeatsForm.wanted(request.POST)
    if wanted is None:
        return class_page(request, open_session(code), 400, seats_form=SeatsForm(request.POST))
    try:
        booking = _held(request, code, now, **wanted)
    except Booking.DoesNotExist:  # the key belongs to a form for another class
        return class_page(request, open_session(code), 400)
    except NoSeats:
        return _refusal(code, NotHeld.NO_SEATS)
    except TooManyHolds:
        return _refusal(code, NotHeld.TOO_MANY_HOLDS)
    except TooLate:
        return _refusal(code, NotHeld.TOO_LATE)
    return _to_form(booking, code)


def _held(request: HttpRequest, code: str, now: datetime, *, seats: int, form_key: str) -> Booking:
    """Seats held for a visitor: those of the form that is already open, if there is one."""
    own = own_hold(request, code, now)
    if own is not None and _is_now_of(own, seats, now):
        return own
    if surely_full(code=code, at=now, seats=seats, form_key=form_key):
        raise NoSeats(0)
    mark = mark_of_connection(request, code)
    return hold_seats(session=open_row(code), at=now, seats=seats, form_key=form_key, holder=mark)


def _is_now_of(own: Booking, seats: int, now: datetime) -> bool:
    """Whether a hold now has the wanted number of seats, changed if needed; not if it ended."""
    if own.seats == seats:
        return True
    try:
        change_hold(booking=own, seats=seats, at=now)
    except TooLate:
        return False
    return True


def _to_form(booking: Booking, code: str) -> HttpResponse:
    """The redirect to the form, with a cookie by which a second try finds the same seats."""
    token = booking_token(booking)
    response = redirect("classes:enroll", token=token)
    response.set_cookie(
        cookie_name(code),
        token,
        max_age=HOLD_WITH_CONTACT,
        path=reverse("classes:open_class", args=[code]),
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )
    return response


def _refusal(code: str, why: NotHeld) -> HttpResponse:
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
    if not booking.is_held_at(now):
        try:
            _hold_anew(request, booking, now)
        except NoSeats:
            form = EnrollForm.half_filled(request.POST, booking.seats)
            return _form_page(request, booking, token, form, now, status=410)
        except TooLate:
            context = {"booking": booking, "token": token}
            context["may_forget"] = may_forget and booking.email
            return render(request, "public/run_out.html", context, status=410)
    if "keep" in request.POST:
        return _keep(request, booking, token, now)
    sent = request.POST if request.method == "POST" else None
    form = EnrollForm(
        sent, booking.seats, email=booking.email, phone=booking.phone, name=booking.name
    )
    if sent is not None and form.is_valid():
        return _enrolled(request, booking, form, now)
    if sent is not None:
        _keep_for(booking, form, now)
    return _form_page(request, booking, token, form, now)


def _hold_anew(request: HttpRequest, booking: Booking, now: datetime) -> None:
    """For a form that is sent, hold again seats whose time was over. Raises NoSeats or TooLate."""
    if request.method != "POST":
        raise TooLate
    hold_anew(booking=booking, at=now)


def _enrolled(
    request: HttpRequest, booking: Booking, form: EnrollForm, now: datetime
) -> HttpResponse:
    contact = form.contact.cleaned_data
    try:
        enroll_people(booking=booking, people=form.diners(), at=now, **contact)
    except TooLate:
        return render(request, "public/run_out.html", {"booking": booking}, status=410)
    return _to_own_page(booking)


def _keep(request: HttpRequest, booking: Booking, token: str, now: datetime) -> HttpResponse:
    """Hold the seats longer for somebody who said how to reach them; nothing typed is lost."""
    form = EnrollForm.half_filled(request.POST, booking.seats)
    _keep_for(booking, form, now)
    template = "public/_held.html" if getattr(request, "htmx", False) else "public/enroll.html"
    return _form_page(request, booking, token, form, now, template)


def _keep_for(booking: Booking, form: EnrollForm, now: datetime) -> None:
    if form.contact.is_valid():
        keep_hold(booking=booking, at=now, **form.contact.cleaned_data)


def _form_page(
    request: HttpRequest,
    booking: Booking,
    token: str,
    form: EnrollForm,
    now: datetime,
    template: str = "public/enroll.html",
    status: int = 200,
) -> HttpResponse:
    """The form; with another status its seats are gone, but what was typed is still there."""
    shown = open_class(public_class(booking.session_id), now)
    context = {
        "booking": booking,
        "form": form,
        "shown": shown,
        "token": token,
        "longer": longer_hold(booking),
        "is_gone": status != 200,
    }
    return render(request, template, context, status=status)


def _to_own_page(booking: Booking) -> HttpResponse:
    """The page of the person who booked; the form's address opens nobody else's."""
    first = booking.people.order_by("position", "pk").first()
    if first is None or not booking_made_by(first):
        raise Http404
    return redirect("classes:place", token=student_token(first))
