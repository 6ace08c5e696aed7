"""Every link of the print desk opens a paper on the sheets that were asked for, pack or no pack."""

import re
from datetime import UTC, datetime
from html import unescape

import pytest
from django.urls import reverse
from django.utils import timezone

from classes.models import Pack
from handouts import views
from handouts.catalog import KINDS
from handouts.labels.sheets import PLAIN, LabelLayout
from handouts.press.markup import markup_of
from handouts.press.packs import make_pack
from handouts.press.render import PageSize
from tests.handouts.conftest import another_class
from tests.handouts.pdfs import plain, sizes_mm
from tests.handouts.presses import OncePress
from tests.worlds import anew

LABELS = ("tub-labels", "refrigerator-labels")
SHEETS_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
sheets = pytest.mark.parametrize("page_size", list(SHEETS_MM))


@pytest.fixture
def demo(demo_made_once, db):
    return anew(demo_made_once)


@pytest.fixture
def session(demo):
    """A class whose every kind of paper can be made, and with papers in several for most."""
    session = another_class(
        demo,
        "Pillow rolls",
        "Two-day rye batard",
        students=2,
        ends_at=datetime(2030, 5, 4, 18, tzinfo=UTC),
    )
    session.enrollments.filter(pk=session.enrollments.first().pk).update(must_not_eat="sesame")
    return session


@pytest.fixture
def on_sheets(monkeypatch):
    """Views that set a paper without laying it out, and answer with the sheets it is for."""

    def sheets_of(session, papers, page_size, title=""):
        return " ".join(sorted({markup_of(one, page_size).page_size for one in papers})).encode()

    monkeypatch.setattr(views, "pdf_of", sheets_of)


def desk(client, session):
    return client.get(reverse("handouts:desk", args=[session.code])).content.decode()


def links(page):
    return [unescape(link) for link in re.findall(r'href="(/classes/[^"]+\.pdf[^"]*)"', page)]


def kinds_of(found):
    return {re.search(r"/papers/([a-z-]+)", link)[1] for link in found if "/packs/" not in link}


def pack_of(session, page_size, *kinds, layout=""):
    pack = Pack.objects.create(
        session=session,
        by=session.instructor,
        kinds=kinds,
        page_size=page_size,
        layout=layout,
        made_at=timezone.now(),
    )
    return make_pack(pack, OncePress())


def asked(client, session, **posted):
    return client.post(reverse("handouts:desk", args=[session.code]), posted)


def test_every_link_opens_before_anything_was_printed(session, teacher, on_sheets):
    found = links(desk(teacher, session))
    assert kinds_of(found) == {kind.name for kind in KINDS}
    for link in found:
        answer = teacher.get(link)
        assert (link, answer.status_code, answer.content) == (link, 200, b"a4")


@sheets
def test_every_link_opens_on_the_sheets_of_the_last_pack(session, teacher, on_sheets, page_size):
    answer = asked(teacher, session, kinds="notes", page=page_size, layout="")
    assert answer.status_code == 302
    make_pack(Pack.objects.get(), OncePress())
    found = links(desk(teacher, session))
    assert kinds_of(found) == {kind.name for kind in KINDS}
    for link in found:
        answer = teacher.get(link)
        assert (link, answer.status_code, answer.content) == (link, 200, page_size.encode())


@sheets
@pytest.mark.parametrize("kind", LABELS)
def test_labels_come_on_the_sheets_of_the_pack(session, teacher, page_size, kind):
    asked(teacher, session, kinds=kind, page=page_size)
    pack = make_pack(Pack.objects.get(), OncePress())
    file = reverse("handouts:pack_pdf", args=[session.code, pack.pk])
    assert sizes_mm(teacher.get(file).content) == {SHEETS_MM[page_size]}
    (alone,) = [link for link in links(desk(teacher, session)) if f"/papers/{kind}.pdf" in link]
    assert sizes_mm(teacher.get(alone).content) == {SHEETS_MM[page_size]}
    address = reverse("handouts:pack", args=[session.code, pack.pk])
    page = plain(teacher.get(address).content.decode())
    assert f"on {'US Letter' if page_size == 'letter' else 'A4'}." in page


@sheets
@pytest.mark.parametrize("kind", LABELS)
def test_one_kind_of_sheet_decides_the_other(session, teacher, on_sheets, page_size, kind):
    address = reverse("handouts:papers", args=[session.code, kind])
    assert teacher.get(address, {"page": page_size}).content == page_size.encode()
    for layout in LabelLayout:
        answer = teacher.get(address, {"labels": layout})
        assert (layout, answer.content) == (layout, layout.page_size.encode())


@pytest.mark.parametrize("layout", LabelLayout)
def test_labels_for_other_sheets_than_the_papers_are_refused_in_words(session, teacher, layout):
    other = "letter" if layout.page_size == PageSize.A4 else "a4"
    address = reverse("handouts:papers", args=[session.code, "tub-labels"])
    answer = teacher.get(address, {"page": other, "labels": layout})
    name = "A4" if layout.page_size == PageSize.A4 else "US Letter"
    told = f"These labels come on {name}."
    assert (answer.status_code, told in plain(answer.content.decode())) == (400, True)
    answer = asked(teacher, session, kinds="tub-labels", page=other, layout=layout)
    offered = layout not in PLAIN.values()
    assert (answer.status_code, told in plain(answer.content.decode())) == (422, offered)
    assert not Pack.objects.exists()


def test_a_sheet_of_labels_nobody_has_is_refused_in_words(session, teacher):
    address = reverse("handouts:papers", args=[session.code, "tub-labels"])
    for layout in ("napkin", "A4-CUT", "a4"):
        answer = teacher.get(address, {"labels": layout})
        assert answer.status_code == 400
        assert "Unknown sheet of labels" in answer.content.decode()


def test_labels_do_not_matter_where_none_are_asked_for(session, teacher):
    answer = asked(teacher, session, kinds="notes", page="letter", layout="a4-2x7")
    assert answer.status_code == 302
    assert Pack.objects.get().layout == ""


def test_labels_are_right_on_the_sheet_they_were_printed_on(session, teacher):
    """A later pack of other papers on other sheets makes no labels out of date."""
    pack_of(session, "letter", "tub-labels", layout="letter-2x5")
    pack_of(session, "a4", "notes")
    page = plain(desk(teacher, session))
    assert "Out of date" not in page
    (alone,) = [link for link in links(desk(teacher, session)) if "/papers/tub-labels.pdf" in link]
    assert alone.endswith("?page=letter&labels=letter-2x5")
