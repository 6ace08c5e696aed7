"""The papers as PDF, and the page that a student's own link opens."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import wraps

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from classes.access import class_seen_by, enrollment_by_token
from classes.hours import ClassHours
from classes.hours_answers import class_answer
from classes.hours_words import obstacle_words
from classes.limits import slow_guesses
from classes.models import ClassSession, Enrollment
from classes.selectors import ClassNumbers, class_numbers, expected
from handouts import selectors
from handouts.documents import Handout, NoRecipe, Paper
from handouts.homework import Homework, homework_of
from handouts.render import PageSize, to_pdf
from handouts.run_sheet import Edition, run_sheet_of
from recipes.baking.errors import NobodyBakes

View = Callable[..., HttpResponse]


@dataclass(eq=False)
class NotPrinted(Exception):
    """A paper that cannot be had, in words for the person who asked."""

    status: int
    heading: str
    advice: str


NOBODY = NotPrinted(
    409, "Nobody bakes yet", "Add students to the roster, or a demonstration to a recipe."
)
NO_STUDENTS = NotPrinted(
    409, "No students yet", "Handouts carry names. Add students to the roster first."
)
NO_PEOPLE = NotPrinted(
    409, "Nobody stands at a station yet", "Add students to the roster, or plan for empty seats."
)
NO_RECIPE = NotPrinted(409, "No recipe yet", "Choose a recipe for the class first.")
NO_STATION = NotPrinted(409, "No station yet", "Choose the stations that the class uses first.")
MARKED_ABSENT = NotPrinted(
    409, "You were marked absent", "Nothing was weighed for you. Ask the instructor for the recipe."
)
NOT_READY = NotPrinted(
    409, "Not ready yet", "The class is still being prepared. Look in again some days before it."
)
UNKNOWN_SIZE = NotPrinted(400, "Unknown paper size", "Papers come as ?page=a4 and as ?page=letter.")

UNKNOWN_EDITION = NotPrinted(
    400,
    "Unknown edition",
    "Run sheets come as ?edition=instructor and as ?edition=assistant.",
)


def in_words(view: View) -> View:
    """Answer NotPrinted with a page that says what to do."""

    @wraps(view)
    def wrapped(request: HttpRequest, *args: object, **kwargs: object) -> HttpResponse:
        try:
            return view(request, *args, **kwargs)
        except NoRecipe:
            problem = NO_RECIPE
        except NotPrinted as error:
            problem = error
        context = {"problem": problem, "code": kwargs.get("code")}
        return render(request, "handouts/not_printed.html", context, status=problem.status)

    return wrapped


def page_size_of(request: HttpRequest) -> PageSize:
    try:
        return PageSize(request.GET.get("page", PageSize.A4))
    except ValueError:
        raise UNKNOWN_SIZE from None


def edition_of(request: HttpRequest) -> Edition:
    try:
        return Edition(request.GET.get("edition", Edition.INSTRUCTOR))
    except ValueError:
        raise UNKNOWN_EDITION from None


def _hours(session: ClassSession) -> ClassHours:
    """The hours that the page shows, or what keeps them from being planned."""
    if not session.taught.all():
        raise NO_RECIPE
    answer = class_answer(session)
    for lack in answer.lacks:
        raise NotPrinted(409, lack.title, lack.reason)
    if answer.hours is None or answer.hours.solved is None:
        obstacle = answer.verdict.obstacle if answer.verdict else None
        reason = obstacle_words(obstacle) if obstacle else "See the hours of the class."
        raise NotPrinted(409, "No plan of the hours was found", reason)
    return answer.hours


def _numbers(session: ClassSession) -> ClassNumbers:
    if not session.stations.all():
        raise NO_STATION
    try:
        return class_numbers(session)
    except NobodyBakes:
        raise NOBODY from None


def _pdf(papers: Sequence[Paper], page_size: PageSize, name: str, title: str = "") -> HttpResponse:
    response = HttpResponse(to_pdf(papers, page_size, title), content_type="application/pdf")
    response["Content-Disposition"] = f'attachment; filename="{name}-{page_size}.pdf"'
    response["X-Robots-Tag"] = "noindex, nofollow"
    return response


def _handouts(session: ClassSession, students: Sequence[Enrollment]) -> tuple[Handout, ...]:
    return selectors.handouts(_numbers(session), students, timezone.now())


# For the instructor and the assistants


@require_safe
@in_words
def all_handouts(request: HttpRequest, code: str) -> HttpResponse:
    session, page_size = class_seen_by(request.user, code), page_size_of(request)
    students = expected(session)
    if not students:
        raise NO_STUDENTS
    title = f"Handouts: {session.title}"
    return _pdf(_handouts(session, students), page_size, f"{session.code}-handouts", title)


@require_safe
@in_words
def one_handout(request: HttpRequest, code: str, enrollment: int) -> HttpResponse:
    session, page_size = class_seen_by(request.user, code), page_size_of(request)
    students = [one for one in expected(session) if one.pk == enrollment]
    if not students:
        raise Http404
    return _pdf(_handouts(session, students), page_size, f"{session.code}-handout-{enrollment}")


@require_safe
@in_words
def preparation(request: HttpRequest, code: str) -> HttpResponse:
    session, page_size = class_seen_by(request.user, code), page_size_of(request)
    paper = selectors.preparation_list(_numbers(session), timezone.now())
    return _pdf([paper], page_size, f"{session.code}-preparation")


@require_safe
@in_words
def station_cards(request: HttpRequest, code: str) -> HttpResponse:
    session, page_size = class_seen_by(request.user, code), page_size_of(request)
    cards = selectors.station_cards(_numbers(session), timezone.now())
    if not cards:
        raise NO_PEOPLE
    title = f"Station cards: {session.title}"
    return _pdf(cards, page_size, f"{session.code}-station-cards", title)


@require_safe
@in_words
def run_sheet(request: HttpRequest, code: str) -> HttpResponse:
    session, page_size = class_seen_by(request.user, code), page_size_of(request)
    edition, numbers = edition_of(request), _numbers(session)
    paper = run_sheet_of(numbers, _hours(session), edition, timezone.now())
    return _pdf([paper], page_size, f"{session.code}-run-sheet-{edition}")


# For a student, by signed link


def own_numbers(student: Enrollment) -> ClassNumbers:
    """The numbers of a student's class. Raises NotPrinted for absent ones, and before it is ready.

    The student is on the roster of the class, so somebody bakes.
    """
    session = selectors.planned_class(student.session_id)
    if student.door == Enrollment.Door.ABSENT:
        raise MARKED_ABSENT
    if not session.stations.all() or not session.taught.all():
        raise NOT_READY
    return _numbers(session)


def _own_handout(token: str) -> Handout:
    student = enrollment_by_token(token, at=timezone.now())
    numbers = own_numbers(student)
    (handout,) = selectors.handouts(numbers, [student], timezone.now())
    return handout


def _own_homework(token: str) -> Homework:
    return homework_of(_own_handout(token))


@login_not_required
@require_safe
@slow_guesses
@in_words
def student(request: HttpRequest, token: str) -> HttpResponse:
    context = {"paper": _own_handout(token), "token": token}
    return render(request, "handouts/student.html", context)


@login_not_required
@require_safe
@slow_guesses
@in_words
def student_pdf(request: HttpRequest, token: str) -> HttpResponse:
    page_size, handout = page_size_of(request), _own_handout(token)
    return _pdf([handout], page_size, f"{handout.occasion.code}-handout")


@login_not_required
@require_safe
@slow_guesses
@in_words
def homework(request: HttpRequest, token: str) -> HttpResponse:
    """What to read before the day."""
    return render(request, "handouts/before.html", {"paper": _own_homework(token), "token": token})


@login_not_required
@require_safe
@slow_guesses
@in_words
def homework_pdf(request: HttpRequest, token: str) -> HttpResponse:
    page_size, paper = page_size_of(request), _own_homework(token)
    return _pdf([paper], page_size, f"{paper.occasion.code}-before-the-day")
