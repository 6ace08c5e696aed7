"""Signs for an oven's door: large words beside a drawing of our own, on the sheet of the oven."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from classes.selectors import class_plan
from handouts.kinds.oven_map import oven_map
from handouts.oven_signs import Warns
from handouts.press.render import PageSize, to_html, to_pdf
from tests.handouts.conftest import NOW, plan_of
from tests.handouts.kinds.test_station_notices import READ_AT_2_M_PT, letters_pt
from tests.handouts.pdfs import page_texts, reader

WORDS = ["DOUGH", "INSIDE", "DO", "NOT", "TURN", "ON", "HOT", "TOUCH"]


@pytest.fixture
def sheet(demo):
    return oven_map(plan_of(demo), class_plan(demo).hours, NOW)[0]


@pytest.mark.parametrize(
    "oven", ["O1", "Deck oven", "W" * 40, "The big deck oven in the back room"]
)
def test_a_sheet_is_one_page_whatever_the_oven_is_called(sheet, oven):
    for page_size in PageSize:
        (page,) = page_texts(to_pdf([replace(sheet, oven=oven)], page_size))
        for words in (*WORDS, *Warns.HOT.writes, *Warns.DOUGH_INSIDE.writes):
            assert words in page
        assert oven in page or oven in page.replace(" ", "")


def test_the_words_are_set_in_letters_that_are_read_at_2_m(sheet):
    pdf = to_pdf([sheet], PageSize.A4)
    assert letters_pt(pdf, *WORDS) >= READ_AT_2_M_PT - 0.1
    assert letters_pt(pdf, "HOT") >= 88 - 0.1


def test_the_drawings_are_told_in_words_and_need_no_color(sheet):
    markup = to_html(sheet)
    for warns in Warns:
        assert f'role="img"><title>{warns.drawn}</title>' in markup
    assert set(re.findall(r'(?:fill|stroke)="(.*?)"', markup)) == {"#000", "#fff"}
    assert {warns.drawn for warns in Warns} <= set(
        figure_texts(reader(to_pdf([sheet], PageSize.A4)))
    )


def figure_texts(pdf):
    """The words for the drawings in the structure of the PDF."""
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
    return found


def test_a_sheet_warns_of_heat_and_burns(sheet):
    assert {"heat", "burns"} <= {one.key for one in sheet.cautions}
