"""The recovery notes in words: computed minutes on the kitchen's clock, and who decides."""

from __future__ import annotations

from dataclasses import replace

import pytest

from classes.core.hours.advice.outcomes import Outcome
from classes.core.hours.advice.recovery import recovery_of
from classes.core.hours.problem.notes import Doing, Note
from classes.selectors import class_plan
from handouts.kinds.run_sheet import Edition
from handouts.press.render import to_html
from handouts.run_sheet.course import ClassCourse
from handouts.run_sheet.recovery import recovery_notes
from tests.handouts.conftest import planned
from tests.handouts.kinds.run_sheets import sheet_of
from tests.handouts.pdfs import plain


def clock(minute):
    hours, minutes = divmod(600 + minute, 60)
    return f"{hours:02}:{minutes:02}"


@pytest.fixture
def case(demo):
    """The demo's course and what can go wrong in it."""
    hours = class_plan(planned(demo)).hours
    course = ClassCourse(hours.scheduled, hours.solved.plan, clock, (), {})
    return course, recovery_of(hours.scheduled, hours.solved)


@pytest.fixture
def notes(case):
    return recovery_notes(*case)


def spaced(text):
    return plain(text.replace("\u00a0", " "))


def told(row):
    """A row of the table as its cells are read."""
    cells = (f"{row.do} {row.loads}", f"{row.ready} {row.past}", row.who, row.caution)
    return tuple(spaced(cell) for cell in cells)


def rows_of(notes, begins):
    """The rows of a table by their problems, of those that begin with some words."""
    rows = [row for group in notes.groups for row in group.rows]
    return {spaced(row.problem): told(row) for row in rows if row.problem.startswith(begins)}


def test_a_rise_has_its_window_and_is_slow_or_fast(notes):
    bulk, proof, _ = notes.groups
    assert (bulk.title, proof.title) == ("Bulk fermentation, Hearth loaf", "Proof, Hearth loaf")
    assert bulk.note == "planned to 12:15, from 12:07, at the latest 12:39"
    assert {spaced(row.problem): told(row) for row in bulk.rows} == {
        "15 min slow": ("Divide and shape 12:30.", "14:10 10 min late", "Everybody", ""),
        "30 min slow": ("Divide and shape 12:45.", "14:25 25 min late", "Everybody", ""),
        "15 min fast": ("Divide and shape 12:00.", "13:40 20 min early", "Everybody", ""),
    }
    assert told(proof.rows[0])[:2] == ("Into the oven 13:25.", "14:10 10 min late")


def test_a_fast_rise_tells_what_has_to_wait_for_the_ovens(notes):
    assert told(notes.groups[1].rows[-1]) == (
        "Into the oven 13:10.",
        "13:55 5 min early",
        "nobody",
        "▲ Everybody, 13 oven places 5 min past 13:05.",
    )
    assert notes.heats_sooner


def test_the_refrigerator_is_named_as_a_brake_with_its_places(notes):
    assert "The refrigerator has 8 places" in notes.brake
    assert "bulk fermentation of Hearth loaf 13 and proof of Hearth loaf 13" in notes.brake


def test_a_kitchen_without_a_refrigerator_is_told_so(case):
    course, recovery = case
    room = replace(course.scheduled.work.room, refrigerator_places=0)
    scheduled = replace(course.scheduled, work=replace(course.scheduled.work, room=room))
    notes = recovery_notes(replace(course, scheduled=scheduled), recovery)
    assert notes.brake == "No places in a refrigerator are entered for this kitchen."


def test_an_oven_out_is_answered_for_before_the_class_and_for_when_it_goes_on(notes):
    loads = "Loads: 13:10 O2 (6) and O3 (3); 13:45 O2 (4)."
    assert rows_of(notes, "O1") == {
        "O1 fails, known before the class": (
            f"Mix 10:36, fold 11:33, divide and shape 12:40, into the oven 13:45. {loads}",
            "14:30 30 min late",
            "Bench 3",
            "",
        ),
        "O1 fails, found at 12:35": (
            f"Into the oven 13:45. {loads}",
            "14:30 30 min late",
            "Bench 3",
            "▲ Bench 3, 4 oven places 25 min past 13:20.",
        ),
    }


def test_a_brief_table_keeps_what_happens_in_class(notes):
    problems = [spaced(row.problem) for group in notes.brief.groups for row in group.rows]
    assert problems == [
        *["15 min slow", "15 min fast"] * 2,
        *(f"O{n} fails, found at 12:35" for n in (1, 2, 3)),
        "A 2 kg mixer fails before mixing, 1 left",
        "People come 15 min late",
    ]


def test_a_mixer_out_says_how_many_are_left(notes):
    assert rows_of(notes, "A ") == {
        "A 2 kg mixer fails before mixing, 1 left": (
            "Go on as planned.",
            "13:55 5 min early",
            "nobody",
            "",
        )
    }


def test_people_who_are_late_cost_what_the_plan_says(notes):
    assert rows_of(notes, "People") == {
        "People come 15 min late": (
            "If everybody waits for them.",
            "14:10 10 min late",
            "Everybody",
            "",
        )
    }


@pytest.fixture
def worded(case):
    """The words for an outcome, as the answer to people who come late."""
    course, recovery = case

    def words(outcome):
        notes = recovery_notes(course, replace(recovery, late_start=outcome))
        return told(notes.groups[-1].rows[-1])

    return words


def test_what_fits_nowhere_is_said_and_named(worded):
    stuck = Note("Bake", "Bench 2", Doing.BAKE)
    none = ("does not fit", "", "")
    assert worded(Outcome(None, stuck=stuck)) == ("No way was found: bake, Bench 2.", *none)
    assert worded(Outcome(None)) == ("No way was found.", *none)


@pytest.mark.parametrize(
    ("over_min", "words"),
    [(0, "just in time"), (1, "1 min late"), (-61, "1 h 1 min early")],
)
def test_the_end_is_told_from_the_end_of_the_class(worded, over_min, words):
    assert worded(Outcome(240 + over_min, over_min))[1].endswith(f" {words}")


def test_a_crowded_cabinet_is_said(worded):
    crowded = Outcome(235, -5, crowded=(("the proof cabinet", 1),))
    assert worded(crowded)[-1] == "▲ Proof cabinet 1 place short."


def test_a_kitchen_without_another_oven_has_no_way(case):
    course, recovery = case
    only = replace(recovery.ovens[0], before=None, then=None)
    notes = recovery_notes(course, replace(recovery, ovens=(only,)))
    assert rows_of(notes, "O1") == {"O1 fails": ("No oven is left.", "does not fit", "", "")}


def test_an_oven_that_stays_cold_is_not_missed(case):
    course, recovery = case
    cold = replace(recovery.ovens[0], due=None)
    notes = recovery_notes(course, replace(recovery, ovens=(cold,)))
    assert rows_of(notes, "O1") == {"O1 fails": ("This plan does without it.", "", "", "")}


def test_a_long_list_of_changes_is_cut_and_says_so(demo):
    demo.kitchen.stations.all().delete()
    for n in range(1, 13):
        demo.stations.add(demo.kitchen.stations.create(position=n, name=f"B{n}", places=1))
    demo.taught.update(mixing="mixer")
    hours = class_plan(planned(demo)).hours
    course = ClassCourse(hours.scheduled, hours.solved.plan, clock, (), {})
    recovery = recovery_of(hours.scheduled, hours.solved)
    notes = recovery_notes(course, recovery)
    ((do, *_),) = rows_of(notes, "A ").values()
    assert do == "Nearly everybody moves: plan the hours again."


def test_the_dough_local_rules_and_the_instructor_come_first(demo):
    for edition in Edition:
        html = plain(to_html(sheet_of(demo, edition)))
        assert "it outranks the clock" in html
        assert "Local food rules come first, and the instructor decides" in html


def test_no_note_promises_that_anything_is_safe(demo):
    html = plain(to_html(sheet_of(demo))).lower()
    assert "safe for" not in html
    assert "free from" not in html


def test_a_rise_that_nothing_delays_needs_no_warning_about_ovens(case):
    course, recovery = case
    calm = [
        replace(one, early=replace(one.early, next_start=one.due - 15)) for one in recovery.rises
    ]
    assert not recovery_notes(course, replace(recovery, rises=tuple(calm))).heats_sooner
