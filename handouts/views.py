"""The papers of a class as PDF, for the instructor and the assistants."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from classes.access import class_seen_by
from classes.models import ClassSession
from classes.selectors import class_plan
from config.requests import UserRequest
from handouts.answers import in_words, pdf_response, sheets_of
from handouts.catalog import BY_NAME
from handouts.kind import Material, PaperKind
from handouts.press.kept import pdf_of
from handouts.press.packs import note_private


def _kind(name: str) -> PaperKind:
    if name not in BY_NAME:
        raise Http404
    return BY_NAME[name]


def _note(request: UserRequest, session: ClassSession, kind: PaperKind) -> None:
    if request.method == "GET":
        at = timezone.now()
        note_private(session=session, kinds=[kind.name], user=request.user, at=at)


@require_safe
@in_words
def papers(request: UserRequest, code: str, kind: str) -> HttpResponse:
    """All papers of a kind in one file."""
    session, asked = class_seen_by(request.user, code), _kind(kind)
    sheets = sheets_of(request, asked, session.kitchen.writing)
    leaves = asked.leaves(Material(class_plan(session), timezone.now(), sheets))
    _note(request, session, asked)
    title = f"{asked.title}: {session.title}"
    pdf = pdf_of(session, [leaf.paper for leaf in leaves], sheets.page_size, title)
    return pdf_response(pdf, f"{session.code}-{kind}-{sheets.page_size}")


@require_safe
@in_words
def paper(request: UserRequest, code: str, kind: str, key: str) -> HttpResponse:
    """One paper of a kind, such as one student's handout."""
    session, asked = class_seen_by(request.user, code), _kind(kind)
    sheets = sheets_of(request, asked, session.kitchen.writing)
    leaves = asked.leaves(Material(class_plan(session), timezone.now(), sheets))
    found = [leaf for leaf in leaves if leaf.key == key]
    if not found:
        raise Http404
    _note(request, session, asked)
    pdf = pdf_of(session, [found[0].paper], sheets.page_size)
    return pdf_response(pdf, f"{session.code}-{kind}-{key}-{sheets.page_size}")
