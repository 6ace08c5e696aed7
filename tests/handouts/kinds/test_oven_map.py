"""The oven map: every piece has its place, once, in the load and at the time of the plan."""

from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from classes.selectors import class_plan
from handouts.kind import Material, NotPrinted
from handouts.kinds.oven_map import KIND, oven_map
from handouts.press.render import PageSize, to_html, to_pdf
from handouts.run_sheet.course import NoPlan
from tests.handouts.conftest import NOW, another_class, plan_of, planned
from tests.handouts.pdfs import page_texts, plain


def map_of(session):
    session = planned(session)
    (paper,) = oven_map(plan_of(session), class_plan(session).hours, NOW)
    return paper


def day_class(demo, *titles, hours=7, **fields):
    begins = datetime(2030, 5, 4, 9, tzinfo=UTC)
    ends = begins + timedelta(hours=hours)
    return another_class(demo, *titles, starts_at=begins, ends_at=ends, **fields)


def test_the_demo_fills_its_ovens_as_the_plan_says(demo):
    found = [(load.oven, load.into, load.out, load.number, load.of) for load in map_of(demo).loads]
    assert found == [
        ("O1", "13:10", "13:40", 1, 1),
        ("O2", "13:10", "13:40", 1, 1),
        ("O3", "13:10", "13:40", 1, 1),
    ]


def test_everybody_of_the_demo_has_one_place(demo):
    whose = Counter(place.whose for load in map_of(demo).loads for place in load.places)
    assert whose.pop("") == 2
    names = {one.name for one in demo.enrollments.all()} | {"Instructor"}
    assert whose == dict.fromkeys(names, 1)


def test_a_place_says_whose_and_from_where(demo):
    first = map_of(demo).loads[0].places[0]
    assert (first.numbers, first.whose, first.what) == ("1", "Ada Fennimore", "Bench 1, 1 loaf")


@pytest.mark.parametrize(
    ("titles", "students", "each"),
    [
        (["Pillow rolls"], 9, 6),
        (["Seeded ring"], 14, 1),
        (["Pillow rolls", "Seeded ring"], 8, None),
    ],
)
def test_every_load_holds_as_many_places_as_the_plan_fills(demo, titles, students, each):
    session = planned(day_class(demo, *titles, students=students))
    hours = class_plan(session).hours
    (paper,) = oven_map(plan_of(session), hours, NOW)
    filled = Counter()
    for load in paper.loads:
        filled[load.oven, load.into] += sum(1 for place in load.places if place.whose)
    ovens = {oven.key: oven.name for oven in hours.scheduled.work.ovens}
    label = {
        (ovens[one.oven], f"{hours.at(one.start):%H:%M}"): one for one in hours.solved.plan.loads
    }
    assert filled == {at: load.filled for at, load in label.items()}
    if each:
        pieces = [
            int(place.what.split(", ")[-1].split()[0])
            for load in paper.loads
            for place in load.places
            if place.whose
        ]
        assert sum(pieces) == (students + 1) * each


@pytest.mark.parametrize(
    ("names", "whose"),
    [(("Ann", "Bo"), "Ann and Bo"), (("Ann Fennimore", "Bo Fennimore"), "Bench 1")],
)
def test_pieces_that_share_a_place_name_both_or_the_station(demo, names, whose):
    session = day_class(demo, "Seeded ring", students=4)
    session.taught.update(pieces_a_place=2)
    for student, name in zip(session.enrollments.all()[:2], names, strict=True):
        session.enrollments.filter(pk=student.pk).update(name=name)
    places = [place for load in map_of(session).loads for place in load.places]
    (shared,) = (place for place in places if place.what.endswith("2 rings"))
    assert shared.whose == whose


def test_a_long_name_gives_way_to_the_station(demo):
    demo.enrollments.filter(name="Ada Fennimore").update(name="Ada Wilhelmina Fennimore-Ashgrove")
    first = map_of(demo).loads[0].places[0]
    assert (first.whose, first.what) == ("Bench 1", "1 loaf")


def test_an_oven_with_a_fan_is_set_lower(demo):
    fans = {load.oven: (load.temperature_c, load.fan_c) for load in map_of(demo).loads}
    assert fans == {
        "O1": (Decimal(230), None),
        "O2": (Decimal(230), Decimal(210)),
        "O3": (Decimal(230), None),
    }
    told = plain(to_html(map_of(demo)).replace("\u00a0", " "))
    assert "Set 210 °C (400 °F) with the fan, 230 °C (450 °F) without" in told
    assert "Set 230 °C (450 °F)" in told


@pytest.mark.parametrize(
    ("slots", "columns"),
    [(1, 1), (2, 2), (3, 3), (4, 2), (6, 3), (8, 4), (12, 4), (24, 6), (25, 0)],
)
def test_an_oven_is_drawn_about_twice_as_wide_as_deep(demo, slots, columns):
    demo.kitchen.ovens.filter(name__in=("O2", "O3")).delete()
    demo.kitchen.ovens.update(slots=slots)
    session = day_class(demo, "Seeded ring", students=1, hours=9)
    assert map_of(session).loads[0].columns == columns


def test_the_places_of_a_large_oven_are_listed_by_station(demo):
    demo.kitchen.ovens.filter(name__in=("O2", "O3")).delete()
    demo.kitchen.ovens.update(slots=40)
    (load,) = map_of(demo).loads
    assert [(place.numbers, place.whose, place.what) for place in load.places] == [
        ("1", "Instructor", "1 loaf each"),
        ("2–5", "Bench 1", "1 loaf each"),
        ("6–9", "Bench 2", "1 loaf each"),
        ("10–13", "Bench 3", "1 loaf each"),
        ("14–40", "", ""),
    ]
    (page,) = page_texts(to_pdf([map_of(demo)], PageSize.A4))
    assert "10–13 Bench 3 1 loaf each" in page


def test_the_map_of_the_demo_is_one_page_with_every_oven(demo):
    (page,) = page_texts(to_pdf([map_of(demo)], PageSize.A4))
    for words in (
        "O1: in 13:10, out 13:40",
        "O2: in 13:10",
        "O3: in 13:10",
        "Lena Orchard",
        "door",
    ):
        assert words in page


def test_a_variant_is_not_told_from_the_others(demo):
    session = day_class(demo, "Seeded ring", students=4)
    variant = session.taught.get().revision.variants.create(name="No sesame")
    session.enrollments.first().variants.add(variant)
    assert "No sesame" not in to_html(map_of(session)).partition("<body>")[2].partition("</h1>")[2]


def test_a_class_that_bakes_nothing_says_so(demo):
    session = day_class(demo, "Hearth loaf", students=2)
    session.taught.get().revision.steps.filter(kind="bake").delete()
    assert map_of(session).loads == ()
    with pytest.raises(NotPrinted) as problem:
        KIND.leaves(Material(class_plan(planned(session)), NOW))
    assert problem.value.heading == "Nothing is baked"


def test_hours_without_a_plan_have_no_map(demo):
    session = planned(demo)
    hours = replace(class_plan(session).hours, solved=None)
    with pytest.raises(NoPlan):
        oven_map(plan_of(session), hours, NOW)
