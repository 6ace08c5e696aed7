import sys

from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError, OperationalError, connection
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.views.decorators.http import require_safe

ROBOTS = "User-agent: *\nDisallow: /\nAllow: /open/\n"
READ_ONLY = "25006"  # PostgreSQL's code for a write to a read-only database
AGAIN_AFTER_S = 60


@login_not_required
@require_safe
def health(request: HttpRequest) -> HttpResponse:
    """Answer "ok" when the database answers."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return HttpResponse("ok\n", content_type="text/plain")


@login_not_required
@require_safe
def robots(request: HttpRequest) -> HttpResponse:
    """Ask search engines to stay out: except the public pages of classes."""
    return HttpResponse(ROBOTS, content_type="text/plain")


def trouble(request: HttpRequest) -> HttpResponse:
    """Respond to an error: 503 if the database is away, full or read-only, 500 otherwise.

    It makes no query, not even for who is signed in.
    """
    if not _is_of_database(sys.exception()):
        return HttpResponse(render_to_string("500.html"), status=500)
    again = {"Retry-After": str(AGAIN_AFTER_S)}
    return HttpResponse(render_to_string("503.html"), status=503, headers=again)


def _is_of_database(error: BaseException | None) -> bool:
    if isinstance(error, OperationalError):
        return True
    return isinstance(error, DatabaseError) and (
        getattr(error.__cause__, "sqlstate", None) == READ_ONLY
    )
