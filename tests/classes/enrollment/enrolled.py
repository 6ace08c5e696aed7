"""An open class, and people who have enrolled in it, for the tests of the public side."""

from __future__ import annotations

import secrets
from datetime import UTC, datetime

from classes.access import booking_token, home_token, student_token
from classes.enrollment.services.enrolling import enroll_people
from classes.enrollment.services.holds import hold_seats
from classes.enrollment.services.seats import Diner
from tests.factories import planned_class

NOW = datetime(2030, 4, 1, 9, tzinfo=UTC)  # the class is on 4 May 2030
CANARY = "canary-saffron-7741"


def open_class(*, students=0, **fields):
    fields = {"is_open": True, "seats": 8, "price_minor": 3800, "title": "Slow loaves"} | fields
    return planned_class(students=students, **fields)


def key() -> str:
    return secrets.token_urlsafe(24)


def held(session, seats=1, at=NOW):
    return hold_seats(session=session, seats=seats, form_key=key(), at=at)


def enrolled(session, *diners, email="ada@example.org", phone="0123", at=NOW):
    """A confirmed booking; without diners one person, Ada Lomax."""
    people = diners or (Diner("Ada Lomax", "told", ("sesame",), CANARY),)
    booking = held(session, len(people), at)
    enroll_people(booking=booking, people=people, email=email, phone=phone, at=at)
    booking.refresh_from_db()
    return booking


def page_of(person, *more) -> str:
    return "/".join(["/mine", student_token(person), *more]) + "/"


def home_page_of(person) -> str:
    return f"/at-home/{home_token(person)}/"


def form_of(booking) -> str:
    return f"/enroll/{booking_token(booking)}/"


def answers(*names, email="ada@example.org", **more):
    """The fields of the short form for these people, who must not eat nothing."""
    fields = {"contact-email": email, "contact-phone": ""}
    for number, name in enumerate(names):
        fields |= {f"person-{number}-name": name, f"person-{number}-diet": "nothing"}
    return fields | more
