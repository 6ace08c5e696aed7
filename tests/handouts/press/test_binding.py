"""Papers joined into one file: nothing is lost, nothing is twice, and it stays small."""

from decimal import Decimal
from io import BytesIO

import pikepdf
import pytest
from pypdf import PdfReader

from handouts.press.binding import PackPart, bind
from handouts.press.render import PageSize, to_pdf
from tests.handouts.pdfs import checked, page_texts, sizes_mm

# Papers round the width of a glyph, in thousandths of the type's size, each for itself.
ROUNDED = 1

LABELS = ("Ada", "Zoë & <b>Ben</b>")


@pytest.fixture(scope="module")
def papers(_printed):
    """Two handouts and a preparation list, each alone."""
    made = _printed["demo"].papers
    return [to_pdf([paper], PageSize.A4) for paper in (*made["handouts"][:2], *made["preparation"])]


@pytest.fixture(scope="module")
def bound(papers):
    handouts, (list_,) = papers[:2], papers[2:]
    return bind(
        [
            PackPart("Handouts", list(zip(LABELS, handouts, strict=True))),
            PackPart("Preparation", [("", list_)]),
            PackPart("Nothing", []),
        ],
        "Papers: <i>Saturday</i>",
    )


def test_every_page_is_there_in_order_with_the_same_text(db, papers, bound):
    apart = [text for pdf in papers for text in page_texts(pdf)]
    assert page_texts(bound.pdf) == apart
    assert bound.pages == len(apart)


def test_two_sided_no_paper_begins_on_the_back_of_another(db, papers):
    parts = [PackPart("Papers", [(str(n), pdf) for n, pdf in enumerate([*papers, papers[0]])])]
    (counts,) = bind(parts, "x").counts
    assert counts == tuple(len(page_texts(pdf)) for pdf in (*papers, papers[0]))
    made = bind(parts, "x", two_sided=True)
    assert (made.counts, made.pages) == ((counts,), sum(n + n % 2 for n in counts))
    texts, sizes = page_texts(made.pdf), sizes_mm(made.pdf)
    at = 0
    for pdf, count in zip([*papers, papers[0]], counts, strict=True):
        assert at % 2 == 0
        assert texts[at : at + count] == page_texts(pdf)
        assert [text for text in texts[at + count : at + count + count % 2] if text.strip()] == []
        at += count + count % 2
    assert sizes == {(210.0, 297.0)}


def test_a_bookmark_leads_to_each_kind_and_each_paper(db, papers, bound):
    pages = [len(PdfReader(BytesIO(pdf)).pages) for pdf in papers]
    with pikepdf.open(BytesIO(bound.pdf)) as pdf, pdf.open_outline() as outline:
        handouts, preparation = outline.root
        titles = [one.title for one in handouts.children]
    assert (handouts.title, preparation.title, titles) == ("Handouts", "Preparation", [*LABELS])
    found = PdfReader(BytesIO(bound.pdf))
    kinds = [found.get_destination_page_number(found.outline[n]) for n in (0, 2)]
    assert kinds == [0, pages[0] + pages[1]]


def test_the_file_says_what_it_is_and_in_which_language(db, bound):
    found = PdfReader(BytesIO(bound.pdf))
    assert found.metadata.title == "Papers: <i>Saturday</i>"
    assert found.trailer["/Root"]["/Lang"] == "en"


def test_no_tag_is_left_that_leads_nowhere(db, bound):
    with pikepdf.open(BytesIO(bound.pdf)) as pdf:
        assert "/StructTreeRoot" not in pdf.Root
        assert not [page for page in pdf.pages if "/StructParents" in page.obj]


def test_each_font_is_embedded_once(db, bound):
    with pikepdf.open(BytesIO(bound.pdf)) as pdf:
        names = [
            str(found.FontName).partition("+")[2]
            for found in pdf.objects
            if isinstance(found, pikepdf.Dictionary) and "/FontFile2" in found
        ]
    assert len(names) == len(set(names)) >= 4


def widths(font):
    """Widths by code, written as runs or as ranges."""
    found, parts = {}, iter(font.DescendantFonts[0].W)
    for at in parts:
        row = next(parts)
        if not isinstance(row, pikepdf.Array):
            row = [next(parts)] * (int(row) - int(at) + 1)
        found |= {int(at) + n: Decimal(width) for n, width in enumerate(row)}
    return found


def fonts_of(page):
    """The fonts of a page by name, without the mark of a subset."""
    found = (font for _, font in page.Resources.Font.items())
    return {str(font.BaseFont).partition("+")[2]: font for font in found}


def with_ranges(pdf):
    """The same paper with the widths of its fonts written as ranges of codes."""
    with pikepdf.open(BytesIO(pdf)) as paper:
        for found in paper.objects:
            if isinstance(found, pikepdf.Dictionary) and found.get("/Subtype") == "/Type0":
                runs = widths(found).items()
                ranges = [part for code, width in runs for part in (code, code, width)]
                found.DescendantFonts[0].W = pikepdf.Array(ranges)
        made = BytesIO()
        paper.save(made)
    return made.getvalue()


def test_every_glyph_stays_as_wide_as_in_its_paper(db, papers, bound):
    opened = [pikepdf.open(BytesIO(pdf)) for pdf in papers]
    alone = [page for paper in opened for page in paper.pages]
    together = pikepdf.open(BytesIO(bound.pdf))
    for before, after in zip(alone, together.pages, strict=True):
        shared = fonts_of(after)
        for name, font in fonts_of(before).items():
            known = widths(shared[name])
            off = [abs(known[code] - width) for code, width in widths(font).items()]
            assert max(off) <= ROUNDED


def test_widths_that_are_written_as_ranges_are_the_same_widths(db, papers, bound):
    labels = [PackPart("Papers", [("", with_ranges(pdf)) for pdf in papers])]
    ranges = pikepdf.open(BytesIO(bind(labels, "Papers").pdf))
    runs = pikepdf.open(BytesIO(bound.pdf))
    for page, other in zip(ranges.pages, runs.pages, strict=True):
        for name, font in fonts_of(page).items():
            assert widths(font) == widths(fonts_of(other)[name])


def test_it_is_smaller_than_its_papers_together(db, papers, bound):
    assert len(bound.pdf) < 0.7 * sum(len(pdf) for pdf in papers)


def test_qpdf_finds_nothing_wrong(db, bound):
    assert "No syntax or stream encoding errors" in checked(bound.pdf)


def test_binding_the_same_papers_again_gives_the_same_bytes(db, papers):
    part = [PackPart("Handouts", [("", papers[0])])]
    assert bind(part, "Same").pdf == bind(part, "Same").pdf


def test_a_file_of_nothing_is_refused(db):
    with pytest.raises(ValueError, match="no papers"):
        bind([PackPart("Nothing", [])], "Empty")
