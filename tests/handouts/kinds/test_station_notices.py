"""Notices for the wall: what a station avoids in large letters, and nobody's name or number."""

from __future__ import annotations

import re
import subprocess
from dataclasses import replace

import pytest

from classes.enrollment.models import Enrollment
from handouts.kinds.station_notices import NothingAvoided, station_notices
from handouts.paper import PaperError
from handouts.press.render import PageSize, to_html, to_pdf
from recipes.core.allergens import EU_FOURTEEN
from tests.handouts.conftest import NOW, plan_of
from tests.handouts.pdfs import page_texts, sizes_mm, words_mm

READ_AT_2_M_PT = 40


@pytest.fixture
def notices(demo):
    Enrollment.objects.filter(name="Dov Larkspur").update(diet="private")
    Enrollment.objects.filter(name="Iris Vane").update(must_not_eat="no mango", diet="told")
    return station_notices(plan_of(demo), NOW)


def test_each_station_that_avoids_something_has_a_notice(notices):
    assert [(one.station, one.avoids, one.asks) for one in notices] == [
        ("Bench 1", ("sesame",), True),
        ("Bench 2", ("nuts",), False),
        ("Bench 3", (), True),
    ]


def test_a_station_that_avoids_nothing_has_none(demo):
    assert [one.station for one in station_notices(plan_of(demo), NOW)] == ["Bench 1", "Bench 2"]


def test_a_class_that_avoids_nothing_is_told_so_without_a_promise(demo):
    demo.enrollments.update(allergens=[], must_not_eat="", diet="nothing")
    with pytest.raises(NothingAvoided) as error:
        station_notices(plan_of(demo), NOW)
    assert isinstance(error.value, PaperError)
    assert "That promises nothing" in str(error.value)


def test_a_notice_says_what_to_do(notices):
    first = page_texts(to_pdf(notices[:1], PageSize.A4))[0]
    for words in (
        "Bench 1 avoids: sesame",
        "More: ask the instructor.",
        "Own tubs and tools only.",
        "Wash, rinse, sanitize",
        "Not sure? Stop and ask.",
    ):
        assert words in first


def test_where_only_words_were_told_the_notice_sends_to_the_instructor(notices):
    last = page_texts(to_pdf(notices[2:], PageSize.A4))[0]
    assert "Ask the instructor first" in last
    assert "avoids:" not in last


def test_a_notice_names_nobody_counts_nobody_and_repeats_nobodys_words(demo, notices):
    told = " ".join(map(to_html, notices))
    assert not any(one.name in told for one in demo.enrollments.all())
    assert not re.search(r"\d+ (?:people|person)", told)
    assert "mango" not in told
    assert "walnut" not in told


def test_a_notice_promises_nothing(notices):
    words = " ".join(map(to_html, notices)).lower()
    assert not re.search(r"safe for|free from|guarantee|(?:sesame|gluten|milk|nut)-free", words)


def letters_pt(pdf, *texts):
    """The least size of type of some words: poppler's boxes are as high as it."""
    boxes = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    ).stdout.decode()
    words = re.findall(r'yMin="(.*?)" xMax=".*?" yMax="(.*?)">(.*?)</word>', boxes)
    return min(
        float(bottom) - float(top) for top, bottom, word in words if word.strip(",.") in texts
    )


def test_what_matters_is_set_in_letters_that_are_read_at_2_m(notices):
    pdf = to_pdf(notices[:1], PageSize.A4)
    assert letters_pt(pdf, "sesame") >= 2 * READ_AT_2_M_PT - 0.1
    assert letters_pt(pdf, "Own", "tubs", "Stop", "instructor", "avoids:") >= READ_AT_2_M_PT - 0.1


@pytest.mark.parametrize("page_size", PageSize)
def test_a_usual_notice_is_one_page_in_both_sizes(notices, page_size):
    pdf = to_pdf(notices, page_size)
    pages = page_texts(pdf)
    assert ["page 1 of 1" in page for page in pages] == [True] * 3
    assert len(sizes_mm(pdf)) == 1


def test_every_allergen_at_once_stays_in_the_box_and_large(notices):
    everything = replace(notices[0], avoids=tuple(one.label for one in EU_FOURTEEN))
    pdf = to_pdf([everything], PageSize.A4)
    assert letters_pt(pdf, "mustard", "lupin") >= READ_AT_2_M_PT - 0.1
    assert max(right for _, _, right, _ in words_mm(pdf)) <= (210 + 174) / 2 + 0.5
    assert everything.foot.words in " ".join(page_texts(pdf))
