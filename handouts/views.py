"""The papers of a class as PDF, for the instructor and the assistants."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Self

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from classes.access import class_seen_by
from classes.models import ClassSession
from classes.selectors import class_plan
from config.requests import UserRequest
from handouts.answers import in_words, pdf_response, sheets_of
from handouts.catalog import BY_NAME
from handouts.kind import Leaf, Material, PaperKind
from handouts.kinds.before_start import with_wall
from handouts.press.kept import kept_pdf, pdf_of
from handouts.press.packs import note_private
from handouts.press.pictures import NoSuchPage, page_count, picture_of
from handouts.print_desk.sheets import PrintSheets


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


@dataclass(frozen=True, slots=True)
class _Asked:
    """One paper of a class that somebody asked for."""

    session: ClassSession
    kind: PaperKind
    leaf: Leaf
    sheets: PrintSheets

    @classmethod
    def of(cls, request: UserRequest, code: str, kind: str, key: str) -> Self:
        """The paper; opening private facts is recorded. Raises Http404 and NotPrinted."""
        session, asked = class_seen_by(request.user, code), _kind(kind)
        sheets = sheets_of(request, asked, session.kitchen.writing)
        material = with_wall(Material(class_plan(session), timezone.now(), sheets))
        found = [leaf for leaf in asked.leaves(material) if leaf.key == key]
        if not found:
            raise Http404
        _note(request, session, asked)
        return cls(session, asked, found[0], sheets)

    def pdf(self) -> bytes:
        return kept_pdf(self.session, self.leaf.paper, self.sheets.page_size, timezone.now())


@require_safe
@in_words
def look(request: UserRequest, code: str, kind: str, key: str) -> HttpResponse:
    """Every page of a paper as a picture, as it will be printed in a file with the wall sheet."""
    asked = _Asked.of(request, code, kind, key)
    context = {
        "session": asked.session,
        "kind": asked.kind,
        "leaf": asked.leaf,
        "pages": range(1, page_count(asked.pdf()) + 1),
        "query": request.GET.urlencode(),
        "section": "classes",
    }
    return render(request, "handouts/look.html", context)


@require_safe
@in_words
def picture(request: UserRequest, code: str, kind: str, key: str, page: int) -> HttpResponse:
    """A page of a paper as a picture."""
    asked = _Asked.of(request, code, kind, key)
    try:
        made = picture_of(asked.pdf(), page)
    except NoSuchPage:
        raise Http404 from None
    return HttpResponse(made, content_type="image/png")


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
