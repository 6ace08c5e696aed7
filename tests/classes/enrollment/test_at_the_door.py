"""At the door: absent ones give their seat to walk-ins, and no seat is counted twice."""

from __future__ import annotations

import pytest

from classes.enrollment.services.door import mark_at_door
from classes.enrollment.services.holds import HOLD
from classes.enrollment.services.leaving import (
    cancel_all,
    cancel_one,
    move_booking,
    take_off_roster,
)
from classes.enrollment.services.seats import NoSeats
from tests.classes.enrollment.seating import (
    ABSENT,
    CAME,
    MINUTE,
    NOW,
    at_the_door,
    booked,
    held,
    open_class_of,
    taken,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def session():
    """An open class of four seats in May, each for 30.00, refunded until a week before."""
    return open_class_of(4)


def test_a_walk_in_takes_the_seat_of_an_absent_one(session):
    booking = booked(session, 4)
    with pytest.raises(NoSeats):
        at_the_door(session)
    mark_at_door(enrollment=booking.people.first(), door=ABSENT)
    person = at_the_door(session)
    assert (person.door, person.walked_in, taken(session)) == (CAME, True, 4)


def test_the_same_walk_in_form_sent_twice_is_one_person(session):
    assert at_the_door(session) == at_the_door(session)
    assert taken(session) == 1


def test_a_walk_in_gets_the_seat_of_a_form_that_was_never_sent(session):
    held(session, 4, at=session.starts_at - HOLD)
    assert at_the_door(session).walked_in
    assert taken(session) == 1


def test_marking_somebody_absent_twice_gives_one_seat_back(session):
    person = booked(session, 2).people.first()
    mark_at_door(enrollment=person, door=ABSENT)
    mark_at_door(enrollment=person, door=ABSENT)
    assert taken(session) == 1
    mark_at_door(enrollment=person, door=CAME)
    mark_at_door(enrollment=person, door=CAME)
    assert taken(session) == 2


def test_one_who_comes_after_all_is_refused_when_the_seat_is_gone(session):
    person = booked(session, 4).people.first()
    mark_at_door(enrollment=person, door=ABSENT)
    at_the_door(session)
    with pytest.raises(NoSeats):
        mark_at_door(enrollment=person, door=CAME)
    person.refresh_from_db()
    assert (person.door, taken(session)) == (ABSENT, 4)


@pytest.mark.parametrize("how", ["whole booking", "one person", "off the roster", "moved"])
def test_an_absent_one_who_leaves_gives_no_second_seat_back(session, how):
    booking = booked(session, 2)
    absent = booking.people.last()
    mark_at_door(enrollment=absent, door=ABSENT)
    absent.refresh_from_db()
    if how == "whole booking":
        cancel_all(booking=booking, at=NOW)
    elif how == "one person":
        cancel_one(enrollment=absent, at=NOW)
    elif how == "off the roster":
        take_off_roster(enrollment=absent, at=session.starts_at + MINUTE)
    else:
        other = open_class_of(4, instructor=session.instructor, kitchen=session.kitchen)
        move_booking(booking=booking, to=other, at=NOW)
        assert taken(other) == 2
    left = session.enrollments.exclude(door=ABSENT).count()
    assert taken(session) == left
