"""The assistant's paper: its pages, both orders of its list, and its times and grams."""

import re
from collections import Counter
from datetime import UTC, datetime, timedelta
from html import unescape

import pytest
from django.urls import reverse

from classes.core.hours.ahead.everything import ahead_of
from classes.core.hours.ahead.recipes import class_needs
from classes.hours.morning import morning_of
from handouts.kinds.preparation import preparation_list
from handouts.preparing.arranged import ListBy
from handouts.press.render import PageSize, to_html, to_pdf
from tests.handouts.agreement.read_back import brought_class
from tests.handouts.conftest import NOW, another_class, plan_of, two_day_class
from tests.handouts.pdfs import nothing_said, page_texts, plain
from tests.worlds import anew

LONG = "Wilhelmina Featherstonehaugh-Cholmondeley {}"
BEGINS = datetime(2030, 5, 4, 9, tzinfo=UTC)


@pytest.fixture
def demo(demo_made_once, db):
    return anew(demo_made_once)


def two_recipes(demo, students, *titles):
    """A long day with two recipes, and long names at as many benches as they need."""
    session = another_class(
        demo, *titles, students=students, starts_at=BEGINS, ends_at=BEGINS + timedelta(hours=8)
    )
    for n in range(4, -(-students // 4)):
        demo.kitchen.stations.create(position=n, name=f"Bench {n + 1}", places=4)
    session.stations.set(demo.kitchen.stations.all())
    for n, student in enumerate(session.enrollments.all()):
        student.name = LONG.format(n)
        if n % 7 == 0:
            student.allergens, student.diet = ["milk"], "told"
        student.save()
    return session


# Pages


@pytest.mark.parametrize("by", ListBy)
def test_the_demo_class_takes_two_pages_on_both_sheets(demo, by):
    paper = preparation_list(plan_of(demo), NOW, by)
    for page_size in PageSize:
        with nothing_said():
            assert len(page_texts(to_pdf([paper], page_size))) == 2


@pytest.mark.parametrize("by", ListBy)
def test_24_people_with_long_names_and_two_recipes_take_five_pages(demo, by):
    session = two_recipes(demo, 24, "Two-day rye batard", "Pillow rolls")
    paper = preparation_list(plan_of(session), NOW, by)
    with nothing_said():
        pages = page_texts(to_pdf([paper], PageSize.A4))
    assert len(pages) <= 5
    told = "".join(pages).replace(" ", "")
    for student in session.enrollments.all():
        assert student.name.replace(" ", "") in told


# Both orders


def boxes(paper):
    """How many tubs there are to tick for each mass, and how many the list says there are."""
    ticked, said = Counter(), Counter()
    spans = r'<span class="several.*?(?=<span class="several|</td>)'
    for span in re.findall(spans, to_html(paper), re.DOTALL):
        (grams,) = re.findall(r'<b class="weigh">([\d.]+)</b>', span)
        if held := span.count('class="box"'):
            ticked[grams] += held
            said[grams] += int((re.findall(r"</b>\s*× (\d+)", span) or [held])[0])
    return ticked, said


@pytest.mark.parametrize("make", [lambda demo: demo, two_day_class, brought_class])
def test_both_orders_have_the_same_tubs_to_tick(demo, make):
    plan = plan_of(make(demo))
    station, ingredient = (boxes(preparation_list(plan, NOW, by)) for by in ListBy)
    assert station[0] == ingredient[0] == ingredient[1]
    people = sum(len(recipe.amounts.persons) for recipe in plan.amounts.recipes)
    assert station[0].total() > 5 * people


def test_by_ingredient_each_amount_stands_with_how_many_weigh_it(demo):
    told = text(preparation_list(plan_of(demo), NOW, ListBy.INGREDIENT))
    for line in (
        "Bread flour 3463 3463.1 3658.1 1200 2 × 1500 g 541.9 3.60 "
        "each 259 × 13 (258.63) a station 1035 × 3 (1034.5)",
        "Table salt 81 81.5 81.5 400 – 318.5 each 6.1 × 13 (6.09) a station 24.3 × 3 (24.3)",
    ):
        assert line in told
    assert "Grams, and exactly" not in told


# Times and grams


def text(paper):
    return plain(unescape(re.sub(r"<[^>]+>", " ", to_html(paper))))


def test_the_morning_on_paper_is_the_pages_and_has_its_times_and_grams(demo, teacher):
    session = two_day_class(demo)
    plan = plan_of(session)
    paper = preparation_list(plan, NOW)
    address = reverse("classes:prepare", args=[session.code])
    page = plain(re.sub(r"<[^>]+>", " ", unescape(teacher.get(address).content.decode())))
    hours, told = plan.hours, text(paper)
    assert paper.morning == morning_of(plan)
    (need,) = class_needs(hours.scheduled, hours.solved.plan)
    for task in ahead_of(hours.scheduled, hours.solved.plan):
        for where in (told, page):
            assert re.search(rf"{hours.moment(task.starts).clock} [^.]*{task.title}", where)
    by = f"by {hours.moment(need.weighed_at).clock}"
    (poolish,) = (part for part in plan.amounts.recipes[0].amounts.pooled.components[:1])
    lines = ", ".join(f"{line.weighed.grams} g {line.name}" for line in poolish.lines)
    for where in (told, page):
        assert re.search(rf"{by} (Label )?Label the tubs", where)
        assert re.search(rf"{by} (Weigh )?Weigh Two-day rye batard", where)
        assert f"Poolish, Two-day rye batard, revision 1: {lines}" in where


def test_a_kitchen_in_new_york_has_its_clock_scale_and_ounces(demo):
    demo.kitchen.guidance, demo.kitchen.ounces = "us", True
    demo.kitchen.time_zone = "America/New_York"
    demo.kitchen.save()
    for by in ListBy:
        told = text(preparation_list(plan_of(demo), NOW, by))
        assert re.search(r"by 5:10 am (Label )?Label the tubs", told)
        assert "450 °F (230 °C)" in told
        assert re.search(r"259 9\.14 oz", told)
