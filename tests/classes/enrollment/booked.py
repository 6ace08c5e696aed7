"""A class with bookings, as tests of the desk need it."""

from __future__ import annotations

from datetime import UTC, datetime

from classes.models import ClassSession
from tests.factories import EnrollmentFactory

BOOKED_AT = datetime(2030, 4, 1, 9, tzinfo=UTC)


def book(session, name: str, *, seats: int = 1, price_minor: int = 3800, **person):
    """A confirmed booking of so many people, all with the same answers."""
    booking = session.bookings.create(
        seats=seats,
        state="confirmed",
        form_key=f"booked-{session.pk}-{name}",
        name=name,
        email=f"{name.lower().replace(' ', '.')}@example.org",
        price_minor=seats * price_minor,
        made_at=BOOKED_AT,
        confirmed_at=BOOKED_AT,
    )
    for number in range(seats):
        EnrollmentFactory(
            session=session,
            booking=booking,
            name=name if number == 0 else f"{name}’s guest {number}",
            station=None,
            **person,
        )
    taken = ClassSession.objects.get(pk=session.pk).taken + seats
    ClassSession.objects.filter(pk=session.pk).update(taken=taken)
    session.taken = taken
    return booking
