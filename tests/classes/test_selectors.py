"""From rows to values: who is planned for, where they stand, and with which scales."""

from __future__ import annotations

from decimal import Decimal

import pytest

from classes.enrollment.models import Enrollment
from classes.models import ClassSession
from classes.selectors import class_plan, people_of, scales_of
from tests.factories import (
    ClassSessionFactory,
    EnrollmentFactory,
    IngredientFactory,
    KitchenFactory,
    TaughtRecipeFactory,
    flour,
    planned_class,
    water,
)

CAME, ABSENT = Enrollment.Door.CAME, Enrollment.Door.ABSENT


@pytest.fixture
def session(db):
    """A class of six seats at two benches that plans for its empty seats."""
    hall = KitchenFactory(stations=2)
    return ClassSessionFactory(kitchen=hall, instructor=hall.owner, seats=6, count_empty_seats=True)


def enroll(session, *doors):
    return [
        EnrollmentFactory(session=session, name=f"Student {n}", door=door, station=None)
        for n, door in enumerate(doors)
    ]


def names(session):
    fetched = ClassSession.objects.with_plan().get(pk=session.pk)
    return [person.name for person in people_of(fetched)]


class TestWhoIsPlannedFor:
    def test_before_the_door_opens_empty_seats_are_planned_for(self, session):
        enroll(session, "", "")
        assert names(session) == [
            "Student 0", "Student 1", "Seat 3", "Seat 4", "Seat 5", "Seat 6"
        ]  # fmt: skip

    def test_once_one_of_several_has_come_they_are_not(self, session):
        enroll(session, CAME, "")
        assert names(session) == ["Student 0", "Student 1"]

    def test_once_everybody_has_come_they_are_not_either(self, session):
        enroll(session, CAME, CAME)
        assert names(session) == ["Student 0", "Student 1"]

    def test_somebody_absent_opens_no_door_and_is_not_planned_for(self, session):
        enroll(session, ABSENT, "")
        assert names(session) == ["Student 1", "Seat 2", "Seat 3", "Seat 4", "Seat 5", "Seat 6"]

    def test_a_class_that_does_not_count_them_has_none(self, session):
        ClassSession.objects.update(count_empty_seats=False)
        enroll(session, "")
        assert names(session) == ["Student 0"]

    def test_more_people_than_seats_leave_no_seat_below_none(self, session):
        ClassSession.objects.update(seats=1)
        session.refresh_from_db()
        people = enroll(session, "")
        Enrollment.objects.bulk_create(
            Enrollment(session=session, name=f"More {n}", position=9 + n) for n in range(2)
        )
        assert len(names(session)) == len(people) + 2

    def test_nobody_stands_nowhere_in_an_empty_class(self, session):
        ClassSession.objects.update(count_empty_seats=False)
        assert names(session) == []


class TestWhereTheyStand:
    def test_a_station_of_ones_own_is_kept_and_the_others_spread(self, session):
        first, _, _ = enroll(session, CAME, CAME, CAME)
        first.station = session.stations.last()
        first.save()
        fetched = ClassSession.objects.with_plan().get(pk=session.pk)
        assert [(one.key, one.station) for one in people_of(fetched)] == [
            (f"student-{first.pk}", "Bench 2"),
            (f"student-{first.pk + 1}", "Bench 1"),
            (f"student-{first.pk + 2}", "Bench 1"),
        ]


class TestScales:
    def test_a_kitchen_has_the_scales_that_are_entered(self, db):
        assert scales_of(KitchenFactory(scales=("0.1", "5"))).steps_g == (
            Decimal(5),
            Decimal("0.1"),
        )

    def test_a_kitchen_without_any_is_taken_to_have_one_of_a_gram(self, db):
        assert scales_of(KitchenFactory(scales=())).steps_g == (Decimal(1),)


def test_the_handling_loss_is_a_share_and_not_a_percentage(db):
    session = planned_class()
    session.handling_loss_percent = Decimal(4)
    session.save()
    assert class_plan(ClassSession.objects.with_plan().get(pk=session.pk)).needs.handling_loss == (
        Decimal("0.04")
    )


def test_the_flour_there_is_most_of_dusts_the_bench_where_none_is_chosen(db):
    rye = IngredientFactory(name="Rye flour", kind="flour")
    session = ClassSessionFactory()
    row = TaughtRecipeFactory(session=session, dusting_flour=None, dusting_g=15)
    part = row.revision.components.get()
    part.lines.all().delete()
    for n, (ingredient, mass_g) in enumerate(((water(), 90), (rye, 30), (flour(), 70))):
        part.lines.create(position=n, ingredient=ingredient, mass_g=mass_g)
    fetched = ClassSession.objects.with_plan().get(pk=session.pk)
    [taught] = class_plan(fetched).needs.taught
    assert taught.bakes == f"{row.revision_id}-0"
    assert taught.dusting_flour.name == "Bread flour"
