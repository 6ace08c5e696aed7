"""Packs: papers of a class that somebody asked for, made in the background as one file."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Mapping
from concurrent.futures import Future, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field
from datetime import datetime

from django.contrib.auth.models import User
from django.db import transaction
from django.utils import timezone

from classes.amounts.changes import note_printed
from classes.models import ClassSession, Pack
from classes.models.journal import note_look
from classes.selectors import class_plan, planned_class
from handouts.catalog import BY_NAME, KINDS
from handouts.kind import Material, NotPrinted, PaperKind
from handouts.kinds.before_start import KIND as WALL_SHEET
from handouts.kinds.before_start import with_wall
from handouts.press.binding import PackPart, bind
from handouts.press.errors import AddressRefused, TooLong
from handouts.press.kept import kept_pdfs
from handouts.press.markup import Markup, markup_of
from handouts.press.pool import Pool
from handouts.press.render import PageSize
from handouts.print_desk.selectors import printed_before
from handouts.print_desk.sheets import PrintSheets

logger = logging.getLogger(__name__)

PREPARATION = "preparation"
NOTHING = ["There is no paper to make", "None could be made, or none has changed."]
TOO_LONG = ["A paper took too long", "Look for a very long text on the roster or in a recipe."]
REFUSED = [
    "A paper asks for a picture or page that papers may not fetch",
    "Tell whoever runs this.",
]
BROKE_OFF = ["The press broke off", "Ask again; if that happens again, ask for fewer papers."]


class Dropped(Exception):
    """A pack is no longer wanted: somebody on it was erased, or it has already ended."""


def note_private(*, session: ClassSession, kinds: Iterable[str], user: User, at: datetime) -> None:
    """Record that somebody exports papers with private facts."""
    for name in kinds:
        if BY_NAME[name].private:
            note_look(session=session, user=user, what=f"{BY_NAME[name].title}, as a paper", at=at)


@dataclass
class _Made:
    """A kind's papers in progress: labels, markups, and stored PDFs."""

    kind: PaperKind
    keys: list[str] = field(default_factory=list)
    labels: list[str] = field(default_factory=list)
    markups: list[Markup] = field(default_factory=list)
    leaves_to_wall: bool = False

    @property
    def contents(self) -> dict[str, str]:
        return dict(zip(self.keys, (markup.content for markup in self.markups), strict=True))


def make_pack(pack: Pack, pool: Pool) -> Pack:
    """Make what was asked for. What cannot be made is said in `problems`; safe to do again.

    Raises Dropped where it is no longer wanted.
    """
    session = planned_class(pack.session_id)
    material = with_wall(Material(class_plan(session), timezone.now(), PrintSheets.of_pack(pack)))
    wanted = Pack.objects.filter(pk=pack.pk).exclude(state__in=Pack.OVER)
    if not wanted.update(state=Pack.State.RUNNING, done=0, total=0):
        raise Dropped
    try:
        made, pdfs = _all_papers(pack, material, pool)
    except TooLong:
        return _finish(pack, Pack.State.FAILED, problems=[*pack.problems, TOO_LONG])
    except AddressRefused:
        logger.exception("A paper of class %s asks for what it may not fetch.", session.code)
        return _finish(pack, Pack.State.FAILED, problems=[*pack.problems, REFUSED])
    except BrokenProcessPool:
        pool.start_again()
        return _finish(pack, Pack.State.FAILED, problems=[*pack.problems, BROKE_OFF])
    if not pdfs:
        return _finish(pack, Pack.State.FAILED, problems=[NOTHING, *pack.problems])
    parts = [
        PackPart(
            papers.kind.title,
            [
                (label, pdfs[m.digest])
                for label, m in zip(papers.labels, papers.markups, strict=True)
            ],
        )
        for papers in made
    ]
    bound = bind(parts, f"Papers: {session.title}", two_sided=pack.two_sided)
    with transaction.atomic():
        if any(papers.kind.name == PREPARATION for papers in made):
            note_printed(session=session, plan=material.plan, user=pack.by, at=material.at)
        return _finish(
            pack,
            Pack.State.DONE,
            pdf=bound.pdf,
            pages=bound.pages,
            printed={papers.kind.name: papers.contents for papers in made},
            page_counts={
                papers.kind.name: dict(zip(papers.keys, counts, strict=True))
                for papers, counts in zip(made, bound.counts, strict=True)
            },
        )


def _all_papers(pack: Pack, material: Material, pool: Pool) -> tuple[list[_Made], dict[str, bytes]]:
    """Every paper that was asked for; those not stored go to the press once they are ready."""
    made: list[_Made] = []
    pdfs: dict[str, bytes] = {}
    coming: dict[Future[bytes], str] = {}
    pack.problems = []
    for papers in _chosen(pack, material):
        made.append(papers)
        pdfs |= kept_pdfs(pack.session, papers.markups)
        for markup in papers.markups:
            if markup.digest not in pdfs and markup.digest not in coming.values():
                coming[pool.lay_out(markup)] = markup.digest
    total = len(pdfs) + len(coming)
    _progress(pack, len(pdfs), total)
    for future in as_completed(coming):
        digest, pdf = coming[future], future.result()
        pdfs[digest] = pdf
        with transaction.atomic():
            fields = {"pdf": pdf, "made_at": material.at}
            pack.session.kept_papers.get_or_create(digest=digest, defaults=fields)
            _progress(pack, len(pdfs), total)
    return made, pdfs


def _chosen(pack: Pack, material: Material) -> list[_Made]:
    """The kinds that were asked for, with the wall sheet if one of them leaves something to it.

    What the wall sheet says and was printed before needs no second one in a file of changes.
    """
    before = printed_before(pack.session.packs.done()) if pack.only_changed else {}

    def set_up(kind: PaperKind) -> list[_Made]:
        found = _set_up(kind, pack, material, before.get(kind.name, {}))
        return [found] if found else []

    made = [papers for name in pack.kinds for papers in set_up(BY_NAME[name])]
    if _wants_wall(pack, made):
        made += set_up(WALL_SHEET)
        made.sort(key=lambda papers: KINDS.index(papers.kind))
    return made


def _wants_wall(pack: Pack, made: Iterable[_Made]) -> bool:
    return WALL_SHEET.name not in pack.kinds and any(papers.leaves_to_wall for papers in made)


def _set_up(
    kind: PaperKind, pack: Pack, material: Material, before: Mapping[str, str]
) -> _Made | None:
    """A kind's papers as markup, except those that were printed `before` with the same content.

    If it cannot be made, that is noted instead.
    """
    made = _Made(kind)
    try:
        for leaf in kind.leaves(material):
            markup = markup_of(leaf.paper, PageSize(pack.page_size))
            if before.get(leaf.key) != markup.content:
                made.keys.append(leaf.key)
                made.labels.append(leaf.label)
                made.markups.append(markup)
                made.leaves_to_wall |= bool(leaf.paper.foot.on_wall)
    except NotPrinted as problem:
        pack.problems.append([kind.title, f"{problem.heading}. {problem.advice}"])
    else:
        return made if made.markups else None
    return None


def break_off(pack: int) -> None:
    """Note that an unexpected error ended the work on a pack, if it had not ended."""
    for found in Pack.objects.light().filter(pk=pack).exclude(state__in=Pack.OVER):
        found.state, found.finished_at = Pack.State.FAILED, timezone.now()
        found.problems = [*found.problems, BROKE_OFF]
        found.save(update_fields=["state", "finished_at", "problems"])


def _progress(pack: Pack, done: int, total: int) -> None:
    """Note the progress. Raises Dropped if the pack is no longer wanted."""
    running = Pack.objects.filter(pk=pack.pk, state=Pack.State.RUNNING)
    if not running.update(done=done, total=total):
        raise Dropped


def _finish(pack: Pack, state: Pack.State, **fields: object) -> Pack:
    for name, value in fields.items():
        setattr(pack, name, value)
    pack.state, pack.finished_at = state, timezone.now()
    changed = {"state": state, "finished_at": pack.finished_at, "problems": pack.problems}
    running = Pack.objects.filter(pk=pack.pk, state=Pack.State.RUNNING)
    if not running.update(**changed, **{k: v for k, v in fields.items() if k != "problems"}):
        raise Dropped
    return pack
