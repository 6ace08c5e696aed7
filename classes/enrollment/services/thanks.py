"""Who gets a thank-you letter: those who are marked at the door as having come."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db.models import Exists, OuterRef, QuerySet

from classes.enrollment.models import Booking, Enrollment, Letter
from classes.models import ClassSession

THANK_AFTER = timedelta(hours=2)
THANK_UNTIL = timedelta(days=7)


def came(booking: Booking) -> QuerySet[Enrollment]:
    """The people of a booking who are marked as having come, in their order."""
    return booking.people.filter(door=Enrollment.Door.CAME).order_by("position", "pk")


def waiting_for_marks(session: ClassSession, *, at: datetime) -> tuple[Booking, ...]:
    """Bookings of a past class whose thanks wait until somebody marks who came."""
    if not session.ends_at <= at < session.ends_at + THANK_UNTIL:
        return ()
    people = Enrollment.objects.filter(booking=OuterRef("pk"))
    thanked = Letter.objects.filter(booking=OuterRef("pk"), kind=Letter.Kind.THANKS)
    return tuple(
        session.bookings.confirmed()
        .exclude(email="")
        .filter(
            Exists(people.filter(door=Enrollment.Door.EXPECTED)),
            ~Exists(people.filter(door=Enrollment.Door.CAME)),
            ~Exists(thanked),
        )
    )
