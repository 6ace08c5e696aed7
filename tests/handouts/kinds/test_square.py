"""The square on a class handout: a telephone reads it from the page and from a photocopy."""

from __future__ import annotations

import io
import subprocess
from urllib.parse import urlsplit

import pytest
import zxingcpp
from django.conf import settings
from PIL import Image, ImageFilter

from classes.core.keys import PersonKey
from classes.management.commands.load_demo import load_demo
from handouts.kinds.handout import handouts
from handouts.press.render import PageSize, to_pdf
from tests.handouts.conftest import NOW, plan_of
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


def make():
    """A student, their handout, and its first page on both sheets."""
    demo = load_demo(now=NOW)
    student = demo.enrollments.order_by("pk")[4]
    plan = plan_of(demo)
    (paper,) = handouts(plan, [plan.student[PersonKey.student(student.pk)]], NOW)
    pages = {page_size: picture_of(to_pdf([paper], page_size)) for page_size in PageSize}
    return student, paper, pages


world = made_once(make)


@pytest.fixture
def student(db, world):
    return world[0]


@pytest.fixture
def paper(world):
    return world[1]


@pytest.fixture(params=PageSize)
def sheet(world, request):
    return world[2][request.param]


def test_it_opens_the_students_own_page_for_home(sheet, paper, student, client):
    (address,) = read(sheet)
    assert address == paper.home_address
    assert address.startswith(settings.SITE_URL)
    answer = client.get(urlsplit(address).path)
    assert answer.status_code == 200
    shown = answer.content.decode()
    assert student.name in shown
    others = student.session.enrollments.exclude(pk=student.pk)
    assert not [one.name for one in others if one.name in shown]


@pytest.mark.parametrize("threshold", [90, 128, 180])
def test_a_photocopy_of_it_still_reads(sheet, paper, threshold):
    blurred = sheet.filter(ImageFilter.GaussianBlur(0.8))
    copy = blurred.point(lambda grey: 255 * (grey > threshold)).convert("1")
    assert read(copy.convert("L")) == [paper.home_address]


def test_a_copy_that_lies_askew_still_reads(sheet, paper):
    askew = sheet.rotate(3, expand=True, fillcolor=255).filter(ImageFilter.GaussianBlur(0.8))
    assert read(askew.point(lambda grey: 255 * (grey > 128))) == [paper.home_address]
