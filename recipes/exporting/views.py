"""A recipe as a file to keep or give away."""

from __future__ import annotations

from django.http import HttpResponse
from django.views.decorators.http import require_safe

from config.requests import UserRequest
from recipes import selectors
from recipes.access import instructor_required
from recipes.exporting.document import document_text
from recipes.exporting.jsonld import jsonld_text
from recipes.exporting.text import recipe_text


@instructor_required
@require_safe
def recipe_json(request: UserRequest, slug: str) -> HttpResponse:
    """The current revision in Bakebench's own format, without any loss."""
    written = selectors.written_of(selectors.revision_of(request.user, slug))
    return _attached(document_text(written), f"{slug}.json")


@instructor_required
@require_safe
def recipe_jsonld(request: UserRequest, slug: str) -> HttpResponse:
    """The current revision as a schema.org Recipe."""
    written = selectors.written_of(selectors.revision_of(request.user, slug))
    return _attached(jsonld_text(written), f"{slug}.jsonld")


@instructor_required
@require_safe
def recipe_plain(request: UserRequest, slug: str) -> HttpResponse:
    """The current revision as text to read, which can be imported without any loss."""
    written = selectors.written_of(selectors.revision_of(request.user, slug))
    return _attached(recipe_text(written), f"{slug}.txt", "text/plain; charset=utf-8")


def _attached(text: str, name: str, content_type: str = "application/json") -> HttpResponse:
    """A slug holds ASCII letters, digits, dashes and underscores, so the name needs no quoting."""
    response = HttpResponse(text, content_type=content_type)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    response.headers["X-Content-Type-Options"] = "nosniff"
    return response
