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


def said(notes, title):
    (case,) = [one for one in notes.cases if spaced(one.title) == title]
    return {when: spaced(answer) for when, answer in case.answers}


def spaced(text):
    return plain(text.replace("\u00a0", " "))


def test_a_slow_rise_tells_when_it_goes_on_and_when_all_is_ready(notes):
    bulk, proof = notes.rises
    assert (bulk.rise, bulk.planned, bulk.earliest, bulk.latest) == (
        "Bulk fermentation",
        "12:15",
        "12:07",
        "12:39",
    )
    assert {late: spaced(words) for late, words in bulk.late} == {
        15: "Divide and shape 12:30. Ready 14:10, 10 min past the end.",
        30: "Divide and shape 12:45. Ready 14:25, 25 min past the end.",
    }
    assert spaced(proof.late[0][1]) == "Into the oven 13:25. Ready 14:10, 10 min past the end."


def test_a_fast_rise_tells_what_has_to_wait_for_the_ovens(notes):
    bulk, proof = notes.rises
    assert spaced(bulk.early) == "Divide and shape 12:00. Ready 13:40, 20 min before the end."
    assert spaced(proof.early) == (
        "Into the oven 13:10. Ready 13:55, 5 min before the end. "
        "▲ Everybody, 13 oven places: into the oven 5 min past the latest, 13:05."
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
    assert said(notes, "O1 fails") == {
        "Known before the class": "Bench 3: mix 10:36, fold 11:33, divide and shape 12:40, into "
        "the oven 13:45. Loads: 13:10 O2 (6) and O3 (3); 13:45 O2 (4). Ready 14:30, 30 min past "
        "the end.",
        "Found at 12:35, when it is to go on": "Bench 3: into the oven 13:45. Loads: 13:10 O2 (6) "
        "and O3 (3); 13:45 O2 (4). Ready 14:30, 30 min past the end. ▲ Bench 3, 4 oven places: "
        "into the oven 25 min past the latest, 13:20.",
    }


def test_a_mixer_out_says_how_many_are_left(notes):
    assert said(notes, "A mixer for 2 kg fails") == {
        "Known before mixing, 1 left": "Ready 13:55, 5 min before the end."
    }


def test_people_who_are_late_cost_what_the_plan_says(notes):
    assert said(notes, "People come 15 min late") == {
        "If everybody waits for them": "Ready 14:10, 10 min past the end."
    }


@pytest.fixture
def worded(case):
    """The words for an outcome, as the answer to people who come late."""
    course, recovery = case

    def words(outcome):
        notes = recovery_notes(course, replace(recovery, late_start=outcome))
        return spaced(notes.cases[-1].answers[0][1])

    return words


def test_what_fits_nowhere_is_said_and_named(worded):
    stuck = Note("Bake", "Bench 2", Doing.BAKE)
    assert worded(Outcome(None, stuck=stuck)) == "Does not fit: no way was found: bake, Bench 2."
    assert worded(Outcome(None)) == "Does not fit: no way was found."


@pytest.mark.parametrize(
    ("over_min", "words"),
    [(0, "just at the end"), (1, "1 min past the end"), (-61, "1 h 1 min before the end")],
)
def test_the_end_is_told_from_the_end_of_the_class(worded, over_min, words):
    assert worded(Outcome(240 + over_min, over_min)).endswith(f"{words}.")


def test_a_crowded_cabinet_is_said(worded):
    crowded = Outcome(235, -5, crowded=(("the proof cabinet", 1),))
    assert "▲ The proof cabinet is 1 place short: the rest rises on the bench." in worded(crowded)


def test_a_kitchen_without_another_oven_has_no_way(case):
    course, recovery = case
    only = replace(recovery.ovens[0], before=None, then=None)
    notes = recovery_notes(course, replace(recovery, ovens=(only,)))
    assert said(notes, "O1 fails") == {"At any time": "Does not fit: no oven is left."}


def test_an_oven_that_stays_cold_is_not_missed(case):
    course, recovery = case
    cold = replace(recovery.ovens[0], due=None)
    notes = recovery_notes(course, replace(recovery, ovens=(cold,)))
    assert said(notes, "O1 fails") == {"At any time": "This plan does without it."}


def test_a_long_list_of_changes_is_cut_and_says_so(demo):
    demo.kitchen.stations.all().delete()
    for n in range(1, 13):
        demo.stations.add(demo.kitchen.stations.create(position=n, name=f"B{n}", places=1))
    demo.taught.update(mixing="mixer")
    hours = class_plan(planned(demo)).hours
    course = ClassCourse(hours.scheduled, hours.solved.plan, clock, (), {})
    recovery = recovery_of(hours.scheduled, hours.solved)
    notes = recovery_notes(course, recovery)
    (answer,) = said(notes, "A mixer for 2 kg fails").values()
    assert "Nearly everybody moves: plan the hours again." in answer


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
