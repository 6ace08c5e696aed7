"""What holds of every kind of paper on both sheets, also if every text of a class is hostile."""

from __future__ import annotations

import logging
import os
import re
from datetime import UTC, datetime, timedelta
from itertools import product
from tempfile import NamedTemporaryFile

import pytest
from pdfua import Severity, validate

from classes.enrollment.models import Enrollment
from classes.management.commands.load_demo import load_demo
from classes.models import ClassSession, Kitchen
from classes.selectors import class_plan, planned_class
from handouts.catalog import KINDS
from handouts.kind import Material
from handouts.press.render import PageSize, to_html, to_pdf
from handouts.print_desk.sheets import PrintSheets
from recipes.models import Ingredient
from tests.handouts.conftest import NOW, another_class
from tests.handouts.pdfs import checked, page_texts, reader, sizes_mm, words_mm
from tests.handouts.tags import HEADINGS, tags_of
from tests.worlds import made_once

SHEETS_MM = {PageSize.A4: (210.0, 297.0), PageSize.LETTER: (215.9, 279.4)}
USUAL, SPOILED = ("usual", PageSize.A4), ("hostile", PageSize.LETTER)
# ALL_SHEETS=1 prints both classes on both sheets.
CASES = (
    list(product(("usual", "hostile"), PageSize))
    if os.environ.get("ALL_SHEETS")
    else [USUAL, SPOILED]
)
WIDTH_MM, HEIGHT_MM, HEAD_MM = 174, 231, 18
CARD_WIDTH_MM = 249
SLACK_MM = 0.5

WAYS_IN = (
    "</p><script>alert(1)</script>",
    '<img src="http://127.0.0.1:9/x">',
    "url(file:///etc/passwd)",
    '<link rel=attachment href="file:///etc/passwd">',
    "{{ paper }} &amp; <b>",
    "\u202eevil\u2066 \N{BREAD}\N{VARIATION SELECTOR-16} שלום Ж",
)
HOSTILE = " ".join(WAYS_IN)


def filled(text, length):
    """As much hostile text as a field holds, ending in one long word."""
    return (text + " " + "W" * 10_000)[:length]


def hostile(session):
    """Put hostile text into every text of a class that some paper prints."""
    kitchen, taught = session.kitchen, list(session.taught.all())
    ClassSession.objects.filter(pk=session.pk).update(
        title=filled(WAYS_IN[0], 100), bring=filled(HOSTILE, 1000), notes=filled(HOSTILE, 2000)
    )
    Kitchen.objects.filter(pk=kitchen.pk).update(
        name=filled(WAYS_IN[1], 80),
        place=filled(HOSTILE, 200),
        access_facts=filled(HOSTILE, 1000),
        first_aid_place=filled(HOSTILE, 120),
        emergency_number=filled(WAYS_IN[2], 20),
    )
    for many in (kitchen.stations, kitchen.ovens, kitchen.mixers):
        for n, one in enumerate(many.all()):
            one.name = filled(f"{n} {WAYS_IN[n % len(WAYS_IN)]}", 40)
            one.save()
    for n, one in enumerate(session.enrollments.all()):
        words = f"sesame, nuts {WAYS_IN[n % len(WAYS_IN)]}"
        name = filled(f"{WAYS_IN[n % len(WAYS_IN)]} {n}", 80)
        Enrollment.objects.filter(pk=one.pk).update(name=name, must_not_eat=filled(words, 300))
    for one in taught:
        revision = type(one.revision).objects.filter(pk=one.revision_id)
        revision.update(
            title=filled(WAYS_IN[0], 100),
            note=filled(HOSTILE, 2000),
            piece_name=filled(WAYS_IN[3], 30),
            equipment="\n".join([*WAYS_IN, "W" * 200]),
        )
        one.revision.components.update(name=filled(WAYS_IN[4], 60))
        one.revision.steps.update(text=filled(HOSTILE, 600))
    for n, one in enumerate(Ingredient.objects.all()):
        one.name = filled(f"{WAYS_IN[n % len(WAYS_IN)]} {n}", 80)
        one.may_contain = filled(f"sesame {HOSTILE}", 200)
        one.save()


def usual_class(demo):
    begins = datetime(2030, 5, 4, 9, tzinfo=UTC)
    session = another_class(
        demo,
        "Pillow rolls",
        students=2,
        rises_in="cabinet",
        starts_at=begins,
        ends_at=begins + timedelta(hours=7),
    )
    student = session.enrollments.first()
    student.must_not_eat = "sesame"
    student.save()
    return session


class Printed:
    """A class's papers on a sheet: of each kind the first that is for somebody or something."""

    def __init__(self, session, page_size):
        self.papers, self.pdfs = {}, {}
        material = Material(class_plan(planned_class(session.pk)), NOW, PrintSheets.of(page_size))
        for kind in KINDS:
            paper = kind.leaves(material)[0].paper
            self.papers[kind.name, page_size] = paper
            self.pdfs[kind.name, page_size] = to_pdf([paper], page_size)


def make():
    heard = []
    listener = logging.Handler(logging.WARNING)
    listener.emit = lambda record: heard.append(record.getMessage())
    logging.getLogger("weasyprint").addHandler(listener)
    demo = load_demo(now=NOW)
    made = {one: Printed(usual_class(demo), one[1]) for one in CASES if one[0] == "usual"}
    session = usual_class(demo)
    hostile(session)
    made |= {one: Printed(session, one[1]) for one in CASES if one[0] == "hostile"}
    logging.getLogger("weasyprint").removeHandler(listener)
    return made, heard


world = made_once(make)
kinds = pytest.mark.parametrize("kind", [kind.name for kind in KINDS])


@pytest.fixture(params=CASES, ids="-".join)
def case(request):
    return request.param


@pytest.fixture
def printed(db, world, case):
    return world[0][case]


@pytest.fixture
def page_size(case):
    return case[1]


def test_the_press_has_nothing_to_say_about_any_paper_and_fetches_nothing(db, world):
    assert world[1] == []


@kinds
def test_other_programs_find_the_file_sound_and_accessible(printed, kind, page_size):
    pdf = printed.pdfs[kind, page_size]
    assert "No syntax or stream encoding errors" in checked(pdf)
    with NamedTemporaryFile(suffix=".pdf") as file:
        file.write(pdf)
        file.flush()
        report = validate(file.name)
    assert [one.message for one in report.findings if one.severity is Severity.ERROR] == []


@kinds
def test_the_file_says_what_it_is(printed, kind, page_size):
    pdf = reader(printed.pdfs[kind, page_size])
    root = pdf.root_object
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert re.search(r"pdfuaid:part\W+1\b", root["/Metadata"].get_data().decode())
    assert pdf.metadata.title
    assert pdf.outline
    assert not any(page.get("/Annots") for page in pdf.pages)
    assert not {"/OpenAction", "/AA", "/AcroForm"} & set(root)
    assert "/EmbeddedFiles" not in root.get("/Names", {})


def flat(outline):
    for one in outline:
        yield from flat(one) if isinstance(one, list) else [one.title]


@kinds
def test_the_headings_are_bookmarks(db, world, kind):
    pdf = world[0][USUAL].pdfs[kind, USUAL[1]]
    headings = [one.text for one in tags_of(pdf).all(*HEADINGS)]
    marks = [" ".join(mark.split()) for mark in flat(reader(pdf).outline)]
    assert headings
    assert marks
    assert len(marks) <= len(headings)
    assert headings[0][:10].lower() == marks[0][:10].lower()  # Signs are set in capitals.


@kinds
def test_every_word_lies_in_the_box_that_both_sheets_hold(printed, kind, page_size):
    pdf = printed.pdfs[kind, page_size]
    width, height = SHEETS_MM[page_size]
    wide, high = (WIDTH_MM, HEIGHT_MM + 2 * HEAD_MM)
    if kind == "station-cards":
        width, height = height, width
        wide, high = CARD_WIDTH_MM, WIDTH_MM + 2 * HEAD_MM
    assert sizes_mm(pdf) == {(width, height)}
    if kind.endswith("-labels"):
        wide, high = width, height
    words = list(words_mm(pdf))
    assert words
    strays = [
        box
        for box in words
        if box[0] < (width - wide) / 2 - SLACK_MM
        or box[2] > (width + wide) / 2 + SLACK_MM
        or box[1] < (height - high) / 2
        or box[3] > (height + high) / 2
    ]
    assert strays == []


@kinds
def test_the_cautions_of_its_own_work_are_on_the_paper(printed, kind, page_size):
    paper = printed.papers[kind, page_size]
    text = " ".join(page_texts(printed.pdfs[kind, page_size]))
    for caution in paper.cautions:
        assert caution.brief in text or caution.text in text


@kinds
def test_no_text_of_a_class_becomes_markup(db, world, kind):
    paper = world[0][SPOILED].papers[kind, SPOILED[1]]
    markup = to_html(paper)
    for tag in ("<script", '<img src="http', "<link rel=attachment"):
        assert tag not in markup
    assert "&lt;/p&gt;&lt;script&gt;" in markup


@kinds
def test_hostile_text_is_printed_as_the_text_it_is(db, world, kind):
    pdf = world[0][SPOILED].pdfs[kind, SPOILED[1]]
    squeezed = "".join("".join(page_texts(pdf)).split())
    assert "</p><script>alert(1)</script>" in squeezed
    assert not set(squeezed) & set("\u202e\u2066\N{BREAD}")
    assert "root:x:" not in squeezed
