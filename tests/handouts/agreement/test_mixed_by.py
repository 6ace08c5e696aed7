"""How a class mixes is said alike on all of its papers, and as its hours have it."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from classes.access import student_token
from handouts.kinds.run_sheet import Edition
from handouts.press.render import PageSize, to_html, to_pdf
from recipes.models import Step
from tests.handouts.conftest import at_home_for, papers_of, plan_of
from tests.handouts.kinds.run_sheets import sheet_of
from tests.handouts.pdfs import flowing_texts, plain
from tests.worlds import anew

STUDENT_BENCHES = {"Bench 1", "Bench 2", "Bench 3"}
WHO = {
    "Instructor": {"Instructor"},
    "Instructor and Bench 1": {"Instructor", "Bench 1"},
    "Bench 1": {"Bench 1"},
    "Bench 2": {"Bench 2"},
    "Bench 3": {"Bench 3"},
    "Bench 1, 2 and 3": STUDENT_BENCHES,
}
SHOWN = "students by hand, the demonstration by mixer"
SETTINGS = pytest.mark.parametrize(
    ("mixing", "said", "in_mixers"),
    [
        ("hand", "by hand", set()),
        ("shown", SHOWN, {"Instructor"}),
        ("mixer", "by machine", {"Instructor", *STUDENT_BENCHES}),
    ],
)
WAYS = ("by hand", "by machine", "by mixer")


@pytest.fixture
def demo(demo_made_once, db):
    return anew(demo_made_once)


def own_pages(session):
    """What a student's own link opens of the method, as pages and as PDF, by its name."""
    token = student_token(session.enrollments.first())
    names = ("student", "homework", "student_pdf", "homework_pdf")
    return {
        name: text_of(Client().get(reverse(f"handouts:{name}", args=[token]))) for name in names
    }


def text_of(answer):
    assert answer.status_code == 200
    if answer["Content-Type"] == "application/pdf":
        return plain(" ".join(flowing_texts(answer.content)))
    return plain(answer.content.decode())


def ways_in(text):
    return {way for way in WAYS if way in text}


def says(text, said):
    """The minutes of mixing with how it is worked, and no other way anywhere."""
    return f"hands on 20 min, {said}" in text and ways_in(text) == ways_in(said)


@SETTINGS
def test_what_students_hold_says_how_their_class_mixes(demo, mixing, said, in_mixers):
    demo.taught.update(mixing=mixing)
    for name, text in own_pages(demo).items():
        assert says(text, said), name


def mixed(sheet):
    """Whose doughs a run sheet puts into mixers."""
    turns = [hand for row in sheet.rows for hand in row.hands if hand.mixer]
    return {name for hand in turns for name in WHO[hand.who]}


@SETTINGS
def test_the_run_sheet_puts_the_same_doughs_into_mixers(demo, mixing, said, in_mixers):
    demo.taught.update(mixing=mixing)
    sheet = sheet_of(demo, Edition.ASSISTANT)
    assert in_mixers == mixed(sheet)
    printed = plain(" ".join(flowing_texts(to_pdf([sheet], PageSize.A4))))
    assert ("2 kg: " in printed) == bool(in_mixers)
    assert not ways_in(printed)


@SETTINGS
def test_cards_and_lists_name_no_way_of_mixing(demo, mixing, said, in_mixers):
    demo.taught.update(mixing=mixing)
    papers = papers_of(plan_of(demo))
    for paper in (*papers["station_cards"], *papers["preparation"]):
        assert not ways_in(plain(to_html(paper)))


@SETTINGS
@pytest.mark.parametrize(("worked", "own"), [("hand", {"by hand"}), ("pan", set()), ("", set())])
def test_what_no_machine_does_keeps_the_recipes_own_words(
    demo, mixing, said, in_mixers, worked, own
):
    demo.taught.update(mixing=mixing)
    Step.objects.filter(kind="mix").update(worked=worked)
    for name, text in own_pages(demo).items():
        assert ways_in(text) == own, name
        assert ("hands on 20 min, in a pan, on heat" in text) == (worked == "pan"), name
    assert not mixed(sheet_of(demo, Edition.ASSISTANT))


def without_mixers(session):
    session.kitchen.mixers.all().delete()


def without_demonstration(session):
    session.taught.update(demonstration_batches=0)


@pytest.mark.parametrize(
    ("mixing", "lacks"), [("mixer", without_mixers), ("shown", without_demonstration)]
)
def test_where_nothing_can_go_into_a_mixer_papers_and_hours_say_by_hand(demo, mixing, lacks):
    demo.taught.update(mixing=mixing)
    lacks(demo)
    assert not mixed(sheet_of(demo, Edition.ASSISTANT))
    for name, text in own_pages(demo).items():
        assert says(text, "by hand"), name


# At home, against how the students mixed

BY_MACHINE = "Mixed by machine, where you kneaded by hand."
BY_HAND = "Kneaded by hand, where a machine mixed in class."
MACHINE_HOME, HAND_HOME = "Mixed by machine.", "Kneaded by hand."
HOMES = {BY_MACHINE, BY_HAND, MACHINE_HOME, HAND_HOME}


def mixed_at_home(session, mixed_by):
    plan = plan_of(session)
    paper = at_home_for(plan, {"mixed_by": mixed_by})
    (recipe,) = paper.recipes
    printed = plain(" ".join(flowing_texts(to_pdf([paper], PageSize.A4))))
    said = {one.what for one in recipe.changes} & HOMES
    assert {what for what in said if what in printed} == said
    return said


@pytest.mark.parametrize(
    ("mixing", "worked", "with_mixer", "with_hands"),
    [
        ("hand", "machine", {BY_MACHINE}, set()),
        ("shown", "machine", {BY_MACHINE}, set()),
        ("mixer", "machine", set(), {BY_HAND}),
        ("mixer", "hand", {BY_MACHINE}, set()),
        ("mixer", "", {MACHINE_HOME}, {HAND_HOME}),
    ],
)
def test_a_kitchen_at_home_is_held_against_how_the_students_mixed(
    demo, mixing, worked, with_mixer, with_hands
):
    demo.taught.update(mixing=mixing)
    Step.objects.filter(kind="mix").update(worked=worked)
    assert mixed_at_home(demo, "mixer") == with_mixer
    assert mixed_at_home(demo, "hand") == with_hands
