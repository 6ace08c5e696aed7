"""The print desk, and the packs that are made from it."""

from __future__ import annotations

from django.conf import settings
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from classes.access import class_seen_by
from classes.home_kitchen.values import PaperSize
from classes.models import ClassSession, Pack
from classes.selectors import class_plan
from config.requests import UserRequest
from handouts.answers import pdf_response
from handouts.kind import Material, Phase
from handouts.press.packs import note_private
from handouts.press.render import PageSize
from handouts.press.tasks import ask_for_pack
from handouts.print_desk.forms import PackForm
from handouts.print_desk.selectors import PACKS_LOOKED_AT, desk_of
from handouts.print_desk.sheets import PrintSheets
from handouts.site_address import printable_site

SHOWN = 8


@require_http_methods(["GET", "HEAD", "POST"])
def desk(request: UserRequest, code: str) -> HttpResponse:
    """Every paper of the class; a POST asks for some of them in one file, or counts their pages."""
    session = class_seen_by(request.user, code)
    packs = list(session.packs.done()[:PACKS_LOOKED_AT])
    data = request.POST if request.method == "POST" else None
    form = PackForm(
        data,
        PrintSheets.usual(session.kitchen.writing, packs),
        two_sided=bool(packs and packs[0].two_sided),
    )
    counts = "count" in request.POST
    if form.is_valid() and not counts:
        pack = ask_for_pack(
            session=session,
            by=request.user,
            kinds=form.cleaned_data["kinds"],
            page_size=PageSize(form.cleaned_data["page"]),
            layout=form.cleaned_data["layout"],
            only_changed=form.cleaned_data["only_changed"],
            list_by=form.cleaned_data["list_by"],
            two_sided=form.cleaned_data["two_sided"],
            at=timezone.now(),
        )
        return redirect("handouts:pack", code=code, pk=pack.pk)
    found = desk_of(Material(class_plan(session), timezone.now()), packs)
    phase = _phase(request.GET.get("for", ""))
    chosen = found.chosen(data.getlist("kinds") if data else None, phase)
    context = {
        "session": session,
        "desk": found,
        "form": form,
        "phases": list(Phase),
        "phase": phase,
        "chosen": chosen,
        "holding": found.holding(chosen, only_changed="only_changed" in request.POST),
        "counted": counts,
        "packs": session.packs.light()[:SHOWN],
        "without_square": "" if printable_site(settings.SITE_URL) else settings.SITE_URL,
        "kept_days": settings.PAPERS_DAYS,
        "section": "classes",
    }
    if request.htmx:
        return render(request, "handouts/desk.html#holds", context)
    status = 422 if form.errors and not counts else 200
    return render(request, "handouts/desk.html", context, status=status)


def _phase(asked: str) -> Phase | None:
    """The part of the day that an address names."""
    return next((phase for phase in Phase if phase.slug == asked), None)


def _pack(session: ClassSession, pk: int) -> Pack:
    return get_object_or_404(session.packs.light(), pk=pk)


@require_safe
def pack(request: UserRequest, code: str, pk: int) -> HttpResponse:
    """The progress of a pack, and the file once it is done."""
    session = class_seen_by(request.user, code)
    found = _pack(session, pk)
    context = {
        "session": session,
        "pack": found,
        "sheets": PaperSize(found.page_size).label,
        "is_late": not found.is_over and found.is_late(timezone.now()),
        "section": "classes",
    }
    template = "handouts/pack.html#progress" if request.htmx else "handouts/pack.html"
    return render(request, template, context)


@require_safe
def pack_pdf(request: UserRequest, code: str, pk: int) -> HttpResponse:
    """The file; opening private facts is recorded."""
    session = class_seen_by(request.user, code)
    found = get_object_or_404(session.packs, pk=pk)
    if found.pdf is None:
        raise Http404
    if request.method == "GET":
        at = timezone.now()
        note_private(session=session, kinds=found.printed, user=request.user, at=at)
    return pdf_response(bytes(found.pdf), f"{session.code}-papers-{found.pk}-{found.page_size}")
