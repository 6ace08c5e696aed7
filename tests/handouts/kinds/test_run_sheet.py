"""The run sheet: the plan's own times, two editions, nothing private, and clear refusals."""

from __future__ import annotations

import re
import subprocess
from collections import Counter
from dataclasses import fields, replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from django.db import transaction

from classes.core.hours.checking.verdict import verdict_of
from classes.core.hours.drawing.spans import ActivityKind
from classes.core.hours.drawing.table import rows_of
from classes.core.hours.greedy.keeping import fingerprint, to_document
from classes.core.hours.problem.work import Plan, Slot, Solved
from classes.core.regions import Region
from classes.demo import STUDENTS
from classes.management.commands.load_demo import load_demo
from classes.models import KeptPlan
from classes.selectors import class_plan
from handouts.kinds.run_sheet import Edition, NoPlan, run_sheet_of
from handouts.press.render import PageSize, to_html, to_pdf
from handouts.run_sheet.course import MixerTurn
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
        one = morning_class(demo, "Seeded ring", students=1, demonstration_batches=0)
        made = {
            "demo": Sheets(demo),
            "two": Sheets(two),
            "two-day": Sheets(two_day_class(demo)),
            "one": Sheets(one),
        }
        for number in range(4, 8):
            demo.kitchen.stations.get_or_create(name=f"Bench {number}", defaults={"places": 4})
        many = morning_class(demo, "Hearth loaf", students=24, hours=6)
        many.stations.set(demo.kitchen.stations.all())
        made["24"] = Sheets(many)
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


@pytest.fixture
def of_one(db, _made):
    return _made["one"]


@pytest.fixture
def of_24(db, _made):
    return _made["24"]


# The times of the plan

BY_THE_CLOCK = [
    ("10:00", "10:10", "Welcome and cautions"),
    ("10:10", "10:30", "Weigh"),
    ("10:25", "10:55", "Turn on the proof cabinet"),
    ("10:30", "10:35", "Watch: mix"),
    ("10:35", "10:55", "Mix"),
    ("11:32", "11:37", "Fold"),
    ("11:55", "12:00", "Watch: divide and shape"),
    ("12:15", "12:30", "Divide and shape"),
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


RESTS = [
    ("Bulk fermentation", "11:32", "13 of 16"),
    ("Bulk fermentation", "12:15", "13 of 16"),
    ("Proof", "13:10", "13 of 16"),
]


def test_a_rise_stands_with_the_work_before_it(of_demo):
    rows = of_demo[Edition.INSTRUCTOR].rows
    assert [(rest.what, rest.until, rest.stands) for row in rows for rest in row.rests] == RESTS
    before = {row.what: row.until for row in rows if row.rests}
    assert before == {"Mix": "10:55", "Fold": "11:37", "Divide and shape": "12:30"}


@pytest.mark.parametrize("name", ["of_demo", "of_two", "of_two_days"])
def test_every_task_wait_and_load_of_the_plan_is_on_the_sheet(request, name):
    """The hours page shows the rows of the same table, with the same times."""
    sheets = request.getfixturevalue(name)
    of_page = rows_of(sheets.hours.scheduled, sheets.hours.solved.plan, sheets.label)
    told = Counter()
    for row in sheets[Edition.ASSISTANT].rows:
        told[row.clock, row.until, row.what] += 1
        for rest in row.rests:
            told[row.until, rest.until, rest.what] += 1
        for load in row.loads:
            told[row.clock, row.until, load.oven] += 1
    for row in of_page:
        if row.kind is ActivityKind.BAKE:
            assert told[row.from_label, row.to_label, row.where.rpartition(", ")[0]] == 1, row
        elif row.kind not in (ActivityKind.HEAT, ActivityKind.COOL):
            assert told[row.from_label, row.to_label, row.what], row


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
            "Aim 12:15 (12:07 to 12:39).",
            "Aim 13:10 (13:06 to 13:20).",
            "Aim 11:32 (11:32 to 11:47).",
            "until a dent from a floured finger fills again slowly",
            "96 °C (205 °F) in the middle",
            "230 °C (450 °F)",
            "bulk fermentation to 11:32, cabinet 25 °C (77 °F), 13 of 16.",
            "proof to 13:10, cabinet 26 °C (79 °F), 13 of 16.",
        ):
            assert words in plain(text.replace("\u00a0", " ")), words


def row_of(sheet, what):
    return next(row for row in sheet.rows if row.what == what)


def test_the_loads_name_every_bench_and_its_places(of_demo):
    loads = row_of(of_demo[Edition.INSTRUCTOR], "Into the oven").loads
    assert [(one.oven, one.filled) for one in loads] == [
        ("O1", "6 of 6"),
        ("O2", "4 of 6"),
        ("O3", "3 of 3"),
    ]
    held = [int(count) for one in loads for count in re.findall(r": (\d+)", one.holds)]
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
    for edition in Edition:
        text = of_two_days.text(edition)
        before, _, class_ = text.partition("The class")
        assert "Friday 3 May, the day before" in before
        assert re.search(r"\d\d:\d\d .*Instructor Prepare for Two-day rye batard", before)
        assert "10:00 10:10 Everybody Welcome" in class_


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
    assert {"Mix", "Divide and shape", "Into the oven", "Out of the oven"} <= marked
    rests = [rest for row in of_demo[Edition.INSTRUCTOR].rows for rest in row.rests]
    assert [rest.is_critical for rest in rests] == [True, True, True]
    assert not {"Clean up", "Turn on the proof cabinet", "Watch: divide and shape"} & marked


def test_work_that_waits_for_something_scarce_says_for_what(of_two):
    because = {row.because for row in of_two[Edition.INSTRUCTOR].rows}
    assert "waits for a place in the cabinet" in because


def test_the_mark_of_what_decides_the_end_stands_only_there(of_demo):
    for line in of_demo[Edition.INSTRUCTOR].lines_set:
        row = row_of(of_demo[Edition.INSTRUCTOR], line.what)
        decides = row.is_critical or any(rest.is_critical for rest in row.rests)
        assert line.decides == decides, line.what
    assert not any(line.decides for line in of_demo[Edition.ASSISTANT].lines_set)


def test_a_class_that_is_too_long_says_by_how_much(of_two_days):
    sheet = of_two_days[Edition.INSTRUCTOR]
    assert (sheet.verdict, sheet.spare) == ("does not fit", "27\u00a0min after the end")
    assert [row.what for row in sheet.rows[-2:]] == [
        "The class was to end here",
        "The last bread has cooled",
    ]


def test_what_is_said_once_is_not_said_again(of_two):
    said = Counter()
    for row in of_two[Edition.INSTRUCTOR].rows:
        said.update((row.recipe, row.text) for _ in [row] if row.text and not row.is_ahead)
        said.update((row.recipe, aim.sign) for aim in row.aims if aim.sign and not aim.is_told)
    assert len(said) > 8
    assert set(said.values()) == {1}


# The two editions

ONLY_INSTRUCTOR = ("decides the end", "Decide:", "Measure the dough", "Read “Before")
ONLY_ASSISTANT = ("Look inside first", "Ovens off after the last load: O1 13:40", "Known from")
BOTH = ("A burn:", "If the class goes another way", "Into the oven")


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
    bodies = to_html(of_demo[edition]).split('<tbody class="moment')[1:]
    assert len(bodies) == len(BY_THE_CLOCK)
    boxed = [body for body in bodies if '<td><span class="box"></span></td>' in body]
    assert boxed == bodies[:-1]  # The last only says when the class ends.


def test_the_assistant_finds_ovens_and_mixers(of_demo):
    sheet = of_demo[Edition.ASSISTANT]
    assert sheet.ovens_off == (("O1", "13:40"), ("O2", "13:40"), ("O3", "13:40"))
    assert "O2: about 20 °C (36 °F) less, for the fan" in plain(
        row_of(sheet, "Turn on O1, O2 and O3").text
    )
    instructor, benches = row_of(sheet, "Mix").hands
    assert (instructor.who, benches.who) == ("Instructor", "Bench 1, 2 and 3")
    assert instructor.mixer == MixerTurn("2\u00a0kg", Decimal(520), 1)
    assert benches.mixer is None


def test_a_dough_too_large_for_the_mixer_is_mixed_in_turns(demo):
    demo.taught.update(mixing="mixer")
    sheet = sheet_of(demo, Edition.ASSISTANT)
    turns = {
        hand.who: (hand.mixer.dough_g, hand.mixer.turns)
        for row in sheet.rows
        for hand in row.hands
        if hand.mixer
    }
    assert (Decimal(2080), 2) in turns.values()
    assert "2080 g" in plain(to_html(sheet).replace("\u00a0", " "))
    assert "in 2 turns" in plain(to_html(sheet))


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


def type_sizes(pdf):
    """The words of each size of type, in points."""
    sizes = {}

    def measured(text, cm, tm, font, size):
        if text.strip():
            sizes.setdefault(round(abs(size * tm[3]), 1), []).append(text.strip())

    for page in reader(pdf).pages:
        page.extract_text(visitor_text=measured)
    return sizes


@editions
def test_clocks_are_the_largest_figures_and_nothing_is_smaller_than_8_points(
    of_demo, of_two, edition
):
    of_one, of_both = (type_sizes(sheets.pdf(edition)) for sheets in (of_demo, of_two))
    assert min(of_one) >= 9
    assert min(of_both) >= 8
    assert max(size for size, texts in of_one.items() if "10:35" in texts) >= 12


# How many pages


@pytest.mark.parametrize(
    ("name", "most"), [("of_demo", 2), ("of_two", 2), ("of_two_days", 2), ("of_one", 2)]
)
@pytest.mark.parametrize("page_size", PageSize)
@editions
def test_a_class_up_to_12_has_two_pages(request, name, most, page_size, edition):
    pages = page_texts(request.getfixturevalue(name).pdf(edition, page_size))
    assert len(pages) <= most
    assert "If the class goes another way" in pages[-1]


@editions
def test_a_class_of_24_has_three_pages_at_most(of_24, edition):
    assert len(page_texts(of_24.pdf(edition))) <= 3


@editions
def test_the_day_of_one_bread_is_on_the_first_page(of_demo, of_two_days, of_one, edition):
    for sheets in (of_demo, of_two_days, of_one):
        first, _ = page_texts(sheets.pdf(edition))
        rows = sheets[edition].rows
        assert all(row.what in first for row in rows)
        assert "If the class goes another way" not in first


@editions
def test_a_page_is_neither_full_of_air_nor_of_type(of_demo, of_one, edition):
    """The largest type that has room is taken: less than a page would be left for the next."""
    for sheets in (of_demo, of_one):
        sheet = sheets[edition]
        assert sheet.fit.setting.name in ("roomy", "close")
        assert not sheet.fit.flows


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
