"""How long bread is in the oven, and how hot its middle gets, is one figure on every paper."""

import re
from datetime import UTC, datetime

import pytest
from django.urls import reverse

from classes.core.hours.problem.oven_time import in_the_oven
from classes.selectors import class_plan
from handouts.catalog import BY_NAME
from handouts.checking.agreement import text_of
from handouts.kind import Material
from handouts.press.render import to_html
from recipes.core.choices import StepKind
from recipes.core.written import WrittenStep
from recipes.models import Revision
from tests.handouts.conftest import NOW, another_class, planned

DONE = re.compile(r"(?:in the middle|Done:|Done at|at least) (?:at )?([\d.]+) °C")


def step(kind, hands_on_min, waiting_min):
    return WrittenStep(StepKind(kind), "", hands_on_min, waiting_min)


@pytest.mark.parametrize(
    ("steps", "minutes"),
    [
        pytest.param([("score", 2, 0), ("bake", 3, 25)], [0, 25], id="loading is apart"),
        pytest.param([("bake", 3, 20), ("bake", 1, 22)], [20, 23], id="the lid comes off inside"),
        pytest.param([("bake", 30, 0)], [30], id="nothing is told apart"),
        pytest.param([("bake", 2, 10), ("cool", 0, 30), ("bake", 3, 5)], [10, 0, 5], id="twice"),
        pytest.param([("proof", 0, 40), ("cool", 0, 15)], [0, 0], id="nothing is baked"),
    ],
)
def test_minutes_in_the_oven_are_without_those_of_loading(steps, minutes):
    assert list(in_the_oven(step(*one) for one in steps)) == minutes


@pytest.fixture
def high_class(demo):
    """The rye batard, done at 97 °C, in a kitchen at 1,600 m, where water boils at 94.6 °C."""
    demo.kitchen.altitude_m = 1600
    demo.kitchen.save()
    session = another_class(
        demo,
        "Two-day rye batard",
        students=4,
        ends_at=datetime(2030, 5, 4, 17, tzinfo=UTC),
    )
    for student in session.enrollments.all():
        student.home = {"altitude_m": 1600}
        student.save()
    return session


def texts(session):
    material = Material(class_plan(planned(session)), NOW)
    kinds = ("handouts", "at-home", "run-sheet-instructor", "oven-map", "temperature-log")
    told = {name: text_of(to_html(BY_NAME[name].leaves(material)[0].paper)) for name in kinds}
    sheets = BY_NAME["oven-map"].leaves(material)
    return told | {"oven-map": " ".join(text_of(to_html(leaf.paper)) for leaf in sheets)}


def test_every_paper_has_the_same_minutes_in_the_oven_and_loading_apart(high_class, teacher):
    told = texts(high_class)
    assert "load 3 min, bake 32 min, oven at 235 °C" in told["handouts"]
    assert "about 32 min in the oven" in told["at-home"]
    for kind in ("run-sheet-instructor", "oven-map"):
        assert "32 min in the oven, after 5 min of scoring and loading" in told[kind]
    page = teacher.get(reverse("classes:hours", args=[high_class.code])).content.decode()
    assert "32 min in the oven, after 5 min of scoring and loading" in text_of(page)
    for kind in ("handouts", "at-home", "oven-map"):
        assert not re.search(r"\b3[57] min\b", told[kind]), kind


def test_a_bake_at_two_temperatures_says_when_the_oven_is_turned(demo, teacher):
    ends_at = datetime(2030, 5, 4, 17, tzinfo=UTC)
    session = another_class(demo, "Two-day rye batard", students=2, ends_at=ends_at)
    steps = Revision.objects.get(title="Two-day rye batard").steps
    cool = steps.get(kind="cool")
    steps.filter(kind="bake").update(waiting_min=12, temperature_c=250)
    steps.filter(pk=cool.pk).update(position=cool.position + 1)
    steps.create(
        position=cool.position, kind="bake", text="On.", waiting_min=20, temperature_c=230,
        temperature_of="oven",
    )  # fmt: skip
    told = texts(session)
    stages = "32 min in the oven, 12 min at 250 °C (475 °F), then 20 min at 230 °C (450 °F)"
    assert "bake 12 min, oven at 250 °C" in told["handouts"]
    assert "bake 20 min, oven at 230 °C" in told["handouts"]
    for kind in ("run-sheet-instructor", "oven-map"):
        assert stages in told[kind], kind
    outs = set(re.findall(r"out (\d\d:\d\d)", told["oven-map"]))
    turned = {f"{(minute_of(out) - 20) // 60:02}:{(minute_of(out) - 20) % 60:02}" for out in outs}
    assert set(re.findall(r"at (\d\d:\d\d) 230 °C", told["oven-map"])) == turned
    row = rf"(?:{'|'.join(turned)}).{{0,60}}Turn .{{1,30}} down"
    assert re.search(row, told["run-sheet-instructor"])
    page = teacher.get(reverse("classes:hours", args=[session.code])).content.decode()
    assert stages in text_of(page)


def minute_of(clock):
    return int(clock[:2]) * 60 + int(clock[3:])


def test_no_paper_asks_for_a_middle_hotter_than_boiling_water(high_class):
    told = texts(high_class)
    assert told["handouts"].count("water boils at 94.6 °C") == 1
    for kind in ("handouts", "at-home", "run-sheet-instructor", "temperature-log"):
        assert set(DONE.findall(told[kind])) == {"93.6"}, kind


def test_at_home_the_middle_is_set_against_that_of_the_class(high_class):
    student = high_class.enrollments.first()
    student.home = {"altitude_m": 0}
    student.save()
    text = texts(high_class)["at-home"]
    assert "Done at 97 °C (207 °F) in the middle instead of 93.6 °C (201 °F)." in text
    assert "At the height of the class water boils at 94.6 °C" in text


def test_a_recipe_without_its_own_has_the_range_of_such_bread_everywhere(high_class):
    revision = high_class.taught.get().revision
    type(revision).objects.filter(pk=revision.pk).update(core_temperature_c=None)
    told = texts(high_class)
    for kind in ("handouts", "run-sheet-instructor", "temperature-log"):
        assert "93.3 °C (200 °F) to 93.6 °C (201 °F)" in told[kind], kind
