"""How long a recipe rises in a kitchen, the chart of it, and what a height does."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from decimal import Decimal

import pytest
from django.template.loader import render_to_string

from classes.dough.shown import CHART_BOX
from classes.templatetags.planning import DASHES, dash
from handouts.press.render import PageSize, print_html
from recipes.core.heat.altitude import Advice
from recipes.core.rise.chart import Curve, rise_chart
from tests.factories import KitchenFactory, RevisionFactory
from tests.handouts.pdfs import page_texts
from wording.durations import whole_minutes
from wording.heat import change, difference

PAGE = "/recipes/bread/rise/"
SVG = "{http://www.w3.org/2000/svg}"
STEPS = (
    {"kind": "bulk", "hands_on_min": 5, "waiting_min": 75, "temperature_c": 25},
    {"kind": "divide", "hands_on_min": 15},
    {"kind": "proof", "waiting_min": 40, "temperature_c": 26},
)


def words(response) -> str:
    """What the page says, without markup, on one line."""
    text = re.sub(r"<[^>]+>", " ", response.content.decode())
    return re.sub(r"\s+", " ", text.replace("\N{NO-BREAK SPACE}", " "))


@pytest.fixture
def bread(instructor):
    return RevisionFactory(
        recipe__owner=instructor,
        recipe__slug="bread",
        title="Plain bread",
        dough_temperature_c=25,
        core_temperature_c=96,
        steps=STEPS,
    )


@pytest.fixture
def ask(instructor_client, bread, instructor):
    KitchenFactory(owner=instructor, room_c=18, altitude_m=0)

    def get(**asked):
        return instructor_client.get(PAGE, asked)

    return get


def drawing(response) -> ET.Element:
    found = re.search(r"<svg.*?</svg>", response.content.decode(), re.DOTALL)
    return ET.fromstring(found[0])  # noqa: S314  (our own page)


def test_the_page_starts_from_the_recipes_steps_and_the_kitchen(ask):
    shown = ask().content.decode()
    usual = {"bulk_min": 80, "bulk_c": 25, "proof_min": 40, "proof_c": 26, "between_min": 15}
    usual |= {"dough_c": 25, "room_c": 18, "bench_tau": 180, "cabinet_tau": 60, "every_c": "9.4"}
    for name, value in usual.items():
        assert re.search(rf'name="{name}" value="{value}"', shown), name


def test_80_minutes_at_25_are_134_at_18_as_in_the_demo(ask):
    assert "written 1 h 20 min at 25 °C (not stated of what) 2 h 14 min" in words(ask(dough_c="18"))


def test_a_step_without_temperature_is_as_warm_as_the_dough(instructor_client, instructor):
    steps = [{"kind": "bulk", "waiting_min": 60}, {"kind": "bulk", "waiting_min": 30}]
    bread = RevisionFactory(recipe__owner=instructor, dough_temperature_c=27, steps=steps)
    said = words(instructor_client.get(f"/recipes/{bread.recipe.slug}/rise/"))
    assert "written 1 h 30 min at 27 °C" in said
    assert "Proof, written" not in said


def test_every_rule_gives_its_own_time_with_its_range(ask):
    said = words(ask(dough_c="18"))
    assert "Doubling rule good from 15 °C to 32 °C ◼ chosen 2 h 14 min" in said
    assert "Ten percent a degree good from 15 °C to 32 °C 2 h 36 min" in said
    assert "Cardinal temperature model good from 15 °C to 32 °C 2 h 14 min" in said


def test_the_step_of_the_doubling_rule_can_be_set(ask):
    # 80 x 2^(7/7)
    assert "2 h 40 min" in words(ask(dough_c="18", every_c="7"))


@pytest.mark.parametrize("rule", ["doubling", "percent-a-degree", "cardinal"])
def test_outside_its_range_a_rule_warns(ask, rule):
    assert "Outside its range." in words(ask(rule=rule, dough_c="12", room_c="12"))
    assert "Outside its range." not in words(ask(rule=rule))


def test_a_warm_cabinet_is_faster_than_the_bench_and_a_refrigerator_slower(ask):
    said = words(ask())
    found = [
        re.search(rf"{place}, \d+ °C .*?(\d+) h (\d+) min", said)
        for place in ("Warm cabinet", "Bench", "Refrigerator")
    ]
    minutes = [int(hours) * 60 + int(rest) for hours, rest in (one.groups() for one in found)]
    assert minutes == sorted(set(minutes))


def test_where_nothing_grows_it_says_never(ask):
    said = words(ask(place="refrigerator", refrigerator_c="0", refrigerator_tau="1", dough_c="2"))
    assert "never" in said


def test_a_recipe_too_hot_to_rise_is_refused_in_words(ask):
    said = words(ask(bulk_c="50"))
    assert "Refused: by the doubling rule nothing grows at 50 °C" in said


def test_without_any_time_it_asks_for_one(instructor_client, instructor):
    bread = RevisionFactory(recipe__owner=instructor)
    said = words(instructor_client.get(f"/recipes/{bread.recipe.slug}/rise/"))
    assert "Enter how long the dough rises" in said


@pytest.mark.parametrize(
    "asked",
    [
        {"dough_c": "hot"},
        {"dough_c": "90"},
        {"bulk_min": "soon"},
        {"bench_tau": "0"},
        {"every_c": "0"},
        {"altitude_m": "9000"},
        {"place": "attic"},
        {"rule": "guess"},
    ],
)
def test_nonsense_gets_a_message_instead_of_an_answer(ask, asked):
    response = ask(**asked)
    assert response.status_code == 200
    assert "A number needs fixing." in words(response)
    assert "<svg" not in response.content.decode()


class TestChart:
    def test_each_curve_has_its_own_dashes_and_words(self, ask):
        svg = drawing(ask())
        lines = svg.findall(f"{SVG}polyline")
        dashes = [line.get("stroke-dasharray") for line in lines]
        assert len(lines) == len(set(dashes)) == 3
        said = " ".join(svg.itertext())
        for label in ("as written, 25", "bench, 18", "warm cabinet, 28"):
            assert label in said

    def test_it_is_told_to_those_who_do_not_see_it(self, ask):
        svg = drawing(ask())
        named = {child.get("id") for child in svg if child.tag in (f"{SVG}title", f"{SVG}desc")}
        assert set(svg.get("aria-labelledby").split()) == named
        assert "As written" in svg.find(f"{SVG}desc").text

    def test_it_has_no_style_and_no_color_of_its_own(self, ask):
        for element in drawing(ask()).iter():
            assert "style" not in element.attrib
            assert element.get("fill") in (None, "none", "currentColor")
            assert element.get("stroke") in (None, "currentColor")

    def test_all_its_words_stand_inside_the_box(self, ask):
        svg = drawing(ask())
        _, _, width, height = map(Decimal, svg.get("viewBox").split())
        for text in svg.iter(f"{SVG}text"):
            assert 0 < Decimal(text.get("x")) < width
            assert 0 < Decimal(text.get("y")) < height

    def test_a_refrigerator_is_drawn_alone_beside_what_is_written(self, ask):
        said = " ".join(drawing(ask(place="refrigerator")).itertext())
        assert "refrigerator, 4" in said
        assert "warm cabinet" not in said

    def test_a_rise_of_days_shows_hours(self, ask):
        cold = {"rule": "cardinal", "place": "refrigerator", "refrigerator_c": "8"}
        said = " ".join(drawing(ask(**cold, dough_c="8", bulk_min="600")).itertext())
        assert re.search(r" (12|24|36|48|72|96) h", said)
        assert "0:00" not in said

    def test_a_paper_can_hold_it(self):
        curves = [
            Curve(label, ((Decimal(0), Decimal(0)), (Decimal(minutes), Decimal(1))))
            for label, minutes in (("as written", 80), ("bench", 100))
        ]
        context = {"chart": rise_chart(curves, CHART_BOX), "ids": "one", "title": "First rise"}
        markup = render_to_string("classes/_rise_chart.html", context)
        page = f"<html lang=en><title>Rise</title><body>{markup}</body></html>"
        (said,) = page_texts(print_html([page], "components", PageSize.A4))
        assert "as written" in said
        assert "time since mixing" in said


class TestHeight:
    def test_near_the_sea_there_is_nothing_to_change(self, ask):
        said = words(ask())
        assert "Water boils at 100 °C (212 °F)" in said
        assert "Nothing to change at this height." in said
        assert "Capped" not in said

    def test_high_up_the_core_is_capped_and_the_advice_is_ranges_with_a_caution(self, ask):
        said = words(ask(altitude_m="1600"))
        assert "Water boils at 94.6 °C" in said
        assert "cannot reach 96 °C (205 °F) here: aim for about 93.6 °C" in said
        assert "Yeast: 25 to 33 % less" in said
        assert "Speed of the rise: 25 to 50 % more" in said
        assert "Caution. Published figures for heights disagree" in said

    def test_between_two_sources_it_says_that_they_disagree(self, ask):
        assert "Sources disagree whether this height matters yet." in words(ask(altitude_m="1000"))

    def test_the_published_range_of_the_bread_is_cut_too(self, ask, bread):
        bread.bread_kind = "dense whole grain"
        bread.save()
        said = words(ask(altitude_m="1600"))
        assert "none of it can be reached here" in said

    def test_the_height_of_the_kitchen_is_the_first_guess(self, ask, instructor):
        high = KitchenFactory(owner=instructor, altitude_m=2000)
        assert "At 2000 m above sea level" in words(ask(kitchen=high.pk))


def test_an_htmx_change_gets_the_answer_and_the_messages(instructor_client, bread, htmx):
    headers = htmx | {"HX-Target": "answer"}
    shown = instructor_client.get(PAGE, {"dough_c": "hot"}, headers=headers).content.decode()
    assert "<html" not in shown
    assert 'id="rise_dough_c_trouble" class="trouble" data-hx-swap-oob="innerHTML"' in shown


def test_an_htmx_change_of_the_kitchen_gets_the_fields_too(instructor_client, bread, htmx):
    headers = htmx | {"HX-Target": "bench"}
    shown = instructor_client.get(PAGE, headers=headers).content.decode()
    assert "<html" not in shown
    assert 'name="room_c"' in shown


def test_without_a_kitchen_there_are_plain_figures_and_a_way_to_add_one(instructor_client, bread):
    said = instructor_client.get(PAGE).content.decode()
    assert "plain starting figures, not yours" in said
    assert 'name="room_c" value="21"' in said


def test_somebody_elses_kitchen_is_not_found(ask):
    assert ask(kitchen=KitchenFactory().pk).status_code == 404


def test_somebody_elses_recipe_is_not_found(other_client, bread):
    assert other_client.get(PAGE).status_code == 404


def test_only_reading_is_allowed(instructor_client, bread):
    assert instructor_client.post(PAGE).status_code == 405


def test_the_page_takes_the_same_queries_for_any_number_of_steps(
    instructor_client, instructor, django_assert_max_num_queries
):
    counts = []
    for times in (1, 6):
        bread = RevisionFactory(recipe__owner=instructor, steps=STEPS * times)
        with django_assert_max_num_queries(12) as seen:
            instructor_client.get(f"/recipes/{bread.recipe.slug}/rise/")
        counts.append(len(seen))
    assert counts[0] == counts[1]


@pytest.mark.parametrize(
    ("made", "shown"),
    [
        (whole_minutes(Decimal("134.04")), "2 h 14 min"),
        (whole_minutes(Decimal("59.5")), "1 h"),
        (difference(Decimal(11)), "11 °C (20 °F)"),
        (difference(Decimal("-1.25")), "−1.3 °C (−2 °F)"),
        (change(Advice("yeast", Decimal(-33), Decimal(-25), "")), "25 to 33 % less"),
        (change(Advice("speed", Decimal(25), Decimal(50), "")), "25 to 50 % more"),
    ],
)
def test_figures_are_worded(made, shown):
    assert made.replace("\N{NO-BREAK SPACE}", " ") == shown


def test_there_are_four_patterns_before_one_comes_again():
    assert [dash(n) for n in range(5)] == [*DASHES, DASHES[0]]
