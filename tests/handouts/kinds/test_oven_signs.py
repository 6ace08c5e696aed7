"""Oven signs: one page for each oven and warning, large words beside a drawing of our own."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from handouts.kinds.oven_signs import NoOven, Warns, oven_signs
from handouts.paper import PaperError
from handouts.press.render import PageSize, to_html, to_pdf
from tests.handouts.conftest import NOW, plan_of
from tests.handouts.kinds.test_station_notices import READ_AT_2_M_PT, letters_pt
from tests.handouts.pdfs import page_texts, reader

warnings = pytest.mark.parametrize("warns", Warns, ids=lambda one: one.label)
WORDS = {Warns.DOUGH_INSIDE: "DOUGH INSIDE DO NOT TURN ON", Warns.HOT: "HOT DO NOT TOUCH"}


@pytest.fixture
def signs(demo):
    return oven_signs(plan_of(demo), NOW)


@pytest.fixture
def sign(signs):
    return lambda warns, **other: replace(next(one for one in signs if one.warns is warns), **other)


def test_each_oven_has_both_signs(signs):
    assert [(one.oven, one.warns.label) for one in signs] == [
        (oven, label) for oven in ("O1", "O2", "O3") for label in ("dough-inside", "hot")
    ]


def test_a_kitchen_without_an_oven_is_told_what_to_do(demo):
    demo.kitchen.ovens.all().delete()
    with pytest.raises(NoOven) as error:
        oven_signs(plan_of(demo), NOW)
    assert isinstance(error.value, PaperError)
    assert "Enter its ovens first" in str(error.value)


@warnings
@pytest.mark.parametrize("page_size", PageSize)
def test_a_sign_is_one_page_with_its_words_its_oven_and_its_cautions(sign, warns, page_size):
    pdf = to_pdf([sign(warns)], page_size)
    (page,) = page_texts(pdf)
    words = re.sub(r" OFF ", " ", page)
    assert [word for word in WORDS[warns].split() if word not in words] == []
    assert "Oven O1" in page
    assert [one for one in warns.writes if one not in page] == []
    assert sign(warns).foot.words in page


@warnings
@pytest.mark.parametrize("oven", ["Deck oven", "W" * 40, "The big deck oven in the back room"])
def test_a_long_name_keeps_the_sign_on_one_page(sign, warns, oven):
    for page_size in PageSize:
        (page,) = page_texts(to_pdf([sign(warns, oven=oven)], page_size))
        assert oven in page.replace(" ", "") or oven in page


@warnings
def test_the_words_are_set_in_letters_that_are_read_at_2_m(sign, warns):
    pdf = to_pdf([sign(warns)], PageSize.A4)
    assert letters_pt(pdf, *WORDS[warns].split()) >= READ_AT_2_M_PT
    assert letters_pt(pdf, WORDS[warns].split()[0]) >= 66 - 0.1
    assert letters_pt(pdf, "O1") >= READ_AT_2_M_PT - 0.1


@warnings
def test_the_drawing_is_told_in_words_and_needs_no_color(sign, warns):
    markup = to_html(sign(warns))
    assert f'role="img"><title>{warns.drawn}</title>' in markup
    assert set(re.findall(r'(?:fill|stroke)="(.*?)"', markup)) == {"#000", "#fff"}
    tags = reader(to_pdf([sign(warns)], PageSize.A4))
    assert figure_text(tags) == warns.drawn


def figure_text(pdf):
    """The words for the drawing in the structure of the PDF."""
    found = []

    def walk(node):
        node = node.get_object()
        if isinstance(node, list):
            for kid in node:
                walk(kid)
        elif isinstance(node, dict):
            if node.get("/S") == "/Figure":
                found.append(str(node.get("/Alt")))
            if "/K" in node:
                walk(node["/K"])

    walk(pdf.root_object["/StructTreeRoot"])
    (text,) = found
    return text


def test_a_sign_warns_of_heat_and_burns(signs):
    assert {"heat", "burns"} <= {one.key for one in signs[0].foot.cautions}


def test_a_sign_names_nobody(demo, signs):
    told = " ".join(map(to_html, signs))
    assert not any(one.name in told for one in demo.enrollments.all())
