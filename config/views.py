from django.contrib.auth.decorators import login_not_required
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

ROBOTS = "User-agent: *\nDisallow: /\nAllow: /open/\n"


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
    """Ask search engines to stay out: only the public pages of classes are for them."""
    return HttpResponse(ROBOTS, content_type="text/plain")
