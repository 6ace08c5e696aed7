"""Seats of one class as the tests claim them, in the words of the services."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from classes.core.money import Money
from classes.enrollment.models import Enrollment
from classes.enrollment.services.door import walk_in
from classes.enrollment.services.enrolling import enroll_people, join_waiting
from classes.enrollment.services.holds import hold_seats
from classes.enrollment.services.seats import Diner
from classes.models import ClassSession
from tests.factories import planned_class

NOW = datetime(2030, 4, 1, 9, tzinfo=UTC)
MINUTE = timedelta(minutes=1)
CAME, ABSENT = Enrollment.Door.CAME, Enrollment.Door.ABSENT


def open_class_of(seats, **fields):
    fields = {"price_minor": 3000, "kitchen__stations": 2, **fields}
    return planned_class(students=0, seats=seats, is_open=True, **fields)


def taken(session):
    return ClassSession.objects.get(pk=session.pk).taken


def held(session, seats=1, key="a", at=NOW):
    return hold_seats(session=session, seats=seats, form_key=f"form-{key}", at=at)


def booked(session, seats=1, key="a", at=NOW):
    booking = held(session, seats, key, at)
    people = [Diner(f"{key} {n}") for n in range(seats)]
    enroll_people(booking=booking, people=people, email=f"{key}@example.org", phone="", at=at)
    booking.refresh_from_db()
    return booking


def waits(session, name, seats=1, at=NOW):
    return join_waiting(
        session=session,
        name=name,
        email=f"{name}@example.org",
        seats=seats,
        form_key=f"wait-{name}",
        at=at,
    )


def paid(booking, amount_minor, key):
    booking.payments.create(
        amount_minor=amount_minor,
        means="cash",
        paid_on=NOW.date(),
        form_key=key,
        noted_by=booking.session.instructor,
    )


# The door


def at_the_door(session, form_key="walk", name="Wanda"):
    return walk_in(
        session=session,
        diner=Diner(name),
        form_key=form_key,
        price=Money(3000, "EUR"),
        at=session.starts_at + MINUTE,
    )
