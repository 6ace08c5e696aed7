"""The door on the day: who came, who did not, who walked in, and who works where."""

from __future__ import annotations

from datetime import datetime

from django.db import IntegrityError, transaction

from classes.core.demand import StationPlaces, seat_people
from classes.core.money import Money
from classes.enrollment.models import Booking, Enrollment
from classes.enrollment.services.seats import Diner, claim_seats, give_back_seats, let_go
from classes.enrollment.services.telling import note_told
from classes.models import ClassSession, Station


@transaction.atomic
def mark_at_door(*, enrollment: Enrollment, door: str) -> Enrollment:
    """Mark somebody as come, absent or expected; an absent one's seat is free for a walk-in.

    Raises NoSeats if somebody comes after all but their seat was given away.
    """
    fresh = Enrollment.objects.select_for_update().get(pk=enrollment.pk)
    absent = Enrollment.Door.ABSENT
    if fresh.door != absent and door == absent:
        give_back_seats(session=fresh.session, seats=1)
    elif fresh.door == absent and door != absent:
        claim_seats(session=fresh.session, seats=1)
    fresh.door = door
    fresh.save(update_fields=["door"])
    return fresh


def walk_in(
    *, session: ClassSession, diner: Diner, form_key: str, price: Money, at: datetime
) -> Enrollment:
    """Seat somebody who comes without a booking; the same form twice is one person.

    Raises NoSeats.
    """
    try:
        with transaction.atomic():
            return _walk_in(session, diner, form_key, price, at)
    except IntegrityError:
        return Booking.objects.get(form_key=form_key).people.get()


def _walk_in(
    session: ClassSession, diner: Diner, form_key: str, price: Money, at: datetime
) -> Enrollment:
    known = Booking.objects.filter(form_key=form_key, session=session).first()
    if known is not None:
        return known.people.get()
    let_go(session=session, at=at)
    claim_seats(session=session, seats=1)
    booking = Booking.objects.create(
        session=session,
        seats=1,
        state=Booking.State.CONFIRMED,
        form_key=form_key,
        name=diner.name,
        price_minor=price.amount_minor,
        told_of=session.change_number,
        made_at=at,
        confirmed_at=at,
    )
    last = session.enrollments.order_by("-position").first()
    person = Enrollment(
        session=session,
        booking=booking,
        position=last.position + 1 if last else 0,
        name=diner.name,
        diet=diner.diet,
        allergens=list(diner.allergens),
        must_not_eat=diner.must_not_eat,
        door=Enrollment.Door.CAME,
        walked_in=True,
    )
    note_told(enrollment=person, at=at)
    person.save()
    return person


@transaction.atomic
def regroup(*, session: ClassSession) -> dict[str, int]:
    """Spread everybody who is not absent evenly over the stations; returns how many at each."""
    present = list(session.enrollments.exclude(door=Enrollment.Door.ABSENT))
    stations: list[Station] = list(session.stations.all())
    places = tuple(StationPlaces(station.name, station.places) for station in stations)
    seated = seat_people([None] * len(present), places) if present else ()
    by_name = {station.name: station for station in stations}
    counts = dict.fromkeys(by_name, 0)
    for person, name in zip(present, seated, strict=True):
        person.station = by_name[name]
        counts[name] += 1
    Enrollment.objects.bulk_update(present, ["station"])
    return counts
