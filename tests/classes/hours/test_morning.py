"""The morning before a class: without a plan of the hours the same work, and what is missing."""

from datetime import timedelta

import pytest

from classes.core.hours.ahead.diary import Chore
from classes.hours.morning import NO_STEP, morning_of
from classes.management.commands.load_demo import load_demo
from classes.selectors import class_plan, planned_class
from tests.handouts.conftest import NOW, another_class, two_day_class
from tests.worlds import anew, made_once

world = made_once(lambda: load_demo(now=NOW))


@pytest.fixture
def demo(world, db):
    return anew(world)


def morning(session):
    return morning_of(class_plan(planned_class(session.pk)))


def works(found):
    return [(row.task.chore, row.task.title) for row in found.rows]


def test_rows_come_in_the_order_of_the_clock_with_deadlines_marked(demo):
    begins = demo.starts_at
    session = another_class(
        demo, "Pillow rolls", students=4, starts_at=begins, ends_at=begins + timedelta(hours=8)
    )
    found = morning(session)
    (day,) = found.days
    assert [row.clock for row in day.rows] == sorted(row.clock for row in day.rows)
    chores = [row.task.chore for row in day.rows]
    assert chores.index(Chore.LABEL) < chores.index(Chore.WEIGH) < chores.index(Chore.SWITCH_ON)
    assert {row.task.chore for row in day.rows if row.is_by} == {Chore.LABEL, Chore.WEIGH}
    (roux,) = (row for row in day.rows if row.tubs)
    assert (roux.task.chore, roux.tubs[0].amounts.name) == (Chore.MAKE, "Roux")
    assert found.missing == ()


def test_what_is_done_on_the_day_before_stands_under_that_day(demo):
    begins = demo.starts_at - timedelta(hours=2)
    session = two_day_class(demo)
    session.starts_at, session.ends_at = begins, begins + timedelta(hours=8)
    session.save()
    before, day = morning(session).days
    assert before.name == "Friday 3 May, the day before"
    assert day.name == "Saturday 4 May"
    assert [row.tubs[0].amounts.name for row in before.rows] == ["Poolish"]


def test_without_an_oven_the_same_work_stands_without_times(demo):
    session = two_day_class(demo)
    with_plan = morning(session)
    session.kitchen.ovens.all().delete()
    found = morning(session)
    assert {row.clock for row in found.rows} == {""}
    assert len(found.missing) == 1
    assert "no oven" in found.missing[0]
    kinds = {chore for chore, _ in works(with_plan)}
    assert {chore for chore, _ in works(found)} == kinds
    assert [row.tubs for row in found.rows if row.tubs] == [
        row.tubs for row in with_plan.rows if row.tubs
    ]


def test_without_steps_the_tubs_are_listed_and_what_is_missing(demo):
    session = two_day_class(demo)
    session.taught.get().revision.steps.all().delete()
    found = morning(session)
    assert found.missing[0].startswith("Write the steps of Two-day rye batard first.")
    (poolish,) = (row for row in found.rows if row.tubs)
    assert poolish.clock == ""
    assert poolish.task.why == NO_STEP
    assert {row.task.chore for row in found.rows} == {Chore.MAKE, Chore.LABEL, Chore.WEIGH}


def test_a_tub_that_no_step_names_has_no_time_beside_a_plan(demo):
    session = two_day_class(demo)
    session.taught.get().revision.steps.filter(kind="prepare").delete()
    found = morning(session)
    assert [row.clock for row in found.rows if row.task.why == NO_STEP] == [""]
    assert (found.days[-1].name, len(found.days[-1].rows)) == ("", 1)
    assert {row.clock for row in found.rows[:-1]} != {""}


def test_a_tub_belongs_to_the_step_that_names_it(demo):
    session = two_day_class(demo)
    steps = session.taught.get().revision.steps
    for step in steps.order_by("-position"):
        steps.filter(pk=step.pk).update(position=step.position + 1)
    steps.create(position=0, kind="prepare", text="Oil the boxes.", hands_on_min=5)
    found = morning(session)
    (poolish,) = (row for row in found.rows if row.tubs)
    assert poolish.task.text.startswith("Stir the poolish")
    assert [row.task.text for row in found.rows if row.task.step == 0] == ["Oil the boxes."]


def test_what_is_brought_is_weighed_before_its_own_mixing(demo):
    session = another_class(demo, "Seeded ring", students=2)
    session.taught.update(brings_risen=True)
    rows = morning(session).rows
    brought, here = (row for row in rows if row.task.chore is Chore.WEIGH)
    mixed = next(row for row in rows if row.task.title.startswith("Mix the Seeded ring"))
    assert brought.clock <= mixed.clock < here.clock
    assert brought.task.text == "3 rings brought risen, 1199.9 g."
    assert here.task.text == "2 bakers, 1 demonstration."
    assert brought.task.who == "Instructor"
