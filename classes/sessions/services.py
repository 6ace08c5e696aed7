"""Writes to classes and their rosters, each one transaction."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from django.contrib.auth.models import User
from django.db import transaction

from classes.core.keys import TickKey
from classes.enrollment.models import Booking, Enrollment
from classes.enrollment.models.booking import new_link_nonce
from classes.enrollment.services.leaving import booking_made_by, take_off_roster
from classes.enrollment.services.seats import recount_seats, save_all_but_taken
from classes.enrollment.services.telling import note_told
from classes.models import ClassSession, Kitchen, Station, TaughtRecipe, Tick
from classes.money.currency import settle_currency
from classes.sessions.clashes import ClassesClash, Overlap, clashes_of
from recipes.models import Variant
from recipes.services import keep_revisions


@transaction.atomic
def save_class(
    *,
    session: ClassSession,
    stations: Iterable[Station],
    assistants: Iterable[User],
    taught: Sequence[TaughtRecipe],
    removed: Iterable[TaughtRecipe] = (),
) -> ClassSession:
    """Save a class with what it teaches; its revisions become immutable.

    `taught` has every recipe that stays, in order. Students whose station is no longer in use are
    placed again. Raises ClassesClash, before anything is written, if another class has the kitchen
    or one of the people at that time.
    """
    assistants = list(assistants)
    _wait_for(session.kitchen, {session.instructor, *assistants})
    if clashes := clashes_of(session, kitchen=session.kitchen, assistants=assistants):
        raise ClassesClash(clashes)
    _note_change(session)
    settle_currency(session=session)
    save_all_but_taken(session=session)
    session.stations.set(stations)
    session.assistants.set(assistants)
    for row in removed:
        row.delete()
    _make_way(session, taught)
    for position, row in enumerate(taught):
        row.session, row.position = session, position
        row.save()
    keep_revisions(revisions=[row.revision for row in taught])
    gone = session.enrollments.exclude(station__in=session.stations.all())
    gone.update(station=None)
    return session


def _note_change(session: ClassSession) -> None:
    """Count a change of time or place, about which people must be told.

    Raises ClassesClash if more seats have since been taken than the class now has.
    """
    before = ClassSession.objects.filter(pk=session.pk).first()
    if before is None:
        return
    if before.taken > session.seats:
        words = f"{before.taken} seats are taken by now. Take somebody off the roster first."
        raise ClassesClash((Overlap("seats", words),))
    moved = ("starts_at", "ends_at", "kitchen_id")
    changed = any(getattr(before, name) != getattr(session, name) for name in moved)
    session.change_number = before.change_number + changed


def _make_way(session: ClassSession, taught: Sequence[TaughtRecipe]) -> None:
    """Delete rows that change their recipe, so that two of them can swap theirs.

    Saving inserts them again under the same key.
    """
    revisions = dict(session.taught.values_list("pk", "revision_id"))
    changed = [
        row.pk for row in taught if revisions.get(row.pk, row.revision_id) != row.revision_id
    ]
    session.taught.filter(pk__in=changed).delete()


def _wait_for(kitchen: Kitchen, people: Iterable[User]) -> None:
    """Make classes that share a kitchen or a person save one after the other.

    SQLite allows only one writing transaction anyway.
    """
    rows = ((Kitchen, [kitchen.pk]), (User, [person.pk for person in people]))
    for model, keys in rows:
        held = model.objects.select_for_update(no_key=True).filter(pk__in=keys).order_by("pk")
        list(held.values_list("pk"))


@transaction.atomic
def save_roster(
    *,
    session: ClassSession,
    people: Sequence[tuple[Enrollment, Iterable[Variant]]],
    removed: Iterable[Enrollment] = (),
    at: datetime,
) -> None:
    """Save the roster in the given order: everybody who stays, with the variants they bake."""
    for person in removed:
        take_off_roster(enrollment=person, at=at)
    for position, (person, variants) in enumerate(people):
        person.session, person.position = session, position
        note_told(enrollment=person, at=at)
        person.save()
        person.variants.set(variants)
    recount_seats(session=session)


def renew_link(*, enrollment: Enrollment) -> None:
    """Give a student a new link; the old one stops working, and so does their form's address."""
    enrollment.link_nonce = new_link_nonce()
    enrollment.save(update_fields=["link_nonce"])
    if booking := booking_made_by(enrollment):
        Booking.objects.filter(pk=booking.pk).update(link_nonce=new_link_nonce())


def set_tick(*, session: ClassSession, key: TickKey, done: bool, user: User) -> None:
    """Tick a line of the preparation list, or untick it; doing it twice changes nothing."""
    if done:
        Tick.objects.get_or_create(session=session, key=str(key), defaults={"done_by": user})
    else:
        Tick.objects.filter(session=session, key=str(key)).delete()
