"""A pack of papers for 24 students: how fast it is made, and how large it is.

Everything is measured in one run on the same markup. Plain is WeasyPrint called for one paper after
the other with nothing shared between the calls. Chromium prints all papers as one document: it
knows no running heads, so it has a little less to do than we have.
"""

from __future__ import annotations

import gc
import shutil
import subprocess
import tempfile
from collections.abc import Callable
from functools import cache
from math import inf
from os import cpu_count
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import NamedTuple

from django.utils import timezone

from classes.models import ClassSession, KeptPaper, Pack
from classes.selectors import class_plan, planned_class
from handouts.catalog import KINDS
from handouts.kind import Material
from handouts.kinds import at_home
from handouts.kinds.before_start import KIND as WALL_SHEET
from handouts.press.markup import Markup, markup_of
from handouts.press.packs import make_pack
from handouts.press.pool import Pool
from handouts.press.render import VARIANT, PageSize, sheet_texts
from tests.bench.demo_class import demo_class
from tests.bench.result import Result
from tests.factories import EnrollmentFactory

STUDENTS, DEMO_STUDENTS = 24, 12
HOME = at_home.KIND.name
ROUNDS = 3
USUAL = [kind.name for kind in KINDS if kind.usual]
CHROMIUM = ("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer")
HOMES = ({"measured": "cups"}, {"room_c": "18", "fan": True}, {}, {"mixed_by": "mixer"})


class Measured(NamedTuple):
    """Seconds, and the last pack."""

    plain: float
    ours: float
    changed: float
    chromium: float
    pack: Pack


def _class() -> ClassSession:
    """The demo with 24 seats taken, by people with four kinds of kitchens at home."""
    demo = demo_class()
    count = demo.enrollments.count()
    for _ in range(STUDENTS - count):
        EnrollmentFactory(session=demo, station=None)
    ClassSession.objects.filter(pk=demo.pk).update(seats=STUDENTS)
    for number, student in enumerate(demo.enrollments.all()):
        student.home = HOMES[number % len(HOMES)]
        student.save()
    demo.kitchen.stations.update(places=8)
    return demo


def _asked(session: ClassSession) -> Pack:
    return Pack.objects.create(
        session=session,
        by=session.instructor,
        kinds=USUAL,
        page_size=PageSize.A4,
        made_at=timezone.now(),
    )


def _seconds(work: Callable[[], object]) -> float:
    start = perf_counter()
    work()
    return perf_counter() - start


def _plain(markups: list[Markup]) -> None:
    from weasyprint import CSS, HTML

    from handouts.press.fetcher import BASE_URL, StaticFetcher

    for one in markups:
        page = HTML(string=one.text, base_url=BASE_URL, url_fetcher=StaticFetcher())
        sheets = [CSS(string=text) for text in sheet_texts(one.style, one.page_size)]
        page.write_pdf(stylesheets=sheets, pdf_variant=VARIANT)


def _by_chromium(markups: list[Markup], folder: Path) -> float:
    texts = (text for one in markups for text in sheet_texts(one.style, one.page_size))
    styles = "".join(f"<style>{text}</style>" for text in dict.fromkeys(texts))
    bodies = (one.text.partition("<body>")[2].rpartition("</body>")[0] for one in markups)
    papers = "".join(f'<div style="break-before:page">{body}</div>' for body in bodies)
    page = folder / "papers.html"
    page.write_text(f'<!doctype html><html lang="en"><head>{styles}</head><body>{papers}</body>')
    to = folder / "papers.pdf"
    command = [*CHROMIUM, f"--user-data-dir={folder}", f"--print-to-pdf={to}", str(page)]
    took = _seconds(lambda: subprocess.run(command, check=True, capture_output=True))
    assert to.stat().st_size > 0
    return took


@cache
def _measured() -> Measured:
    session = _class()
    material = Material(class_plan(planned_class(session.pk)), timezone.now())
    markups = [
        markup_of(leaf.paper, PageSize.A4)
        for kind in KINDS
        if kind.usual
        for leaf in kind.leaves(material)
    ]
    plain, ours, changed, chromium = [], [], [], []
    with Pool(cpu_count() or 1) as pool, tempfile.TemporaryDirectory() as name:
        pool.warm()
        gc.freeze()  # as the worker does, and so that what other measures left costs nothing here
        _plain(markups[:1])
        for number in range(ROUNDS):
            plain.append(_seconds(lambda: _plain(markups)))
            gc.collect()  # what that left is not for ours to clear
            KeptPaper.objects.all().delete()
            ours.append(_seconds(lambda: make_pack(_asked(session), pool)))
            student = session.enrollments.first()
            student.home = {"room_c": str(25 + number)}
            student.save()
            changed.append(_seconds(lambda: make_pack(_asked(session), pool)))
            if shutil.which("chromium"):
                chromium.append(_by_chromium(markups, Path(name)))
    pack = Pack.objects.done().first()
    times = (median(some) if some else inf for some in (plain, ours, changed, chromium))
    return Measured(*times, pack)


def papers_speedup() -> Result:
    """How many times faster than one call after another, from the rows of the class to the file."""
    found = _measured()
    return Result("papers_speedup", found.plain / found.ours, "times", "plain", 2.2, at_least=True)


def papers_kib() -> Result:
    """The size of the file."""
    pack = _measured().pack
    return Result("papers_kib", len(pack.pdf) / 1024, f"KiB, {pack.pages} pages", "goal", 600)


def papers_over_chromium() -> Result:
    """Our time over that of a browser, from its start, that prints all as one document."""
    found = _measured()
    return Result("papers_over_chromium", found.ours / found.chromium, "times", "chromium", 1.2)


def papers_changed_share() -> Result:
    """The whole file after one kitchen at home has changed, as a share of making it at first."""
    found = _measured()
    return Result("papers_changed_share", found.changed / found.ours, "share", "whole pack", 0.1)


def pack_pages() -> Result:
    """What is chosen at first for the demo's class of 12, apart from the handouts for home.

    The class is still as it was loaded, so this comes before what needs more students.
    """
    session = demo_class()
    assert session.enrollments.count() == DEMO_STUDENTS
    with Pool(cpu_count() or 1) as pool:
        pack = make_pack(_asked(session), pool)
    assert WALL_SHEET.name in pack.page_counts
    pages = {name: sum(own.values()) for name, own in pack.page_counts.items()}
    others = pack.pages - pages[HOME]
    return Result("pack_pages", others, f"pages beside {pages[HOME]} of handouts", "goal", 24)


PAPER_MEASURES = (
    pack_pages,
    papers_speedup,
    papers_kib,
    papers_over_chromium,
    papers_changed_share,
)
