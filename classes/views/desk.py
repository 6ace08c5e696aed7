"""The instructor's desk: the public side of a class, who booked, money, and letters."""

from __future__ import annotations

import secrets

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from classes.access import class_seen_by, class_taught_by, student_token, teaches
from classes.accounts import account_of, accounts_of
from classes.accounts_csv import accounts_csv
from classes.decisions import decision_of
from classes.forms.desk import PublicForm
from classes.forms.money import PaymentForm
from classes.journal import note_look
from classes.models import Booking, ClassSession, Letter
from classes.services.desk import (
    note_payment,
    save_public_side,
    tell_of_change,
    try_letters_again,
)
from classes.services.leaving import cancel_all
from classes.services.letters import untold
from classes.services.seats import TooLate
from classes.views.keys import key_of
from recipes.access import instructor_required


@require_http_methods(["GET", "HEAD", "POST"])
@instructor_required
def enrollment(request: HttpRequest, code: str) -> HttpResponse:
    """What the public page says, who booked, and who waits."""
    session = class_taught_by(request.user, code)
    form = PublicForm(request.POST if request.method == "POST" else None, instance=session)
    if request.method == "POST" and form.is_valid():
        save_public_side(session=form.save(commit=False), at=timezone.now())
        messages.success(request, "The public side of the class is saved.")
        return redirect("classes:enrollment", code=session.code)
    note_look(session=session, user=request.user, what="bookings and contacts", at=timezone.now())
    context = {
        "session": session,
        "form": form,
        "bookings": [(one, _links(one)) for one in _bookings(session)],
        "waiting": session.waiting.exclude(state="left"),
        "account": account_of(session),
        "decision": decision_of(session, at=timezone.now()),
        "section": "classes",
    }
    return render(request, "classes/enrollment.html", context)


def _bookings(session: ClassSession) -> list[Booking]:
    shown = session.bookings.exclude(state=Booking.State.RUN_OUT)
    return list(shown.prefetch_related("people"))


def _links(booking: Booking) -> list[tuple[str, str]]:
    return [(person.name, student_token(person)) for person in booking.people.all()]


@require_http_methods(["POST"])
@instructor_required
def booking_cancel(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """Cancel a booking for somebody who asked on the phone; the class's rule decides the money."""
    session = class_taught_by(request.user, code)
    known = session.bookings.filter(state__in=(Booking.State.CONFIRMED, Booking.State.CANCELED))
    booking = get_object_or_404(known, pk=pk)
    try:
        if cancel_all(booking=booking, at=timezone.now()):
            messages.success(request, "The booking is canceled, and its seats are free again.")
        else:
            messages.info(request, "That booking was canceled already.")
    except TooLate:
        messages.error(request, "The class has begun. Mark who is absent at the door instead.")
    return redirect("classes:enrollment", code=session.code)


@require_http_methods(["GET", "HEAD", "POST"])
@instructor_required
def money(request: HttpRequest, code: str) -> HttpResponse:
    """What was asked, what came in, and what is owed, booking by booking."""
    session = class_taught_by(request.user, code)
    booking, form = None, None
    if request.method == "POST":
        booking = get_object_or_404(session.bookings, pk=key_of(request.POST.get("booking")))
        form = PaymentForm(request.POST, currency=session.kitchen.currency)
        if form.is_valid():
            note_payment(
                booking=booking,
                amount_minor=form.amount_minor,
                means=form.cleaned_data["means"],
                paid_on=form.cleaned_data["paid_on"],
                note=form.cleaned_data["note"],
                form_key=form.cleaned_data["form_key"],
                user=request.user,
            )
            messages.success(request, "Written down.")
            return redirect("classes:money", code=session.code)
    elif chosen := request.GET.get("booking", ""):
        booking = get_object_or_404(session.bookings, pk=key_of(chosen))
        form = _payment_form(session)
    context = {
        "session": session,
        "account": account_of(session),
        "booking": booking,
        "form": form,
        "section": "classes",
    }
    return render(request, "classes/money.html", context)


def _payment_form(session: ClassSession) -> PaymentForm:
    today = timezone.now().astimezone(session.kitchen.zone).date()
    initial = {"form_key": secrets.token_urlsafe(24), "paid_on": today}
    return PaymentForm(currency=session.kitchen.currency, initial=initial)


@require_GET
@instructor_required
def money_csv(request: HttpRequest, code: str) -> HttpResponse:
    session = class_taught_by(request.user, code)
    return _csv_file(accounts_csv([account_of(session)]), f"money-{session.code}.csv")


@require_GET
@instructor_required
def all_money(request: HttpRequest) -> HttpResponse:
    """All classes of a year, as a page or with ?format=csv as a file."""
    year = _year(request)
    taught = (
        ClassSession.objects.taught_by(request.user)
        .filter(starts_at__year=year)
        .select_related("kitchen")
        .prefetch_related("bookings__payments")
    )
    accounts = list(accounts_of(taught))
    if request.GET.get("format") == "csv":
        return _csv_file(accounts_csv(accounts), f"money-{year}.csv")
    context = {"accounts": accounts, "year": year, "section": "classes"}
    return render(request, "classes/all_money.html", context)


def _year(request: HttpRequest) -> int:
    asked = key_of(request.GET.get("year"))
    return asked if 2000 <= asked <= 9998 else timezone.now().year


def _csv_file(text: str, name: str) -> HttpResponse:
    response = HttpResponse(text, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


@require_http_methods(["GET", "HEAD", "POST"])
def letters(request: HttpRequest, code: str) -> HttpResponse:
    """What was written to whom, who has not been told of a change, and what failed."""
    session = class_seen_by(request.user, code)
    if request.method == "POST":
        class_taught_by(request.user, code)
        return _post_letters(request, session)
    note_look(session=session, user=request.user, what="letters", at=timezone.now())
    written = list(session.letters.all())
    context = {
        "session": session,
        "letters": written,
        "untold": untold(session),
        "failed": [one for one in written if one.state == Letter.State.FAILED],
        "may_change": teaches(request.user, session),
        "section": "classes",
    }
    return render(request, "classes/letters.html", context)


def _post_letters(request: HttpRequest, session: ClassSession) -> HttpResponse:
    now = timezone.now()
    if "again" in request.POST:
        count = try_letters_again(session=session, at=now)
        messages.success(request, f"Letters that will be tried again: {count}.")
    else:
        count = tell_of_change(session=session, at=now)
        messages.success(request, f"Letters about the change: {count}. They go out now.")
    return redirect("classes:letters", code=session.code)
