"""The instructor's desk: the public side of a class, who booked, and letters."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from classes.access import class_seen_by, class_taught_by, student_token, teaches
from classes.enrollment.forms.bookings import PublicForm
from classes.enrollment.models import Booking, Letter
from classes.enrollment.services.bookings import save_public_side, tell_of_change, try_letters_again
from classes.enrollment.services.leaving import cancel_all
from classes.enrollment.services.letters import untold
from classes.enrollment.services.seats import TooLate
from classes.enrollment.services.thanks import waiting_for_marks
from classes.enrollment.vacancy import decision_of
from classes.models import ClassSession
from classes.models.journal import note_look
from classes.money.accounts import account_of
from config import letter_files
from config.forms.editing import Form, edited
from config.requests import UserRequest
from recipes.access import instructor_required


@require_http_methods(["GET", "HEAD", "POST"])
@instructor_required
def enrollment(request: UserRequest, code: str) -> HttpResponse:
    """What the public page says, who booked, and who waits."""
    page = Form(
        lambda: class_taught_by(request.user, code),
        lambda session, data: (PublicForm(data, instance=session),),
        lambda session, parts: _saved_public_side(request, parts[0]),
        (ClassSession.objects.taught_by(request.user).filter(code=code),),
    )
    edit = edited(request, page)
    if edit.answer:
        return edit.answer
    session, (form,) = edit.row, edit.parts
    note_look(session=session, user=request.user, what="bookings and contacts", at=timezone.now())
    context = {
        "session": session,
        "form": form,
        "seen": edit.seen,
        "bookings": [(booking, _links(booking)) for booking in _bookings(session)],
        "waiting": session.waiting.exclude(state="left"),
        "account": account_of(session),
        "decision": decision_of(session, at=timezone.now()),
        "section": "classes",
    }
    return render(request, "classes/enrollment.html", context)


def _saved_public_side(request: UserRequest, form: PublicForm) -> str:
    session = save_public_side(session=form.save(commit=False), at=timezone.now())
    messages.success(request, "The public page of the class is saved.")
    return reverse("classes:enrollment", args=[session.code])


def _bookings(session: ClassSession) -> list[Booking]:
    shown = session.bookings.exclude(state=Booking.State.RUN_OUT)
    return list(shown.prefetch_related("people"))


def _links(booking: Booking) -> list[tuple[str, str]]:
    return [(person.name, student_token(person)) for person in booking.people.all()]


@require_http_methods(["POST"])
@instructor_required
def booking_cancel(request: UserRequest, code: str, pk: int) -> HttpResponse:
    """Cancel a booking for somebody who asked on the phone; the class's rule decides the money."""
    session = class_taught_by(request.user, code)
    known = session.bookings.filter(state__in=(Booking.State.CONFIRMED, Booking.State.CANCELED))
    booking = get_object_or_404(known, pk=pk)
    try:
        if cancel_all(booking=booking, at=timezone.now()):
            messages.success(request, "The booking is canceled, and its seats are free again.")
        else:
            messages.info(request, "That booking was already canceled.")
    except TooLate:
        messages.error(request, "The class has begun. Mark who is absent at the door instead.")
    return redirect("classes:enrollment", code=session.code)


@require_http_methods(["GET", "HEAD", "POST"])
def letters(request: UserRequest, code: str) -> HttpResponse:
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
        "unthanked": waiting_for_marks(session, at=timezone.now()),
        "failed": [letter for letter in written if letter.state == Letter.State.FAILED],
        "may_change": teaches(request.user, session),
        "not_sent_but_in": letter_files.folder() if letter_files.in_use() else None,
        "section": "classes",
    }
    return render(request, "classes/letters.html", context)


def _post_letters(request: UserRequest, session: ClassSession) -> HttpResponse:
    now = timezone.now()
    if "again" in request.POST:
        count = try_letters_again(session=session, at=now)
        messages.success(request, f"Letters that will be tried again: {count}.")
    else:
        count = tell_of_change(session=session, at=now)
        messages.success(request, f"Letters about the change: {count}. They go out now.")
    return redirect("classes:letters", code=session.code)
