"""The papers that a student's own link opens, as pages and as PDF."""

from __future__ import annotations

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from classes.access import enrollment_by_home_code, enrollment_by_token, home_token
from classes.core.keys import PersonKey
from classes.enrollment.limits import slow_guesses
from classes.enrollment.models import Enrollment
from classes.plan import ClassPlan
from classes.selectors import class_plan, planned_class
from handouts.answers import in_words, page_size_of, pdf_response, sheets_offered
from handouts.kind import Material, NotPrinted
from handouts.kinds.handout import Handout, handouts
from handouts.kinds.homework import Homework, homework_of
from handouts.press.render import to_pdf

MARKED_ABSENT = NotPrinted(
    409, "You were marked absent", "Nothing was weighed for you. Ask the instructor for the recipe."
)
NOT_READY = NotPrinted(
    409, "Not ready yet", "The class is still being prepared. Check again a few days before it."
)


def own_plan(own: Enrollment) -> ClassPlan:
    """The plan of a student's class. Raises NotPrinted for absent ones, and before it is ready.

    The student is on the roster of the class, so somebody bakes.
    """
    session = planned_class(own.session_id)
    if own.door == Enrollment.Door.ABSENT:
        raise MARKED_ABSENT
    plan = class_plan(session)
    if not plan.stations or not plan.taught:
        raise NOT_READY
    return Material(plan, timezone.now()).plan


def _own(token: str) -> tuple[Enrollment, Handout]:
    own = enrollment_by_token(token, at=timezone.now())
    plan = own_plan(own)
    student = plan.student[PersonKey.student(own.pk)]
    (handout,) = handouts(plan, [student], timezone.now())
    return own, handout


def _own_handout(token: str) -> Handout:
    _, handout = _own(token)
    return handout


def _own_homework(token: str) -> Homework:
    return homework_of(_own_handout(token))


@login_not_required
@require_safe
@slow_guesses
@in_words
def student(request: HttpRequest, token: str) -> HttpResponse:
    own, paper = _own(token)
    context = {
        "paper": paper,
        "writing": paper.writing,
        "sheets": sheets_offered(paper.writing),
        "token": token,
        "home_token": home_token(own),
    }
    return render(request, "handouts/student.html", context)


@login_not_required
@require_safe
@slow_guesses
@in_words
def student_pdf(request: HttpRequest, token: str) -> HttpResponse:
    handout = _own_handout(token)
    page_size = page_size_of(request, handout.writing)
    pdf = to_pdf([handout], page_size)
    return pdf_response(pdf, f"{handout.head.code}-handout-{page_size}")


@login_not_required
@require_safe
@slow_guesses
@in_words
def homework(request: HttpRequest, token: str) -> HttpResponse:
    """What to read before the day."""
    paper = _own_homework(token)
    context = {
        "paper": paper,
        "writing": paper.writing,
        "sheets": sheets_offered(paper.writing),
        "token": token,
    }
    return render(request, "handouts/before.html", context)


@login_not_required
@require_safe
@slow_guesses
@in_words
def homework_pdf(request: HttpRequest, token: str) -> HttpResponse:
    paper = _own_homework(token)
    page_size = page_size_of(request, paper.writing)
    pdf = to_pdf([paper], page_size)
    return pdf_response(pdf, f"{paper.head.code}-before-the-day-{page_size}")


@login_not_required
@require_safe
@slow_guesses
def short_address(request: HttpRequest, code: str) -> HttpResponse:
    """From the address that is printed on papers to the page for a kitchen at home."""
    own = enrollment_by_home_code(code, at=timezone.now())
    return redirect("handouts:at_home", token=home_token(own))
