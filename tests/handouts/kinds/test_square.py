"""The square on a class handout: a telephone reads it from the page and from a photocopy."""

from __future__ import annotations

import io
import subprocess
from urllib.parse import urlsplit

import pytest
import zxingcpp
from django.test import override_settings
from django.urls import reverse
from PIL import Image, ImageFilter

from classes.core.keys import PersonKey
from classes.management.commands.load_demo import load_demo
from handouts.kinds.handout import handouts
from handouts.press.render import PageSize, to_html, to_pdf
from handouts.site_address import printable_site
from tests.handouts.conftest import NOW, plan_of
from tests.handouts.pdfs import page_texts
from tests.worlds import made_once

DPI = 150


def picture_of(pdf):
    """The first page in grey, as it comes out of a printer and under a camera."""
    done = subprocess.run(
        ["pdftoppm", "-r", str(DPI), "-gray", "-l", "1", "-png", "-"],
        input=pdf,
        capture_output=True,
        check=True,
    )
    return Image.open(io.BytesIO(done.stdout))


def read(picture):
    """What the squares of a picture say."""
    return [one.text for one in zxingcpp.read_barcodes(picture)]


SITE = "https://bread.thistlewick.example"


def make():
    """A student, their handout, and its first page on both sheets."""
    with override_settings(SITE_URL=f"{SITE}/"):
        return _made()


def _made():
    demo = load_demo(now=NOW)
    student = demo.enrollments.order_by("pk")[4]
    plan = plan_of(demo)
    (paper,) = handouts(plan, [plan.student[PersonKey.student(student.pk)]], NOW)
    pdfs = {page_size: to_pdf([paper], page_size) for page_size in PageSize}
    return student, paper, {page_size: (pdf, picture_of(pdf)) for page_size, pdf in pdfs.items()}


world = made_once(make)


@pytest.fixture
def student(db, world):
    return world[0]


@pytest.fixture
def paper(world):
    return world[1]


@pytest.fixture(params=PageSize)
def sheet(world, request):
    return world[2][request.param][1]


def test_it_opens_the_students_own_page_for_home(sheet, paper, student, client):
    (address,) = read(sheet)
    assert address == paper.home_address
    assert address.startswith(f"{SITE}/h/{student.pk}-")
    answer = client.get(urlsplit(address).path, follow=True)
    assert answer.status_code == 200
    shown = answer.content.decode()
    assert student.name in shown
    others = student.session.enrollments.exclude(pk=student.pk)
    assert not [one.name for one in others if one.name in shown]


@pytest.mark.parametrize("page_size", PageSize)
def test_the_same_address_is_printed_beside_it_to_be_typed(world, page_size, client):
    _, paper, pages = world
    shown = "".join(page_texts(pages[page_size][0])[0].split())
    typed = "".join(paper.typed_address)
    assert f"typein{typed}" in shown
    assert f"https://{typed}/" == paper.home_address
    site, path = paper.typed_address
    assert f"https://{site}" == SITE
    assert client.get(f"{path}/".upper().replace("/H/", "/h/")).status_code == 302


@pytest.mark.parametrize(
    ("said", "printed"),
    [
        ("https://bread.example.org/", "https://bread.example.org"),
        ("http://192.168.1.20:8000", "http://192.168.1.20:8000"),
        ("https://127.example.org", "https://127.example.org"),
        ("https://localhost.example.org", "https://localhost.example.org"),
        ("http://[2001:db8::1]:8000", "http://[2001:db8::1]:8000"),
        ("http://127.0.0.1:8000", ""),
        ("http://127.9.0.1", ""),
        ("http://localhost:8000/", ""),
        ("http://LOCALHOST.", ""),
        ("http://kitchen.localhost", ""),
        ("http://[::1]:8000", ""),
        ("http://[::ffff:127.0.0.1]", ""),
        ("http://0.0.0.0:8000", ""),
        ("http://[::]", ""),
        ("http://[half", ""),
        ("", ""),
    ],
)
def test_an_address_that_only_this_machine_reaches_is_not_printed(said, printed):
    assert printable_site(said) == printed


@pytest.mark.parametrize("site", ["http://127.0.0.1:8000", SITE])
def test_the_desk_says_how_to_get_a_square_where_papers_have_none(
    world, db, client, settings, site
):
    settings.SITE_URL = site
    session = world[0].session
    client.force_login(session.instructor)
    page = client.get(reverse("handouts:desk", args=[session.code])).content.decode()
    plan = plan_of(session)
    papers = handouts(plan, plan.students, NOW)
    has_square = site == SITE
    assert ("<code>SITE_URL</code>" in page) is not has_square
    assert {bool(paper.home_square) for paper in papers} == {has_square}
    assert {"type in" in to_html(paper) for paper in papers} == {has_square}
    assert has_square or not any(site in to_html(paper) for paper in papers)


@pytest.mark.parametrize("threshold", [90, 128, 180])
def test_a_photocopy_of_it_still_reads(sheet, paper, threshold):
    blurred = sheet.filter(ImageFilter.GaussianBlur(0.8))
    copy = blurred.point(lambda grey: 255 * (grey > threshold)).convert("1")
    assert read(copy.convert("L")) == [paper.home_address]


def test_a_copy_that_lies_askew_still_reads(sheet, paper):
    askew = sheet.rotate(3, expand=True, fillcolor=255).filter(ImageFilter.GaussianBlur(0.8))
    assert read(askew.point(lambda grey: 255 * (grey > 128))) == [paper.home_address]
