"""The oven map: every piece has its place, once, in the load and at the time of the plan."""

import io
import re
import subprocess
from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest
from django.db import transaction
from PIL import Image

from classes.management.commands.load_demo import load_demo
from classes.selectors import class_plan
from handouts.kind import Material, NotPrinted
from handouts.kinds.oven_map import KIND, _cuts, oven_map
from handouts.oven_places import PlaceShare, drawn, row_lengths
from handouts.press.render import PageSize, to_html, to_pdf
from handouts.run_sheet.course import NoPlan
from tests.handouts.conftest import NOW, another_class, plan_of, planned
from tests.handouts.pdfs import MM, WORD, page_texts, plain, sized_words


def sheets_of(session):
    session = planned(session)
    return oven_map(plan_of(session), class_plan(session).hours, NOW)


def loads_of(session):
    return [load for paper in sheets_of(session) for load in paper.loads]


def markup_of(session):
    return "".join(map(to_html, sheets_of(session)))


def day_class(demo, *titles, hours=7, **fields):
    begins = datetime(2030, 5, 4, 9, tzinfo=UTC)
    ends = begins + timedelta(hours=hours)
    return another_class(demo, *titles, starts_at=begins, ends_at=ends, **fields)


def test_the_demo_fills_its_ovens_as_the_plan_says(demo):
    found = [(one.oven, one.into, one.shut, one.out, one.bake_min) for one in loads_of(demo)]
    assert found == [(oven, "13:10", "13:15", "13:40", 25) for oven in ("O1", "O2", "O3")]


def test_everybody_of_the_demo_has_one_place(demo):
    whose = Counter(place.whose for load in loads_of(demo) for place in load.places)
    assert whose.pop("") == 2
    names = {one.name for one in demo.enrollments.all()} | {"Instructor"}
    assert whose == dict.fromkeys(names, 1)


def test_a_place_says_whose_and_from_where(demo):
    first = loads_of(demo)[0].places[0]
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
    hours, loads = class_plan(session).hours, loads_of(session)
    filled = Counter()
    for load in loads:
        filled[load.oven, load.into] += sum(1 for place in load.places if place.whose)
    ovens = {oven.key: oven.name for oven in hours.scheduled.work.ovens}
    label = {
        (ovens[one.oven], f"{hours.at(one.start):%H:%M}"): one for one in hours.solved.plan.loads
    }
    assert filled == {at: load.filled for at, load in label.items()}
    if each:
        pieces = [
            int(place.what.split(", ")[-1].split()[0])
            for load in loads
            for place in load.places
            if place.whose
        ]
        assert sum(pieces) == (students + 1) * each


@pytest.mark.parametrize(
    ("names", "whose"),
    [
        (("Ann", "Bo"), "Ann and Bo"),
        (("Ann Fennimore", "Bo Fennimore"), "Ann Fennimore and Bo Fennimore"),
    ],
)
def test_pieces_that_share_a_place_name_both(demo, names, whose):
    session = day_class(demo, "Seeded ring", students=4)
    session.taught.update(pieces_a_place=2)
    for student, name in zip(session.enrollments.all()[:2], names, strict=True):
        session.enrollments.filter(pk=student.pk).update(name=name)
    places = [place for load in loads_of(session) for place in load.places]
    (shared,) = (place for place in places if place.what.endswith("2 rings"))
    assert shared.whose == whose


@pytest.mark.parametrize(
    ("name", "lines", "size"),
    [
        ("Bo", ("Bo",), "22"),
        ("Ada Fennimore", ("Ada", "Fennimore"), "22"),
        ("Ada Wilhelmina Fennimore-Ashgrove", ("Ada Wilhelmina", "Fennimore-Ashgrove"), "14"),
        ("Ada " + "W" * 60, None, "9"),
    ],
)
def test_a_name_is_whole_in_two_lines_before_it_is_cut(name, lines, size):
    (place,) = (one for row in drawn([PlaceShare("B", (name,), "1")], [3]).rows for one in row[:1])
    assert place.name_pt == size
    assert place.lines == lines or (lines is None and place.lines[-1].endswith("…"))


def test_an_oven_with_a_fan_is_set_lower(demo):
    fans = {load.oven: (load.temperature_c, load.fan_c) for load in loads_of(demo)}
    assert fans == {
        "O1": (Decimal(230), None),
        "O2": (Decimal(230), Decimal(210)),
        "O3": (Decimal(230), None),
    }
    told = plain(markup_of(demo).replace("\u00a0", " "))
    assert "Set 210 °C (400 °F) with the fan, 230 °C (450 °F) without" in told
    assert "Set 230 °C (450 °F)" in told


@pytest.mark.parametrize(
    ("slots", "across", "rows"),
    [
        (1, None, (1,)),
        (2, None, (2,)),
        (3, None, (3,)),
        (4, None, (2, 2)),
        (6, None, (3, 3)),
        (8, None, (4, 4)),
        (12, None, (4, 4, 4)),
        (24, None, (6, 6, 6, 6)),
        (6, 2, (2, 2, 2)),
        (5, 3, (3, 2)),
        (2, 12, (2,)),
    ],
)
def test_places_are_in_the_rows_of_the_kitchen_or_twice_as_wide_as_deep(slots, across, rows):
    assert row_lengths(slots, across) == rows


def test_the_kitchens_own_rows_are_drawn(demo):
    demo.kitchen.ovens.filter(name="O1").update(across=2)
    first = loads_of(demo)[0]
    assert [len(row) for row in first.map.rows] == [2, 2, 2]


@pytest.fixture(scope="module")
def one_sheet(django_db_setup, django_db_blocker):
    with django_db_blocker.unblock(), transaction.atomic():
        sheet = sheets_of(load_demo(now=NOW))[0]
        transaction.set_rollback(True)
    return sheet


@pytest.mark.parametrize("page_size", PageSize)
@pytest.mark.parametrize(("across", "deep"), [(2, 1), (2, 2), (3, 2), (4, 3)])
def test_no_part_of_the_oven_stays_blank(db, one_sheet, across, deep, page_size):
    """The lines of the print, read along the last row: places of one width, edge to edge."""
    shares = [PlaceShare("B", (f"N{n}",), "1") for n in range(across * deep)]
    places = drawn(shares, row_lengths(across * deep, across))
    load = replace(one_sheet.loads[0], map=places)
    pdf = to_pdf([replace(one_sheet, loads=(load,))], page_size)
    done = subprocess.run(
        ["pdftoppm", "-r", "254", "-gray", "-f", "1", "-l", "1", "-"],
        input=pdf, capture_output=True, check=True,
    )  # fmt: skip
    page = Image.open(io.BytesIO(done.stdout))
    lowest = max(top for _, top, _, _ in words_mm_of(pdf, f"N{across * deep - 1}"))
    row = page.crop((0, int(lowest * 10) - 8, page.width, int(lowest * 10) - 7)).tobytes()
    lines = [n for n, dot in enumerate(row) if dot < 128 and (n == 0 or row[n - 1] >= 128)]
    assert len(lines) == across + 1
    widths = [after - before for before, after in pairwise(lines)]
    assert max(widths) - min(widths) <= 8
    left, right = ((page.width - 1740) // 2, (page.width + 1740) // 2)
    assert abs(lines[0] - left) <= 5
    assert abs(lines[-1] - right) <= 12


def words_mm_of(pdf, wanted):
    done = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    )
    for *box, word in WORD.findall(done.stdout.decode()):
        if word == wanted:
            yield tuple(float(edge) / MM for edge in box)


def test_the_places_of_a_large_oven_are_listed_by_station(demo):
    demo.kitchen.ovens.filter(name__in=("O2", "O3")).delete()
    demo.kitchen.ovens.update(slots=40)
    (load,) = loads_of(demo)
    assert [(place.numbers, place.whose, place.what) for place in load.places] == [
        ("1", "Instructor", "1 loaf each"),
        ("2–5", "Bench 1", "1 loaf each"),
        ("6–9", "Bench 2", "1 loaf each"),
        ("10–13", "Bench 3", "1 loaf each"),
        ("14–40", "", ""),
    ]
    page = page_texts(to_pdf(sheets_of(demo), PageSize.A4))[0]
    assert "10–13 Bench 3 1 loaf each" in page


@pytest.mark.parametrize("page_size", PageSize)
def test_the_demo_has_one_page_an_oven_with_its_map_and_its_signs(silent, demo, page_size):
    pdf = to_pdf(sheets_of(demo), page_size)
    pages = page_texts(pdf)
    assert len(pages) == 3
    for page, oven in zip(pages, ("O1", "O2", "O3"), strict=True):
        for words in (f"Oven {oven}", "In 13:15, out 13:40", "door", "DOUGH", "HOT", "Out by"):
            assert words in page
        assert page.count(f"Oven {oven}") == 3
    assert "Lena" in pages[2]
    assert min(size_pt for word, size_pt in sized_words(pdf) if word != "OFF") >= 8


def variant_class(demo, who):
    session = day_class(demo, "Seeded ring", students=8)
    variant = session.taught.get().revision.variants.create(name="No sesame")
    for student in [session.enrollments.all()[n] for n in who]:
        student.variants.add(variant)
    return session


def test_pieces_of_a_variant_lie_apart_and_are_marked_without_its_name(demo):
    session = variant_class(demo, [0])
    at_bench = [
        place for load in loads_of(session) for place in load.places if "Bench 1" in place.what
    ]
    assert [place.is_variant for place in at_bench] == [False] * (len(at_bench) - 1) + [True]
    assert at_bench[-1].whose == session.enrollments.all()[0].name
    told = "".join(html.partition("<body>")[2] for html in map(to_html, sheets_of(session)))
    assert told.count('<b class="variant">Variant</b>') == 1
    assert "No sesame" not in re.sub(r'<p class="head">.*?</p>', "", told, flags=re.S)


@pytest.mark.parametrize(
    ("pieces", "a_place", "usual", "cuts"),
    [
        (4, 1, 3, [(0, 1), (1, 2), (2, 3), (3, 4)]),
        (6, 2, 4, [(0, 2), (2, 4), (4, 6)]),
        (5, 2, 3, [(0, 2), (2, 3), (3, 5)]),
        (4, 2, 3, [(0, 2), (2, 4)]),
        (4, 2, 4, [(0, 2), (2, 4)]),
        (4, 2, 0, [(0, 2), (2, 4)]),
    ],
)
def test_a_variant_begins_a_place_unless_that_takes_one_more_than_the_plan_has(
    pieces, a_place, usual, cuts
):
    assert list(_cuts(pieces, a_place, usual)) == cuts


def test_a_class_that_bakes_nothing_says_so(demo):
    session = day_class(demo, "Hearth loaf", students=2)
    session.taught.get().revision.steps.filter(kind="bake").delete()
    assert loads_of(session) == []
    with pytest.raises(NotPrinted) as problem:
        KIND.leaves(Material(class_plan(planned(session)), NOW))
    assert problem.value.heading == "Nothing is baked"


def test_hours_without_a_plan_have_no_map(demo):
    session = planned(demo)
    hours = replace(class_plan(session).hours, solved=None)
    with pytest.raises(NoPlan):
        oven_map(plan_of(session), hours, NOW)


def test_without_a_plan_the_signs_are_printed_and_why_there_is_no_map(demo):
    missing = NotPrinted(409, "No plan of the hours was found", "Lengthen the class.")

    class Without(Material):
        @property
        def hours(self):
            raise missing

    leaves = KIND.leaves(Without(plan_of(demo), NOW))
    assert [leaf.label for leaf in leaves] == ["O1", "O2", "O3"]
    told = plain(to_html(leaves[0].paper))
    assert "No plan of the hours was found. Lengthen the class." in told
    assert "Dough inside" in told


def test_a_kitchen_without_an_oven_is_told_what_to_do(demo):
    demo.kitchen.ovens.all().delete()
    with pytest.raises(NotPrinted) as problem:
        KIND.leaves(Material(plan_of(planned(demo)), NOW))
    assert "Enter its ovens first" in problem.value.advice
