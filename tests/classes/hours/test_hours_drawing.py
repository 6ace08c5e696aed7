"""The drawing and the table of the hours as markup: the same on pages and papers, and harmless."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.template.loader import render_to_string
from django.test import override_settings
from django.utils import translation

from classes.core.hours.drawing.edition import drawing_of
from classes.core.hours.drawing.table import rows_of
from classes.core.hours.drawing.values import Look
from classes.demo import HEARTH_LOAF
from handouts.press.render import PageSize, print_html
from tests.classes.core.hours.drawn_classes import (
    CLASSES,
    demo,
    label,
    many_stations,
    planned,
    recipe_of,
    two_breads,
    two_loads,
    work_of,
)
from tests.handouts.pdfs import page_texts, words_mm
from wording.writing import PLAIN

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = "<script>alert(1)</script>\"'&]]>"


def drawing(work):
    scheduled, solved = planned(work)
    return drawing_of(scheduled, solved.plan, label=label, ends=work.hours.minutes)


def svg(edition, ids="plan"):
    return render_to_string("classes/_hours_svg.html", {"edition": edition, "ids": ids})


def page(work, ids="plan"):
    return render_to_string("classes/_hours_drawing.html", {"drawing": drawing(work), "ids": ids})


def table(work):
    scheduled, solved = planned(work)
    rows = rows_of(scheduled, solved.plan, label)
    return render_to_string("classes/_hours_table.html", {"rows": rows, "writing": PLAIN})


def printed(edition, page_size):
    """A paper that holds nothing but a drawing."""
    head = '<!doctype html><html lang="en"><head><title>The hours</title></head><body>'
    return print_html([f"{head}{svg(edition)}</body></html>"], "hours-drawing", page_size)


def tree(edition):
    return ET.fromstring(svg(edition).strip())  # noqa: S314, our own markup


def editions(work):
    drawn = drawing(work)
    return (drawn.wide, *drawn.tall)


def hostile():
    """The demo with names that would be markup if they could."""
    bread = recipe_of(HEARTH_LOAF, [(HOSTILE, 4), (f"{HOSTILE} 2", 4)])
    other = recipe_of(HEARTH_LOAF, [(HOSTILE, 4)], shown=0)
    work = work_of(
        replace(bread, title=f"{HOSTILE} loaf"), replace(other, key="b", title=f"{HOSTILE} other")
    )
    return replace(work, ovens=tuple(replace(one, name=HOSTILE) for one in work.ovens))


@pytest.mark.parametrize("make", [*CLASSES.values(), hostile, many_stations])
def test_every_edition_is_well_formed_and_has_a_title_for_each_bar(make):
    for edition in editions(make()):
        root = tree(edition)
        groups = [one for one in root.findall(f"{SVG}g") if one.find(f"{SVG}title") is not None]
        titles = [one.find(f"{SVG}title").text for one in groups]
        assert titles == [bar.title for bar in edition.bars]
        assert all(one.find(f"{SVG}rect") is not None for one in groups)


def test_all_words_are_printed_where_they_were_put():
    wide = drawing(two_breads()).wide
    printed = [(one.get("x"), one.get("y"), one.text) for one in tree(wide).iter(f"{SVG}text")]
    put = [(str(word.x), str(word.y), word.text) for word in (*every_word(wide),)]
    assert sorted(printed) == sorted(put)


def every_word(edition):
    for sample in edition.key:
        yield from sample.words
    yield from edition.names
    for bar in edition.bars:
        yield from bar.words
    for mark in (edition.starts, edition.ends, edition.ready):
        yield from mark.words


def test_names_cannot_become_markup():
    for text in (page(hostile()), table(hostile())):
        assert "<script" not in text
        assert "&lt;script&gt;alert(1)&lt;/script&gt;" in text
    root = tree(drawing(hostile()).wide)
    assert any(HOSTILE in (one.text or "") for one in root.iter(f"{SVG}title"))


def test_a_page_and_a_paper_show_the_same_drawing():
    drawn = drawing(demo())
    on_paper = svg(drawn.wide)
    on_page = render_to_string("classes/_hours_drawing.html", {"drawing": drawn, "ids": "plan"})
    assert on_paper.strip() in on_page


@pytest.mark.parametrize("make", [demo, two_breads, hostile])
def test_ids_are_unique_on_a_page_and_every_pattern_is_in_its_own_drawing(make):
    text = page(make(), ids="one") + page(make(), ids="two")
    ids = re.findall(r' id="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    for one in re.findall(r"<svg.*?</svg>", text, flags=re.DOTALL):
        own = set(re.findall(r' id="([^"]+)"', one))
        assert set(re.findall(r"url\(#([^)]+)\)", one)) <= own
        assert set(re.search(r'aria-labelledby="([^"]+)"', one)[1].split()) <= own


def test_the_drawing_needs_no_style_sheet_and_no_script():
    class Seen(HTMLParser):
        names: set[str] = set()

        def handle_starttag(self, tag, attrs):
            self.names |= {tag, *(f"@{name}" for name, _ in attrs)}

    seen = Seen()
    seen.feed(page(two_loads()))
    assert not {"script", "style", "image", "foreignobject", "use", "a", "@style"} & seen.names
    assert not [name for name in seen.names if name.startswith(("@on", "@href", "@xlink"))]


def test_looks_differ_in_black_and_white():
    wide = drawing(two_loads()).wide
    markup = svg(wide)
    shapes = {}
    for look in Look:
        pattern = re.search(rf'<pattern id="plan-wide-{look}".*?</pattern>', markup, re.DOTALL)
        fill = render_to_string(
            "classes/_hours_fill.html",
            {"rect": wide.bars[0].rect, "look": look, "edition": wide, "ids": "plan"},
        )
        shape = fill.replace(f"plan-wide-{look}", "it") + (pattern[0] if pattern else "")
        shapes[look] = re.sub(r"#[0-9a-f]{6}", "", shape.replace(f"plan-wide-{look}", "it"))
    assert len(set(shapes.values())) == len(Look)


def test_only_colors_of_the_house_are_used():
    tokens = finders.find("css/screen/tokens.css")
    house = set(re.findall(r"--[a-z-]+: (#[0-9a-f]{6});", Path(tokens).read_text(encoding="utf-8")))
    colors = set(re.findall(r"#[0-9a-f]{6}", page(two_breads())))
    assert "#25211b" in colors
    assert colors <= house


def test_coordinates_are_written_the_same_in_every_language():
    drawn = drawing(many_stations())
    here = svg(drawn.tall[0])
    with translation.override("de"), override_settings(USE_THOUSAND_SEPARATOR=True):
        assert svg(drawn.tall[0]) == here


def test_the_drawing_says_in_a_sentence_what_it_shows():
    root = tree(drawing(demo()).wide)
    assert root.get("role") == "img"
    assert root.find(f"{SVG}title").text == "The hours of the class"
    assert root.find(f"{SVG}desc").text == (
        "From 10:00 to 14:00, the last bread ready at 13:55: Everybody, Instructor, Bench 1, "
        "Bench 2, Bench 3, O1, O2, O3, Mixer 1, 2\N{NO-BREAK SPACE}kg and Proof cabinet. "
        "The table says the same in words."
    )


def test_the_tall_drawing_can_be_scrolled_by_keyboard():
    assert 'class="hours-tall" tabindex="0" role="region" aria-label=' in page(demo())


def test_the_table_says_everything_in_words():
    text = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", table(demo())).replace("\u00a0", " "))
    assert "10:35 to 10:55 Bench 1, 2 and 3 Mix , Hearth loaf hands on bench" in text
    assert (
        "Proof , Hearth loaf rising may end from 13:06 to 13:20, best at 13:10 "
        "proof cabinet, 26 °C (79 °F)" in text
    )
    assert "O1, 6 of 6 places, 230 °C (450 °F) Bench 1: 4, Bench 3: 2" in text
    assert "25 min in the oven, after 5 min of scoring and loading" in text


def test_the_rows_of_the_table_have_headings():
    root = ET.fromstring(table(demo()).strip())  # noqa: S314, our own markup
    assert [one.get("scope") for one in root.find("thead/tr")] == ["col"] * 4
    assert all(row.find("th").get("scope") == "row" for row in root.findall("tbody/tr"))


@pytest.mark.parametrize("make", [demo, two_breads, many_stations])
def test_the_drawing_prints_on_one_page_with_its_words(make, caplog):
    pdf = printed(drawing(make()).wide, PageSize.LETTER)
    assert caplog.records == []
    (text,) = page_texts(pdf)
    assert "rises" in text
    assert "hands on" in text
    assert f"ready {label(planned(make())[1].ready)}" in text


def test_no_drawing_is_printed_wider_or_higher_than_what_every_sheet_holds():
    for make in (demo, many_stations):
        pdf = printed(drawing(make()).wide, PageSize.A4)
        boxes = list(words_mm(pdf))
        assert max(box[2] for box in boxes) - min(box[0] for box in boxes) <= 174
        assert max(box[3] for box in boxes) - min(box[1] for box in boxes) <= 231
