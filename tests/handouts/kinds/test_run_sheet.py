"""The run sheet: the plan's own times, two editions, nothing private, and clear refusals."""

from __future__ import annotations

import re
import subprocess
from dataclasses import fields, replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from django.db import transaction

from classes.core.hours.checking.verdict import verdict_of
from classes.core.hours.greedy.keeping import fingerprint, to_document
from classes.core.hours.problem.work import Plan, Slot, Solved
from classes.core.regions import Region
from classes.demo import STUDENTS
from classes.management.commands.load_demo import load_demo
from classes.models import KeptPlan
from classes.selectors import class_plan
from handouts.kinds.run_sheet import Edition, NoPlan, run_sheet_of
from handouts.press.render import PageSize, to_html, to_pdf
from handouts.safety.cautions import DEFERRAL, cautions_for
from handouts.safety.values import Hazard
from recipes.models import Step
from tests.handouts.conftest import NOW, plan_of, planned
from tests.handouts.kinds.run_sheets import Sheets, morning_class, sheet_of, two_day_class
from tests.handouts.pdfs import page_texts, plain, reader, sizes_mm, texts_twice, words_mm

editions = pytest.mark.parametrize("edition", Edition)
SHEETS_MM = {PageSize.A4: (210.0, 297.0), PageSize.LETTER: (215.9, 279.4)}


@pytest.fixture(scope="module")
def _made(django_db_setup, django_db_blocker):
    with django_db_blocker.unblock(), transaction.atomic():
        demo = load_demo(now=NOW)
        two = morning_class(demo, "Hearth loaf", "Seeded ring", students=8, hours=7)
        made = {"demo": Sheets(demo), "two": Sheets(two), "two-day": Sheets(two_day_class(demo))}
        transaction.set_rollback(True)
    return made


@pytest.fixture
def of_demo(db, _made):
    return _made["demo"]


@pytest.fixture
def of_two(db, _made):
    return _made["two"]


@pytest.fixture
def of_two_days(db, _made):
    return _made["two-day"]


# The times of the plan

BY_THE_CLOCK = [
    ("10:00", "10:10", "Welcome and cautions"),
    ("10:10", "10:30", "Weigh"),
    ("10:25", "10:55", "Turn on the proof cabinet"),
    ("10:30", "10:35", "Watch: mix"),
    ("10:35", "10:55", "Mix"),
    ("10:55", "11:32", "Bulk fermentation"),
    ("11:32", "11:37", "Fold"),
    ("11:37", "12:15", "Bulk fermentation"),
    ("11:55", "12:00", "Watch: divide and shape"),
    ("12:15", "12:30", "Divide and shape"),
    ("12:30", "13:10", "Proof"),
    ("12:35", "13:10", "Turn on O1, O2 and O3"),
    ("13:10", "13:40", "Into the oven"),
    ("13:15", "13:25", "Clean up"),
    ("13:40", "13:55", "Out of the oven"),
    ("13:55", "", "The last bread has cooled; the class ends at 14:00"),
]


@editions
def test_the_demo_goes_by_the_clock_of_its_plan(of_demo, edition):
    rows = of_demo[edition].rows
    assert [(row.clock, row.until, row.what) for row in rows] == BY_THE_CLOCK


def lines_of(pdf):
    done = subprocess.run(
        ["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True
    )
    return [plain(line) for line in done.stdout.decode().splitlines()]


@editions
def test_every_time_is_printed_in_one_line_with_what_happens(of_demo, edition):
    lines = lines_of(of_demo.pdf(edition))
    for clock, _, what in BY_THE_CLOCK:
        begins = what.partition(";")[0]
        assert any(line.startswith(clock) and begins in line for line in lines), clock


@editions
def test_both_ways_of_reading_the_pdf_find_times_windows_and_doneness(of_demo, edition):
    for text in texts_twice(of_demo.pdf(edition)):
        for words in (
            "aim 12:15 · from 12:07 · at the latest 12:39",
            "aim 13:10 · from 13:06 · at the latest 13:20",
            "aim 11:32 · at the latest 11:47",
            "until a dent from a floured finger fills again slowly",
            "96 °C (205 °F) in the middle",
            "230 °C (450 °F)",
            "13 of 16 places",
        ):
            assert words in plain(text.replace("\u00a0", " ")), words


def row_of(sheet, what):
    return next(row for row in sheet.rows if row.what == what)


def test_the_loads_name_every_bench_and_its_places(of_demo):
    loads = {
        one.oven: one.holds for one in row_of(of_demo[Edition.INSTRUCTOR], "Into the oven").loads
    }
    assert list(loads) == ["O1, 6 of 6 places", "O2, 4 of 6 places", "O3, 3 of 3 places"]
    held = [int(count) for holds in loads.values() for count in re.findall(r": (\d+)", holds)]
    assert sum(held) == 13


def test_the_sheet_follows_the_plan_that_the_class_keeps(demo):
    hours = class_plan(planned(demo)).hours
    old, late = hours.solved, 3
    slots = {
        key: Slot(slot.start + (late if slot.start > 30 else 0), slot.way)
        for key, slot in old.plan.slots.items()
    }
    loads = tuple(replace(load, start=load.start + late) for load in old.plan.loads)
    kept = Solved(Plan(slots, loads), old.ready + late, old.bound, "by hand")
    made_for = fingerprint(hours.scheduled.problem)
    KeptPlan.objects.create(
        session=demo, made_for=made_for, document=to_document(kept), made_at=NOW
    )
    sheet = sheet_of(demo)
    assert (sheet.ready, sheet.slack_min) == ("13:58", 2)
    assert row_of(sheet, "Into the oven").clock == "13:13"


def test_times_after_a_clock_change_are_those_of_the_kitchen(demo):
    demo.starts_at = datetime(2030, 3, 31, 0, 20, tzinfo=UTC)
    demo.ends_at = demo.starts_at + timedelta(hours=4)
    demo.save()
    sheet = sheet_of(demo)
    rows = {row.what: row.clock for row in sheet.rows}
    assert (rows["Welcome and cautions"], rows["Mix"]) == ("00:20", "00:55")
    assert rows["Divide and shape"] == "03:35"
    assert sheet.ready == "05:15"


def test_a_class_past_midnight_names_the_day(demo):
    demo.starts_at = datetime(2030, 6, 1, 20, tzinfo=UTC)
    demo.ends_at = demo.starts_at + timedelta(hours=4)
    demo.save()
    assert row_of(sheet_of(demo), "Out of the oven").clock == "Sun 00:40"


@pytest.mark.parametrize(("night_c", "clock"), [("20", "22:30"), ("16", "18:23")])
def test_a_preferment_is_stirred_the_day_before(demo, night_c, clock):
    demo.kitchen.night_c = Decimal(night_c)
    demo.kitchen.save()
    (day,) = sheet_of(two_day_class(demo)).ahead
    (line,) = day.lines
    assert day.name == "Friday 3 May, the day before"
    assert (line.clock, line.ready_by, line.who) == (clock, "Sat 10:30", "Instructor")


def test_what_is_done_ahead_stands_before_the_class(of_two_days):
    text = of_two_days.text(Edition.ASSISTANT)
    assert text.index("Stir the poolish") < text.index("By the clock")


# What the sheet says about the dough


def test_what_follows_a_rise_waits_for_its_sign(of_demo):
    shape = row_of(of_demo[Edition.INSTRUCTOR], "Divide and shape")
    assert shape.is_decision
    assert shape.aims[0].sign.startswith("Cover the bowl. Let the dough rise")
    assert not row_of(of_demo[Edition.INSTRUCTOR], "Fold").is_decision


def test_high_up_the_middle_gets_no_hotter_than_water_boils(demo):
    demo.kitchen.altitude_m = 3000
    demo.kitchen.save()
    (core,) = row_of(sheet_of(demo), "Out of the oven").cores
    assert core.capped
    assert core.least_c < Decimal(90)
    text = plain(to_html(sheet_of(demo)).replace("\u00a0", " "))
    assert "At this height water boils at 90 °C" in text


def test_a_recipe_without_a_core_temperature_has_that_of_its_kind(demo):
    revision = demo.taught.get().revision
    revision.core_temperature_c = None
    revision.save()
    (core,) = row_of(sheet_of(demo), "Out of the oven").cores
    assert (core.least_c.quantize(Decimal(1)), core.most_c.quantize(Decimal(1))) == (93, 99)


def test_a_recipe_of_no_kind_promises_no_core_temperature(demo):
    revision = demo.taught.get().revision
    revision.core_temperature_c, revision.bread_kind = None, ""
    revision.save()
    assert row_of(sheet_of(demo), "Out of the oven").cores == ()


# What decides the end


def test_the_chain_of_the_demo_is_marked_and_what_waits_beside_it_is_not(of_demo):
    marked = {row.what for row in of_demo[Edition.INSTRUCTOR].rows if row.is_critical}
    assert {"Mix", "Bulk fermentation", "Proof", "Into the oven", "Out of the oven"} <= marked
    assert not {"Clean up", "Turn on the proof cabinet", "Watch: divide and shape"} & marked


def test_work_that_waits_for_something_scarce_says_for_what(of_two):
    because = {row.because for row in of_two[Edition.INSTRUCTOR].rows}
    assert "waits for a place in the cabinet" in because
    assert "it waits for a place in the cabinet" in of_two.text(Edition.INSTRUCTOR)


def test_a_class_that_is_too_long_says_by_how_much(of_two_days):
    sheet = of_two_days[Edition.INSTRUCTOR]
    assert (sheet.verdict, sheet.over_min) == ("does not fit", 27)
    assert [row.what for row in sheet.rows[-2:]] == [
        "The class was to end here",
        "The last bread has cooled",
    ]


def test_what_was_told_once_is_named_by_its_time_after_that(of_two):
    sheet = of_two[Edition.INSTRUCTOR]
    again = [row for row in sheet.rows if row.as_at]
    assert again
    for row in again:
        (first,) = [one for one in sheet.rows if _told(one) == _told(row) and not one.as_at]
        assert (first.clock, first.starts < row.starts) == (row.as_at, True)
    text = of_two.text(Edition.INSTRUCTOR)
    assert f"As at {again[0].as_at}." in text
    assert text.count("Cool on a rack before cutting.") == 1


def _told(row):
    return row.what, row.recipe, row.text


# The two editions

ONLY_INSTRUCTOR = ("decides the end", "Show:", "Decide:", "Measure the mixed dough", "Read “Before")
ONLY_ASSISTANT = ("Each bench", "Mixers: unplugged first", "Look inside first", "Clean up 13:15")
BOTH = ("A burn:", "By the clock", "If the class goes another way", "The plan, drawn")


@pytest.mark.parametrize(
    ("edition", "wanted", "unwanted"),
    [
        (Edition.INSTRUCTOR, ONLY_INSTRUCTOR + BOTH, ONLY_ASSISTANT),
        (Edition.ASSISTANT, ONLY_ASSISTANT + BOTH, ONLY_INSTRUCTOR),
    ],
)
def test_each_edition_says_what_its_reader_needs(of_demo, edition, wanted, unwanted):
    text = of_demo.text(edition)
    assert [words for words in wanted if words not in text] == []
    assert [words for words in unwanted if words in text] == []


@editions
def test_every_line_by_the_clock_has_a_box_to_check(of_demo, edition):
    table = to_html(of_demo[edition]).partition("By the clock")[2].partition("</table>")[0]
    body = table.partition("<tbody>")[2]
    rows = body.split("<tr")[1:]
    assert len(rows) == len(BY_THE_CLOCK)
    assert all('<td><span class="box"></span></td>' in row for row in rows)


def test_the_assistant_finds_ovens_mixers_and_places(of_demo):
    sheet = of_demo[Edition.ASSISTANT]
    assert [(one.name, one.off) for one in sheet.ovens] == [
        ("O1", "13:40"),
        ("O2", "13:40"),
        ("O3", "13:40"),
    ]
    assert [one.fan_less_c for one in sheet.ovens] == [0, 20, 0]
    (mixer,) = sheet.mixers
    assert (mixer.clock, mixer.who, mixer.dough_g, mixer.turns) == (
        "10:35",
        "Instructor",
        Decimal(520),
        1,
    )
    assert [(one.clock, one.temperature_c) for one in sheet.places] == [
        ("10:55", 25),
        ("11:37", 25),
        ("12:30", 26),
    ]


def test_a_dough_too_large_for_the_mixer_is_mixed_in_turns(demo):
    demo.taught.update(mixing="mixer")
    sheet = sheet_of(demo, Edition.ASSISTANT)
    turns = {one.who: (one.dough_g, one.turns) for one in sheet.mixers}
    assert turns["Bench 1"] == (Decimal(2080), 2)
    assert "in 2 turns" in plain(to_html(sheet))


def test_benches_that_do_the_same_stand_together(of_demo):
    (bench,) = of_demo[Edition.ASSISTANT].benches
    assert (bench.names, bench.people) == ("Bench 1, 2 and 3", 12)
    assert [(one.clock, one.what) for one in bench.steps] == [
        ("10:10", "Weigh"),
        ("10:35", "Mix"),
        ("11:32", "Fold"),
        ("12:15", "Divide and shape"),
        ("13:10", "Into the oven"),
        ("13:15", "Clean up"),
    ]


def test_an_instructor_alone_is_told_how_to_heat_the_ovens(demo):
    demo.assistants.clear()
    sheet = sheet_of(demo)
    assert row_of(sheet, "Turn on O1, O2 and O3").is_instructors
    assert "Look inside first" in plain(to_html(sheet))


# Nothing private


@editions
def test_nobody_on_the_roster_is_named_nor_what_they_must_not_eat(of_demo, edition):
    html = to_html(of_demo[edition]).lower()
    for name, must_not_eat in STUDENTS:
        assert name.lower() not in html
        assert name.split()[0].lower() not in re.findall(r"\w+", html)
        assert not must_not_eat or must_not_eat not in html


def test_the_sheet_has_no_field_for_anything_private(of_demo):
    named = {one.name for one in fields(of_demo[Edition.ASSISTANT])}
    assert not {"people", "private", "students", "must_not_eat", "name"} & named


# On paper


def test_it_has_the_cautions_of_an_oven(of_demo):
    oven = cautions_for(frozenset({Hazard.OVEN}), Region.ALL)
    assert set(oven) <= set(of_demo[Edition.INSTRUCTOR].cautions)


@editions
def test_every_page_has_its_head_and_the_line_that_defers(of_two, edition):
    pages = page_texts(of_two.pdf(edition))
    for number, page in enumerate(pages, start=1):
        assert "Hearth loaf, revision 1 · Seeded ring, revision 1" in page
        assert f"page {number} of {len(pages)}" in page
        assert "Printed 11 April 2030, 09:30, Europe/Dublin" in page
        assert DEFERRAL in page


@editions
def test_both_sizes_break_at_the_same_places(of_demo, edition):
    a4, letter = (of_demo.pdf(edition, page_size) for page_size in PageSize)
    assert page_texts(a4) == page_texts(letter)
    for page_size, pdf in zip(PageSize, (a4, letter), strict=True):
        assert sizes_mm(pdf) == {SHEETS_MM[page_size]}


@editions
@pytest.mark.parametrize("page_size", PageSize)
def test_what_is_written_lies_in_the_box_that_both_sheets_hold(of_demo, edition, page_size):
    width, height = SHEETS_MM[page_size]
    words = list(words_mm(of_demo.pdf(edition, page_size)))
    assert words
    for left, top, right, bottom in words:
        assert left >= (width - 174) / 2 - 0.5
        assert right <= (width + 174) / 2 + 0.5
        assert top >= (height - 231) / 2 - 18
        assert bottom <= (height + 231) / 2 + 18


@editions
def test_no_line_by_the_clock_is_split_between_pages(of_two, edition):
    pages = [page.replace("\u00a0", " ") for page in page_texts(of_two.pdf(edition))]
    for row in of_two[edition].rows:
        parts = [row.clock, *(one.oven for one in row.loads), *(one.latest for one in row.aims)]
        assert any(all(part in page for part in parts) for page in pages), row


@editions
def test_text_at_the_bench_is_12_points_or_more(of_demo, edition):
    """Running lines and notes aside; the drawing has letters of its own."""
    sizes = {}

    def measured(text, cm, tm, font, size):
        found = round(size * tm[3], 1)
        sizes.setdefault(abs(found), []).append(text.strip())

    for page in reader(of_demo.pdf(edition)).pages[:2]:
        page.extract_text(visitor_text=measured)
    at_the_bench = " ".join(text for size, texts in sizes.items() if size >= 12 for text in texts)
    for words in ("10:35", "Stir flours, yeast and salt", "Everybody"):
        assert words in plain(at_the_bench)
    assert max(size for size, texts in sizes.items() if "10:35" in texts) >= 20


@editions
def test_the_plan_is_drawn_on_a_page_of_its_own(of_demo, edition):
    last = page_texts(of_demo.pdf(edition))[-1]
    assert "The plan, drawn" in last
    assert "By the clock" not in last


@editions
def test_the_pdf_is_tagged_and_says_its_language_and_title(of_demo, edition):
    pdf = reader(of_demo.pdf(edition))
    assert pdf.root_object["/Lang"] == "en"
    assert pdf.root_object["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in pdf.root_object
    assert pdf.metadata.title == f"Run sheet, {edition}’s edition: Saturday hearth loaf"
    assert b"pdfuaid" in pdf.root_object["/Metadata"].get_data()


@editions
@pytest.mark.parametrize("name", ["of_demo", "of_two", "of_two_days"])
def test_the_pdf_program_has_nothing_to_warn_about(request, edition, name):
    """What is printed once for all tests fails there with the first warning."""
    assert request.getfixturevalue(name).pdf(edition).startswith(b"%PDF-")


HOSTILE = '</td><script>alert("x")</script>{{ 1 }}&amp;'


@editions
def test_any_title_is_printed_as_the_text_it_is(silent, demo, edition):
    demo.title = HOSTILE
    demo.save()
    demo.stations.filter(name="Bench 1").update(name=HOSTILE[:40])
    demo.kitchen.ovens.filter(name="O1").update(name=HOSTILE[:20])
    revision = demo.taught.get().revision
    Step.objects.filter(revision=revision).update(text=f"{HOSTILE} until done.")
    type(revision).objects.filter(pk=revision.pk).update(title=f"Loaf {HOSTILE}")
    sheet = sheet_of(demo, edition)
    assert "<script" not in to_html(sheet)
    squeezed = "".join(page_texts(to_pdf([sheet], PageSize.A4))).replace(" ", "")
    assert HOSTILE.replace(" ", "") in squeezed


def test_a_sheet_without_a_plan_is_not_made(demo):
    session = planned(demo)
    hours = replace(class_plan(session).hours, solved=None)
    verdict = verdict_of(hours.scheduled, None)
    with pytest.raises(NoPlan):
        run_sheet_of(plan_of(session), hours, verdict, Edition.INSTRUCTOR, NOW)
