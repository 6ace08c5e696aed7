"""What the papers of the day itself have in common: sheet, head, cautions, and any text as text."""

from dataclasses import fields
from datetime import UTC, datetime, timedelta
from functools import cache

import pytest
from django.db import transaction

from classes.demo import STUDENTS
from classes.management.commands.load_demo import load_demo
from classes.selectors import class_plan
from handouts.kinds.notes_sheet import notes_sheet
from handouts.kinds.oven_map import oven_map
from handouts.kinds.sign_in import sign_in_sheet
from handouts.kinds.temperature_log import temperature_log
from handouts.press.render import PageSize, to_html, to_pdf
from tests.handouts.conftest import NOW, another_class, plan_of, planned
from tests.handouts.pdfs import page_texts, sizes_mm

MAKERS = {
    "oven map": lambda plan, hours, at: oven_map(plan, hours, at)[:1],
    "temperature log": lambda plan, hours, at: temperature_log(plan, hours, at),
    "notes": lambda plan, hours, at: notes_sheet(plan, at),
    "sign-in": lambda plan, hours, at: sign_in_sheet(plan, at),
}
kinds = pytest.mark.parametrize("kind", MAKERS)
SHEETS_MM = {PageSize.A4: (210.0, 297.0), PageSize.LETTER: (215.9, 279.4)}


def paper_of(session, kind, at=NOW):
    session = planned(session)
    (paper,) = MAKERS[kind](plan_of(session), class_plan(session).hours, at)
    return paper


def long_class(demo, *titles, **fields):
    begins = datetime(2030, 5, 4, 9, tzinfo=UTC)
    ends = begins + timedelta(hours=7)
    fields = {"students": 8, "rises_in": "cabinet", **fields}
    return another_class(demo, *titles, starts_at=begins, ends_at=ends, **fields)


class Printed:
    """The papers of a class, each printed once in a size."""

    def __init__(self, session):
        self.papers = {kind: paper_of(session, kind) for kind in MAKERS}
        self.pdf = cache(self._pdf)

    def _pdf(self, kind, page_size=PageSize.A4):
        return to_pdf([self.papers[kind]], page_size)


@pytest.fixture(scope="module")
def _made(django_db_setup, django_db_blocker):
    with django_db_blocker.unblock(), transaction.atomic():
        demo = load_demo(now=NOW)
        two = long_class(demo, "Pillow rolls", "Seeded ring")
        made = {"demo": Printed(demo), "two": Printed(two)}
        transaction.set_rollback(True)
    return made


@pytest.fixture(params=["demo", "two"])
def made(db, _made, request):
    return _made[request.param]


@kinds
def test_both_sizes_hold_the_same_pages(made, kind):
    a4, letter = (made.pdf(kind, page_size) for page_size in PageSize)
    squeezed = [[page.replace(" ", "") for page in page_texts(pdf)] for pdf in (a4, letter)]
    assert squeezed[0] == squeezed[1]
    for page_size, pdf in zip(PageSize, (a4, letter), strict=True):
        assert sizes_mm(pdf) == {SHEETS_MM[page_size]}


@kinds
def test_every_page_has_its_head_and_the_line_that_defers(made, kind):
    paper, pages = made.papers[kind], page_texts(made.pdf(kind))
    for number, page in enumerate(pages, start=1):
        assert f"({paper.head.code})" in page
        assert paper.head.running_revisions in page
        assert f"page {number} of {len(pages)}" in page
        assert paper.deferral in page


@kinds
def test_when_it_was_printed_stands_in_the_running_head_alone(demo, kind):
    early, late = (paper_of(demo, kind, NOW + timedelta(days=days)) for days in (0, 1))
    lines = zip(to_html(early).splitlines(), to_html(late).splitlines(), strict=True)
    changed = [one.strip()[:24] for one, other in lines if one != other]
    assert changed == ['<meta name="dcterms.crea', '<p class="stamp">Printed']


@kinds
def test_nobody_is_named_beside_what_they_must_not_eat(made, kind):
    html = to_html(made.papers[kind]).lower()
    for _, must_not_eat in STUDENTS:
        assert not must_not_eat or must_not_eat not in html
    assert not {"private", "must_not_eat"} & {one.name for one in fields(made.papers[kind])}


@pytest.mark.parametrize("kind", ["temperature log", "notes"])
def test_some_papers_name_nobody_at_all(made, kind):
    html = to_html(made.papers[kind]).lower()
    assert not [name for name, _ in STUDENTS if name.lower() in html]


@kinds
def test_nothing_is_promised(made, kind):
    html = to_html(made.papers[kind]).lower()
    assert not [words for words in ("safe for", "free from", "safe to") if words in html]
