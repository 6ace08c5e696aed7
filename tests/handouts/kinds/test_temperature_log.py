"""The temperature log: what to expect comes from kitchen, recipe and plan; the rest is blank."""

from dataclasses import replace
from decimal import Decimal

import pytest

from classes.selectors import class_plan
from handouts.kinds.temperature_log import temperature_log
from handouts.press.render import PageSize, to_html, to_pdf
from handouts.safety.values import Hazard
from tests.handouts.conftest import NOW, another_class, plan_of, planned
from tests.handouts.pdfs import page_texts, plain


def log_of(session, *, with_hours=True):
    session = planned(session)
    hours = class_plan(session).hours if with_hours else None
    (paper,) = temperature_log(plan_of(session), hours, NOW)
    return paper


def rows(paper, heading):
    return next((part.rows for part in paper.parts if part.heading == heading), ())


def expected(paper, heading):
    return {row.what: row.expected_c for row in rows(paper, heading)}


def test_room_flour_and_water_are_those_of_the_kitchen(demo):
    told = expected(log_of(demo), "Before the dough")
    assert told["Room"] == 21
    assert told["Flour"] == 20
    assert told["Tap water"] == 14
    assert told["Water as poured, Hearth loaf"] is None


def test_the_thermometer_is_tried_in_ice_water(demo):
    assert rows(log_of(demo), "Before the dough")[0].expected_c == 0


def test_every_station_measures_its_dough_when_it_is_mixed(demo):
    found = [
        (row.what, row.clock, row.expected_c) for row in rows(log_of(demo), "Dough after mixing")
    ]
    assert found == [
        ("Instructor, Hearth loaf", "10:55", Decimal(25)),
        ("Bench 1, Hearth loaf", "10:55", Decimal(25)),
        ("Bench 2, Hearth loaf", "10:55", Decimal(25)),
        ("Bench 3, Hearth loaf", "10:55", Decimal(25)),
    ]


def test_the_cabinet_is_measured_when_dough_goes_in(demo):
    found = [(row.clock, row.expected_c) for row in rows(log_of(demo), "Where dough rises")]
    assert found == [("10:55", 25), ("11:37", 25), ("12:30", 26)]


def test_the_middle_of_every_load_is_measured_when_it_comes_out(demo):
    found = [
        (row.what, row.clock, row.expected_c, row.bound)
        for row in rows(log_of(demo), "Middle of the bread")
    ]
    assert [
        (what.partition(":")[0], clock, core_c, bound) for what, clock, core_c, bound in found
    ] == [(oven, "13:40", Decimal(96), "at least") for oven in ("O1", "O2", "O3")]
    assert found[1][0] == "O2: Hearth loaf, Bench 2"


def test_a_recipe_without_a_core_temperature_has_the_range_of_its_kind(demo):
    revision = demo.taught.get().revision
    revision.core_temperature_c = None
    revision.save()
    row = rows(log_of(demo), "Middle of the bread")[0]
    assert (row.expected_c.quantize(Decimal(1)), row.most_c.quantize(Decimal(1))) == (93, 99)
    assert "93.3 °C (200 °F) to 98.9 °C (210 °F)" in plain(
        to_html(log_of(demo)).replace("\u00a0", " ")
    )


def test_a_recipe_of_no_kind_leaves_the_core_blank(demo):
    revision = demo.taught.get().revision
    revision.core_temperature_c, revision.bread_kind = None, ""
    revision.save()
    assert {row.expected_c for row in rows(log_of(demo), "Middle of the bread")} == {None}


def test_high_up_no_more_is_expected_than_water_boils_at(demo):
    demo.kitchen.altitude_m = 3000
    demo.kitchen.save()
    assert rows(log_of(demo), "Middle of the bread")[0].expected_c < 90


@pytest.mark.parametrize("degrees", [None, "24"])
def test_a_dough_is_expected_as_its_recipe_says(demo, degrees):
    revision = demo.taught.get().revision
    revision.dough_temperature_c = degrees and Decimal(degrees)
    revision.save()
    wanted = {degrees and Decimal(degrees)}
    assert set(expected(log_of(demo), "Dough after mixing").values()) == wanted


def test_cold_things_are_measured_and_so_is_the_refrigerator(demo):
    cold = rows(log_of(another_class(demo, "Pillow rolls", students=4)), "Before the dough")
    told = {row.what: (row.bound, row.expected_c) for row in cold if row.bound}
    assert told == dict.fromkeys(
        (
            "Refrigerator, before the class",
            "Refrigerator, in the middle",
            "Refrigerator, at the end",
            "Butter, unsalted, when taken out",
            "Egg yolk, when taken out",
            "Egg, whole, when taken out",
            "Whole milk, when taken out",
        ),
        ("at most", Decimal(5)),
    )


def test_how_cold_food_is_kept_is_said_even_if_the_class_has_none(demo):
    paper = log_of(demo)
    assert Hazard.CHILLED not in paper.head.hazards
    (cold,) = (one for one in paper.foot.cautions if one.key == "chilled")
    assert cold.brief in " ".join(page_texts(to_pdf([paper], PageSize.A4)))


def test_a_load_of_two_recipes_has_a_row_for_each(demo):
    session = another_class(demo, "Hearth loaf", "Pillow rolls", students=3)
    paper = log_of(session)
    hours = class_plan(planned(session)).hours
    kinds = [
        len({hours.scheduled.notes[key].recipe for key, _ in load.pieces})
        for load in hours.solved.plan.loads
    ]
    assert len(rows(paper, "Middle of the bread")) == sum(kinds)


@pytest.mark.parametrize("hours", ["none", "unsolved"])
def test_without_a_plan_the_times_are_written_in(demo, hours):
    session = planned(demo)
    given = replace(class_plan(session).hours, solved=None) if hours == "unsolved" else None
    (paper,) = temperature_log(plan_of(session), given, NOW)
    assert not paper.is_planned
    assert "The hours have no plan yet: write in when." in to_html(paper)
    assert {row.clock for part in paper.parts for row in part.rows} == {""}
    assert [part.heading for part in paper.parts] == [
        "Before the dough",
        "Dough after mixing",
        "Middle of the bread",
    ]
    assert [row.expected_c for row in rows(paper, "Middle of the bread")] == [96]


def test_what_is_measured_is_left_blank(demo):
    html = to_html(log_of(demo))
    measured = sum(len(part.rows) for part in log_of(demo).parts)
    assert html.count("<td></td><td></td><td></td></tr>") == measured + 2


def test_a_two_day_class_is_logged_like_any_other(demo):
    paper = log_of(another_class(demo, "Two-day rye batard", students=9, demonstration_batches=0))
    assert [row.what for row in rows(paper, "Dough after mixing")] == [
        "Bench 1, Two-day rye batard",
        "Bench 2, Two-day rye batard",
        "Bench 3, Two-day rye batard",
    ]
