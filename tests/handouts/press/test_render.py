"""The papers as PDF: what other programs read in them, and what never gets in."""

import subprocess
import sys
import threading
from http.server import BaseHTTPRequestHandler, HTTPServer

import pytest

from classes.enrollment.models import Enrollment
from handouts.press.errors import AddressRefused
from handouts.press.render import PageSize, print_html, sheet_texts, to_pdf
from handouts.safety.cautions import DEFERRAL
from tests.handouts.conftest import KINDS, another_class, papers_of, plan_of
from tests.handouts.pdfs import page_texts, reader, sizes_mm, texts_twice
from tests.styled import SHEETS

SHEETS_MM = {PageSize.A4: (210.0, 297.0), PageSize.LETTER: (215.9, 279.4)}

kinds = pytest.mark.parametrize("kind", KINDS)
page_sizes = pytest.mark.parametrize("page_size", PageSize)


# The numbers

ONE_PERSON = ("258.63", "45.64", "206.90", "6.09", "2.74", "259", "46", "207", "6.1", "2.7")
EACH = ("259", "46", "207", "6.1", "2.7")
TOGETHER = ("1035", "183", "828", "24.3", "11.0")
STATION = ("1034.5", "182.6", "827.6", "24.3", "11.0", "2080.0")
POOLED = ("3463.1", "611.1", "2770.5", "81.5", "36.7", "6962.8")
PACKS = ("2×1500g", "1×1000g", "3×7g")
SHOPPING = ("3658.1", "541.9", "388.9", "318.5", "4.3", "5.95")


@pytest.mark.parametrize(
    ("kind", "wanted"),
    [
        ("handouts", (*ONE_PERSON, "520.8", "520.00")),
        ("preparation", ONE_PERSON + STATION + POOLED + SHOPPING),
        ("station_cards", EACH + TOGETHER),
    ],
)
def test_the_demo_numbers_are_printed_to_the_last_digit(printed, kind, wanted):
    for text in texts_twice(printed.pdf(kind)):
        words = set(text.split())
        assert [number for number in wanted if number not in words] == []


def test_the_packs_to_buy_are_printed(printed):
    for text in texts_twice(printed.pdf("preparation")):
        squeezed = text.replace(" ", "")
        assert [packs for packs in PACKS if packs not in squeezed] == []


TWO_DAY = ("928.9", "0.93", "1857.8", "309.6", "1300.5", "61.9", "11.46", "5400.0")


def test_the_two_day_numbers_are_printed_to_the_last_digit(printed_two_day):
    for text in texts_twice(printed_two_day.pdf("preparation")):
        assert [number for number in TWO_DAY if number not in text.split()] == []


def test_the_totals_on_every_paper_are_those_of_the_class(printed):
    plan = printed.plan.recipes[0].amounts
    person, station = plan.persons[0].sheet, plan.stations[0].sheet
    for kind, sheets in {
        "handouts": [person],
        "preparation": [person, station, plan.pooled],
        "station_cards": [person, station],
    }.items():
        words = set(" ".join(page_texts(printed.pdf(kind))).split())
        assert {f"{sheet.weighed_dough_g:f}" for sheet in sheets} <= words


# The sheet


@kinds
@page_sizes
def test_a_paper_comes_in_both_sizes(printed, kind, page_size):
    wide = SHEETS_MM[page_size][::-1] if kind == "station_cards" else SHEETS_MM[page_size]
    assert sizes_mm(printed.pdf(kind, page_size)) == {wide}


@kinds
def test_both_sizes_break_at_the_same_places(printed, kind):
    a4, letter = (page_texts(printed.pdf(kind, page_size)) for page_size in PageSize)
    assert a4 == letter


# What every page says


@kinds
def test_every_page_has_its_head_and_the_line_that_defers(printed, kind):
    for page in page_texts(printed.pdf(kind)):
        assert f"Saturday hearth loaf ({printed.code})" in page
        assert "Hearth loaf, revision 1" in page
        assert "Printed 11 April 2030, 09:30, Europe/Dublin" in page
        assert DEFERRAL in page


def page_numbers(pdf):
    return [page.partition("page ")[2][:6] for page in page_texts(pdf)]


@pytest.mark.parametrize(
    ("kind", "wanted"),
    [
        ("handouts", ["1 of 1"] * 3),
        ("preparation", ["1 of 2", "2 of 2"]),
        ("station_cards", ["1 of 1"] * 3),
    ],
)
def test_each_paper_counts_its_own_pages(printed, kind, wanted):
    assert page_numbers(printed.pdf(kind)) == wanted


@pytest.mark.parametrize("name", ["two-day", "Pillow rolls", "Seeded ring"])
def test_a_card_of_any_demo_recipe_fits_on_one_page(printed_all, name):
    assert set(page_numbers(printed_all[name].pdf("station_cards"))) == {"1 of 1"}


# The file


@kinds
def test_the_pdf_is_tagged_and_says_its_language_title_and_author(printed, kind):
    pdf = reader(printed.pdf(kind))
    assert pdf.root_object["/Lang"] == "en"
    assert pdf.root_object["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in pdf.root_object
    assert "Saturday hearth loaf" in pdf.metadata.title
    assert pdf.metadata.author == "Bakebench"
    assert f"{pdf.metadata.creation_date:%Y-%m-%d %H:%M}" == "2030-04-11 08:30"
    assert b"pdfuaid" in pdf.root_object["/Metadata"].get_data()


def test_a_pack_has_a_title_of_its_own_and_an_entry_for_everybody(printed):
    pdf = reader(to_pdf(printed.papers["handouts"][:2], PageSize.A4, "Handouts: Saturday"))
    assert pdf.metadata.title == "Handouts: Saturday"
    names = [entry.title for entry in pdf.outline if not isinstance(entry, list)]
    assert names == ["Ada Fennimore", "Bram Okell"]


@kinds
def test_the_pdf_program_has_nothing_to_warn_about(printed, kind):
    """What is printed once for all tests fails there with the first warning."""
    assert printed.pdf(kind).startswith(b"%PDF-")


def test_no_papers_make_no_pdf():
    with pytest.raises(ValueError, match="no papers"):
        to_pdf([], PageSize.A4)


def test_the_pdf_program_is_loaded_only_when_a_pdf_is_wanted():
    code = "import django, sys; django.setup(); import handouts.views; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "handouts.press.render" in done.stdout.split()
    assert "weasyprint" not in done.stdout.split()


# Any text can be printed, and none of it fetches anything

NAMES = ("W" * 80, "Zoë \N{BREAD}", "שלום", "\u202eAda", "</title><b>", "url(x) {{ 1 }} &amp;")


def private(kind, words):
    """What somebody must not eat, but not on cards: those that avoid something name nobody."""
    return "" if kind == "station_cards" else words


@kinds
def test_any_name_can_be_printed(silent, demo, kind):
    session = another_class(demo, "Pillow rolls", "Seeded ring", students=len(NAMES))
    for student, name in zip(session.enrollments.all(), NAMES, strict=True):
        words = private(kind, name)
        Enrollment.objects.filter(pk=student.pk).update(name=name, must_not_eat=words)
    papers = papers_of(plan_of(session))[kind]
    text = page_texts(to_pdf(papers, PageSize.A4))
    squeezed = "".join(text).replace(" ", "")
    assert [name for name in ("W" * 80, "</title><b>", "url(x){{1}}&amp;") if name in squeezed]


@pytest.fixture
def canary():
    """An address that counts who comes, and the visits so far."""
    visits = []

    class Count(BaseHTTPRequestHandler):
        def do_GET(self):
            visits.append(self.path)
            self.send_response(200)
            self.end_headers()
            self.wfile.write(b"canary")

        def log_message(self, *args):
            pass

    server = HTTPServer(("127.0.0.1", 0), Count)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/", visits
    server.shutdown()
    server.server_close()


@pytest.fixture
def secret(tmp_path):
    file = tmp_path / "secret.txt"
    file.write_text("canary-in-a-file")
    return file.as_uri()


WAYS_IN = (
    '<img alt="" src="{}">',
    '<link rel="stylesheet" href="{}">',
    "<style>@import url({});</style>",
    '<p style="background: url({})">x</p>',
    '<object data="{}">x</object>',
    '<svg><image href="{}" width="9" height="9"/></svg>',
    '<link rel="attachment" href="{}">',
)


@kinds
def test_markup_in_any_text_fetches_nothing(silent, demo, canary, secret, kind):
    address, visits = canary
    words = " ".join(way.format(to) for to in (address, secret) for way in WAYS_IN)
    students = Enrollment.objects.filter(session=demo)
    students.update(name=words[:80], must_not_eat=private(kind, words[:300]))
    revision = demo.taught.get().revision
    revision.note = revision.equipment = words[:2000]
    revision.save()
    revision.steps.update(text=words[:600])
    pdf = to_pdf(papers_of(plan_of(demo))[kind][:1], PageSize.A4)
    assert visits == []
    assert not [text for text in texts_twice(pdf) if "canary-in-a-file" in text]
    assert '<img alt="" src="http:' in " ".join(page_texts(pdf))


@pytest.mark.parametrize("way", WAYS_IN)
def test_markup_that_did_slip_through_would_fetch_nothing_and_print_nothing(canary, secret, way):
    address, visits = canary
    for target in (address, secret):
        page = f'<html lang="en"><title>x</title>{way.format(target)}'
        with pytest.raises(AddressRefused):
            print_html([page], "handout", PageSize.A4)
    assert visits == []


def test_our_own_pictures_can_be_printed(silent):
    page = '<html lang="en"><title>x</title><img alt="the mark" src="img/mark.svg">'
    assert print_html([page], "handout", PageSize.A4).startswith(b"%PDF-")


@pytest.mark.parametrize(
    "path", sorted((SHEETS / "paper").glob("*.css")), ids=lambda path: path.stem
)
def test_the_press_reads_sheets_with_their_tokens_filled_in(path):
    texts = sheet_texts(path.stem, PageSize.A4)
    assert [text for text in texts if "var(" in text] == []
    assert "border-bottom: 0.4pt solid #888;" in texts[0]
