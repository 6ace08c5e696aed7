"""After an older archive is restored: what was erased since then is erased again."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from django.contrib.auth.models import User

from classes.enrollment.models import Booking, Enrollment, Letter, Waiting
from classes.enrollment.services.enrolling import forget_waiting, leave_waiting
from classes.enrollment.services.leaving import erase_booking, erase_person
from classes.enrollment.services.letters import ERASED
from config.backup.erasures import ErasedKind, Erasure, account_mark, mark_of
from house.services import LastOwner, let_go

FROM_ARCHIVE = "It was waiting in the archive, so it may have been sent before."


def erase_again(lines: Iterable[Erasure], *, at: datetime) -> int:
    """Erase everybody on a list who is here again; returns how many people, bookings, accounts."""
    marks: dict[ErasedKind, set[str]] = {kind: set() for kind in ErasedKind}
    gone: dict[str, bool] = {}
    for line in lines:
        marks[line.kind].add(line.mark)
        if line.kind in (ErasedKind.LET_GO, ErasedKind.TAKEN_BACK):
            gone[line.mark] = line.kind is ErasedKind.LET_GO
    return (
        _waiting(marks[ErasedKind.WAITING], at)  # first, so that no seat is offered to them
        + _people(marks[ErasedKind.PERSON], at)
        + _bookings(marks[ErasedKind.BOOKING], at)
        + _accounts({mark for mark, is_gone in gone.items() if is_gone})
    )


def _people(marks: set[str], at: datetime) -> int:
    found = [row for row in Enrollment.objects.exclude(name=ERASED) if mark_of(row.mark) in marks]
    for row in found:
        # Erasing whoever made a booking erases their companions, who may also be on the list.
        fresh = Enrollment.objects.filter(pk=row.pk).exclude(name=ERASED).first()
        if fresh is not None:
            erase_person(enrollment=fresh, at=at)
    return len(found)


def _bookings(marks: set[str], at: datetime) -> int:
    found = [
        row for row in Booking.objects.filter(erased_at=None) if mark_of(row.form_key) in marks
    ]
    for row in found:
        erase_booking(booking=row, at=at)
    return len(found)


def _waiting(marks: set[str], at: datetime) -> int:
    found = [row for row in Waiting.objects.exclude(name=ERASED) if mark_of(row.form_key) in marks]
    for row in found:
        if row.is_open:
            leave_waiting(entry=row, at=at)
        row.refresh_from_db()
        forget_waiting(entry=row)
    return len(found)


def _accounts(marks: set[str]) -> int:
    found = [
        row
        for row in User.objects.filter(is_active=True)
        if account_mark(row.pk, row.date_joined) in marks
    ]
    return sum(_let_go_again(row) for row in found)


def _let_go_again(user: User) -> bool:
    try:
        let_go(user=user)
    except LastOwner:
        return False
    return True


def hold_letters() -> int:
    """Hold letters that were waiting in an archive, for a person to decide; returns how many."""
    open_ones = Letter.objects.filter(state__in=(Letter.State.QUEUED, Letter.State.SENDING))
    return open_ones.update(state=Letter.State.FAILED, problem=FROM_ARCHIVE)
