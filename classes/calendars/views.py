"""Calendar feeds: the public classes, and the work of the staff."""

from __future__ import annotations

from datetime import timedelta

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from classes.access import calendar_owner
from classes.calendars.feeds import classes_ics, staff_events, work_ics
from classes.enrollment.limits import slow_guesses
from classes.enrollment.public import open_sessions
from classes.models import ClassSession

LOOK_BACK = timedelta(days=30)


def _feed(text: str, *, public: bool) -> HttpResponse:
    response = HttpResponse(text, content_type="text/calendar; charset=utf-8")
    response["Cache-Control"] = "public, max-age=300" if public else "private, no-store"
    response["X-Robots-Tag"] = "noindex, nofollow"
    return response


@login_not_required
@require_safe
def public_calendar(request: HttpRequest) -> HttpResponse:
    """The coming classes that take enrollments."""
    now = timezone.now()
    return _feed(classes_ics(open_sessions(now), at=now), public=True)


@login_not_required
@require_safe
@slow_guesses
def own_calendar(request: HttpRequest, token: str) -> HttpResponse:
    """Classes and preparation tasks of the person whom this address belongs to."""
    user, now = calendar_owner(token), timezone.now()
    seen = ClassSession.objects.seen_by(user).filter(ends_at__gt=now - LOOK_BACK).with_plan()
    return _feed(work_ics(staff_events(seen, at=now)), public=False)
