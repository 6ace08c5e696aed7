"""The run sheet on the wall and the hours drawn: the plan's times, large, and nothing private."""

from __future__ import annotations

import re

import pytest
from django.db import transaction

from classes.demo import STUDENTS
from classes.management.commands.load_demo import load_demo
from classes.selectors import class_plan
from handouts.kinds.hours_drawing import hours_drawing
from handouts.kinds.run_sheet import Edition
from handouts.kinds.run_sheet_wall import RunSheetWall, WallLine, run_sheet_wall
from handouts.press.render import PageSize, to_html, to_pdf
from tests.handouts.conftest import NOW, plan_of, planned
from tests.handouts.kinds.run_sheets import morning_class, sheet_of
from tests.handouts.pdfs import nothing_said, page_texts, plain, reader


@pytest.fixture(scope="module")
def _made(django_db_setup, django_db_blocker):
    with django_db_blocker.unblock(), transaction.atomic():
        demo = load_demo(now=NOW)
        two = morning_class(demo, "Hearth loaf", "Seeded ring", students=8, hours=7)
        made = {}
        for name, session in {"demo": demo, "two": two}.items():
            plan, hours = plan_of(session), class_plan(planned(session)).hours
            sheet = sheet_of(session, Edition.ASSISTANT)
            wall = run_sheet_wall(plan, hours, NOW)
            with nothing_said():
                pdf = to_pdf([wall], PageSize.LETTER)
            made[name] = (wall, sheet, pdf, hours_drawing(plan, hours, NOW))
        transaction.set_rollback(True)
    return made


@pytest.fixture(params=["demo", "two"])
def made(db, _made, request):
    return _made[request.param]


@pytest.fixture
def of_demo(db, _made):
    return _made["demo"]


@pytest.fixture
def of_two(db, _made):
    return _made["two"]


def test_the_wall_has_the_times_of_the_other_editions(made):
    wall, sheet, pdf, _ = made
    told = {(row.clock, row.what) for row in sheet.rows}
    assert {(line.clock, line.what) for line in wall.lines} <= told
    text = " ".join(page_texts(pdf))
    for line in wall.lines:
        assert re.search(rf"{line.clock} {re.escape(line.what)}", text), line


def test_what_every_bench_does_is_there_and_what_only_teachers_do_is_not(made):
    wall, sheet, _, _ = made
    alone = {row.what for row in sheet.rows if row.is_instructors or row.is_ahead}
    shared = {row.what for row in sheet.rows if not (row.is_instructors or row.is_ahead)}
    assert {line.what for line in wall.lines} == shared
    assert "Turn on O1, O2 and O3" in alone or "Turn on O1 and O3" in alone


def test_a_bench_is_named_only_where_not_all_do_the_same(of_demo, of_two):
    assert {line.who for line in of_demo[0].lines} == {""}
    assert "Bench 3" in {line.who for line in of_two[0].lines}


def test_it_is_read_from_two_meters(of_demo):
    wall, _, pdf, _ = of_demo
    (page,) = reader(pdf).pages
    sizes = {}
    page.extract_text(
        visitor_text=lambda text, cm, tm, font, size: sizes.update({text.strip(): size * tm[3]})
    )
    of = {words: abs(size) for words, size in sizes.items()}
    assert all(of[line.clock] >= 30 for line in wall.lines)
    assert of["Divide and shape"] >= 22


def test_a_long_day_takes_two_pages_at_most(made):
    assert len(page_texts(made[2])) <= 2


def test_the_fewer_lines_the_larger_they_are(of_demo):
    wall = of_demo[0]
    line = WallLine("10:00", "Divide and shape", "Hearth loaf", "")
    sizes = [type(wall).size.fget(_with(wall, (line,) * count)) for count in (8, 18, 90)]
    assert sizes == ["wall-22", "wall-17", "wall-14"]


def _with(wall, lines):
    return RunSheetWall(head=wall.head, hazards=wall.hazards, lines=lines)


def test_the_wall_names_nobody(made):
    html = plain(to_html(made[0])).lower()
    for name, must_not_eat in STUDENTS:
        assert name.lower() not in html
        assert not must_not_eat or must_not_eat not in html


def test_the_drawing_is_one_page_with_every_bench(made):
    drawing = made[3]
    with nothing_said():
        (page,) = page_texts(to_pdf([drawing], PageSize.A4))
    assert "The plan, drawn" in page
    assert {"Bench 1", "Bench 2", "Bench 3"} <= set(re.findall(r"Bench \d", page))
