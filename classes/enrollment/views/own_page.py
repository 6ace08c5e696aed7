"""A student's own page: the class, what they must not eat, their papers, and canceling."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, Protocol

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from classes.access import (
    booking_token,
    enrollment_by_home_token,
    enrollment_by_token,
    home_token,
    student_token,
)
from classes.calendars.feeds import class_ics
from classes.diets.selectors import heeds_for
from classes.enrollment.booked_words import letter_words, seats_words
from classes.enrollment.forms.enroll import DietForm, MoveForm
from classes.enrollment.limits import View, limit_posts, slow_guesses
from classes.enrollment.models import Booking, Enrollment
from classes.enrollment.public import open_class, public_class
from classes.enrollment.services.leaving import (
    booking_made_by,
    cancel_all,
    cancel_one,
    change_diet,
    erase_person,
    move_booking,
    terms_now,
)
from classes.enrollment.services.personal import person_document
from classes.enrollment.services.seats import NoSeats, TooLate
from classes.models import ClassSession
from config.forms.editing import Form, edited
from config.forms.seen import seen_word


class OwnView(Protocol):
    """A view of somebody's own page."""

    def __call__(self, request: HttpRequest, own: Enrollment, token: str) -> HttpResponse: ...


def own_page(view: OwnView) -> View:
    """Open a page by a student's own link; wrong links are counted, and slowed down."""
    return _linked_page(view, enrollment_by_token)


def home_page(view: OwnView) -> View:
    """Open a page by the link that leads only to a student's kitchen at home."""
    return _linked_page(view, enrollment_by_home_token)


def _linked_page(view: OwnView, enrollment_by: Callable[..., Enrollment]) -> View:
    @login_not_required
    @slow_guesses
    @wraps(view)
    def wrapped(request: HttpRequest, token: str) -> HttpResponse:
        return view(request, enrollment_by(token, at=timezone.now()), token)

    return wrapped


def _context(own: Enrollment, token: str) -> dict[str, Any]:
    now = timezone.now()
    session = public_class(own.session_id)
    booking = own.booking
    people = list(booking.people.order_by("position", "pk")) if booking else [own]
    made = booking_made_by(own)
    terms = terms_now(booking, at=now) if booking else None
    diet_form = DietForm(None, own)
    return {
        "own": own,
        "token": token,
        "home_token": home_token(own),
        "session": session,
        "shown": open_class(session, now),
        "booking": booking,
        "people": people,
        "others": [
            (person, student_token(person) if made else "")
            for person in people
            if person.pk != own.pk
        ],
        "is_contact": made is not None,
        "terms": terms,
        "in_time": terms is not None and now <= terms.refund_until,
        "diet_form": diet_form,
        "seen": seen_word([diet_form]),
        "paper": heeds_for(own),
        "move_form": MoveForm(None, made, now) if made and terms and terms.may_move else None,
        "has_begun": session.starts_at <= now,
        "has_seats": seats_words(made.seats if made else 1),
        "letter_words": letter_words(made) if made else "",
    }


@require_safe
@own_page
def place(request: HttpRequest, own: Enrollment, token: str) -> HttpResponse:
    return render(request, "public/place.html", _context(own, token))


@require_http_methods(["GET", "HEAD", "POST"])
@limit_posts
@own_page
def place_change(request: HttpRequest, own: Enrollment, token: str) -> HttpResponse:
    """What a person must not eat, entered again."""

    def saved(fresh: Enrollment, parts: tuple[DietForm]) -> str:
        change_diet(enrollment=fresh, diner=parts[0].diner(), at=timezone.now())
        messages.success(request, "Saved. Only the instructor and the assistant see it.")
        return reverse("classes:place", args=[token])

    page = Form(
        lambda: enrollment_by_token(token, at=timezone.now()),
        lambda fresh, data: (DietForm(data, fresh),),
        saved,
        (Enrollment.objects.filter(pk=own.pk),),
        base="public/base.html",
    )
    edit = edited(request, page)
    if edit.answer:
        return edit.answer
    (form,) = edit.parts
    changed = {"diet_form": form, "seen": edit.seen}
    return render(request, "public/place.html", _context(edit.row, token) | changed)


@require_POST
@limit_posts
@own_page
def place_cancel(request: HttpRequest, own: Enrollment, token: str) -> HttpResponse:
    """Cancel one's own seat, or as the contact all seats of the booking."""
    now = timezone.now()
    booking, session = own.booking, own.session
    made = booking_made_by(own)
    try:
        if "all" in request.POST and made:
            cancel_all(booking=made, at=now)
        else:
            cancel_one(enrollment=own, at=now)
    except TooLate:
        messages.error(request, "The class has begun, so nothing was canceled.")
        return redirect("classes:place", token=token)
    context: dict[str, Any] = {"session": session, "booking": booking}
    if booking is not None:
        booking.refresh_from_db()
        if made and booking.state == Booking.State.CANCELED:
            context["form_token"] = booking_token(booking)
    return render(request, "public/left.html", context)


@require_POST
@limit_posts
@own_page
def place_move(request: HttpRequest, own: Enrollment, token: str) -> HttpResponse:
    """Move the whole booking to another class."""
    if (made := booking_made_by(own)) is None:
        raise Http404
    now = timezone.now()
    form = MoveForm(request.POST, made, now)
    if not form.is_valid() and form.has_choice:
        return render(request, "public/place.html", _context(own, token) | {"move_form": form})
    try:
        if not form.is_valid():
            raise TooLate
        booking: Booking = move_booking(booking=made, to=form.cleaned_data["to"], at=now)
    except (NoSeats, TooLate):
        messages.error(request, "That class no longer has room for you. Nothing was changed.")
        return redirect("classes:place", token=token)
    messages.success(request, f"You are now in “{booking.session.title}”.")
    return redirect("classes:place", token=token)


@require_http_methods(["GET", "HEAD", "POST"])
@limit_posts
@own_page
def place_erase(request: HttpRequest, own: Enrollment, token: str) -> HttpResponse:
    """Be erased: a page says first what goes and what stays, a POST does it."""
    if request.method != "POST":
        return render(request, "public/erase.html", _context(own, token))
    erase_person(enrollment=own, at=timezone.now())
    return render(request, "public/erased.html", {"session": own.session})


@require_safe
@own_page
def place_data(request: HttpRequest, own: Enrollment, token: str) -> HttpResponse:
    """Everything stored about the person: a page to read, or with ?format=json a file."""
    found = person_document(own)
    if request.GET.get("format") == "json":
        response = JsonResponse(found, json_dumps_params={"indent": 2, "ensure_ascii": False})
        response["Content-Disposition"] = 'attachment; filename="what-is-held.json"'
        return response
    context = {"found": found, "token": token, "home_token": home_token(own), "own": own}
    return render(request, "public/data.html", context)


@require_safe
@own_page
def event(request: HttpRequest, own: Enrollment, token: str) -> HttpResponse:
    """The class for the student's calendar."""
    session = ClassSession.objects.select_related("kitchen").get(pk=own.session_id)
    text = class_ics(session, at=timezone.now())
    response = HttpResponse(text, content_type="text/calendar; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="class-{session.code}.ics"'
    return response
