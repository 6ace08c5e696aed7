"""The station card read from afar: sizes of type, one side, steps by the clock, nobody's name."""

from __future__ import annotations

import io
import re
from collections import Counter

import pytest
from pypdf import PdfReader

from classes.core.hours.drawing.spans import ActivityKind, spans_of
from classes.enrollment.models import Enrollment
from classes.management.commands.load_demo import load_demo
from handouts.kind import Material
from handouts.kinds.station_cards import KIND, UNTIMED, station_cards
from handouts.kinds.water_table import water_table
from handouts.press.render import PageSize, to_pdf
from handouts.safety.values import CardHeed
from handouts.station_card.steps import MOST_STEPS, CardStep, joined_to
from handouts.station_card.words import heed_lines
from handouts.stations import one_a_dough
from tests.handouts.agreement.read_back import brought_class
from tests.handouts.conftest import NOW, another_class, plan_of, two_day_class
from tests.handouts.pdfs import page_texts
from tests.worlds import made_once

LEAST_GRAMS_PT, LEAST_PT = 22, 8
NUMBER = re.compile(r"\d+(\.\d+)?")


def with_conflict(demo):
    """Four people who bake two recipes; two of them must not eat what one of each holds."""
    session = another_class(demo, "Pillow rolls", "Seeded ring", students=4)
    for student in session.enrollments.all():
        student.station = demo.stations.first()
        student.save()
    told = session.enrollments.all()[:2]
    for student in told:
        Enrollment.objects.filter(pk=student.pk).update(
            allergens=["milk", "sesame"], diet="told", name=f"Hidden {student.pk}"
        )
    return session


def make():
    demo = load_demo(now=NOW)
    sessions = {
        "demo": demo,
        "two days": two_day_class(demo),
        "brought": brought_class(demo),
        "conflict": with_conflict(demo),
        "one person": another_class(demo, "Pillow rolls", students=1),
    }
    made = {}
    for name, session in sessions.items():
        plan = plan_of(session)
        cards = [leaf.paper for leaf in KIND.leaves(Material(plan, NOW))]
        made[name] = plan, cards, to_pdf(cards, PageSize.LETTER)
    return made


world = made_once(make)
CASES = ("demo", "two days", "brought", "conflict", "one person")
cases = pytest.mark.parametrize("case", CASES)


def sizes_of(page):
    """The type of every piece of text on a page, in points."""
    found = []

    def visit(text, cm, tm, font, size):
        if text.strip():
            scale = abs(tm[3]) * abs(cm[3])
            found.append((text.strip(), round(float(size) * scale, 1)))

    page.extract_text(visitor_text=visit)
    return found


@cases
def test_every_card_is_one_side(db, world, case):
    _, cards, pdf = world[case]
    assert len(page_texts(pdf)) == len(cards)


@cases
def test_grams_are_at_least_22_points_and_nothing_is_under_8(db, world, case):
    _, cards, pdf = world[case]
    for card, page in zip(cards, PdfReader(io.BytesIO(pdf)).pages, strict=True):
        sizes = sizes_of(page)
        assert min(size for _, size in sizes) >= LEAST_PT
        figures = Counter(
            figure.text
            for table in card.layout.tables
            for row in table.rows
            for figure in row.figures
        )
        large = Counter(text for text, size in sizes if size >= LEAST_GRAMS_PT)
        assert figures - large == Counter()


@cases
def test_times_are_those_of_the_plan_and_every_bake_is_on_its_card(db, world, case):
    plan, cards, _ = world[case]
    hours = plan.hours
    label = hours.moment
    for card in cards:
        assert len(card.steps) <= MOST_STEPS
        assert card.is_timed
        recipe = next(
            one.taught for one in plan.amounts.recipes if one.taught.key == card.recipe.taught
        )
        spans = [
            span
            for span in spans_of(hours.scheduled, hours.solved.plan)
            if span.recipe == recipe.revision and span.who == card.station
        ]
        said = " ".join(f"{step.clock} {step.what} {step.words}" for step in card.steps)
        bakes = [span for span in spans if span.kind is ActivityKind.BAKE]
        assert bakes
        for span in bakes:
            assert label(span.starts).clock in said
            assert label(span.ends).clock in said
        work = [span for span in spans if span.kind is ActivityKind.HANDS]
        for span in work:
            assert f"{label(span.starts).clock}" in said


def test_the_water_of_a_card_is_that_of_the_table(db, world):
    for plan, cards, _ in world.values():
        (table,) = water_table(plan, NOW)
        own = {
            label: dough for dough in table.doughs if not dough.is_shown for label in dough.labels
        }
        for card in cards:
            dough = own[card.recipe.label]
            name = dough.liquid[:1].upper() + dough.liquid[1:]
            if dough.today is None:
                assert card.water.words == f"{name}: ask"
                assert dough.why in card.water.more
            else:
                assert card.water.words == f"{name} {dough.today.use}: {dough.today.each}"


def test_a_card_with_a_conflict_has_a_black_box_and_no_name(db, world):
    _, cards, pdf = world["conflict"]
    rolls, ring = page_texts(pdf)
    assert "This recipe holds milk: " in rolls
    assert "Bench 1 avoids it." in rolls
    assert (
        "This recipe holds sesame: Sesame seeds (Seed topping, step 3). Bench 1 avoids it." in ring
    )
    assert "2 people here must not eat it." in ring
    assert not any("Hidden" in text or "Student" in text for text in (rolls, ring))
    assert {card.who for card in cards} == {"4 people"}


def test_a_box_says_who_avoids_only_what_it_names():
    heed = CardHeed(("This recipe may hold sesame: Seeds (Topping).",), (), is_open=True)
    assert heed_lines(heed, "Table A", ("sesame",))[-1].endswith("Table A avoids it.")
    assert heed_lines(heed, "Table A", ("milk",)) == heed.words


def test_columns_of_unequal_people_name_nobody_where_something_is_avoided(db, world):
    plan, *_ = world["demo"]
    people = list(plan.amounts.recipes[0].amounts.persons[:2])
    unequal = [people[0], world["two days"][0].amounts.recipes[0].amounts.persons[0]]
    ((one, _), (two, _)) = one_a_dough(unequal, named=False)[0]
    assert (one, two) == ("1 person", "1 person")
    named = [name for name, _ in one_a_dough(unequal)[0]]
    assert named == [person.baker.name for person in unequal]
    assert [name for name, _ in one_a_dough(people, named=False)[0]] == ["Each"]


def test_a_class_without_a_plan_has_its_steps_without_times(db, world):
    plan, *_ = world["demo"]
    card = station_cards(plan, NOW)[0]
    assert card.notes == (UNTIMED,)
    assert {step.clock for step in card.steps} == {""}
    assert [step.what for step in card.steps] == [
        "Mix",
        "Divide and shape",
        "Bake, 230\xa0°C (450\xa0°F)",
    ]
    assert "Rises 75\xa0min" in card.steps[0].after or "Rises 1\xa0h" in card.steps[0].after


@pytest.mark.parametrize(
    ("clock", "parts"),
    [
        ("10:35", ("10:35", "")),
        ("5:10\xa0am", ("5:10", "am")),
        ("Sun 1:05\xa0pm", ("Sun 1:05", "pm")),
    ],
)
def test_the_half_of_the_day_is_set_apart(clock, parts):
    step = CardStep("Mix", clock)
    assert (step.hour, step.half) == parts


def test_too_many_steps_are_joined_and_none_is_lost():
    steps = [
        *(CardStep("Fold", f"1{n}:00", f"Fold {n}.") for n in range(6)),
        CardStep("Shape", "16:00", "Shape it."),
        CardStep("Bake", "17:00", "Bake it.", is_bake=True),
        CardStep("Bake", "18:00", "Bake again.", is_bake=True),
    ]
    found = joined_to(steps)
    assert len(found) == MOST_STEPS
    said = " ".join(f"{step.clock} {step.what} {step.words}" for step in found)
    for step in steps:
        assert step.clock in said
        assert step.text in said
    assert [step.clock for step in found if step.is_bake] == ["17:00", "18:00"]
