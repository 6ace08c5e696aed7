"""The journal of who looked at private facts."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.contrib.auth.models import User

from classes.models import ClassSession, PrivateLook

SAME_LOOK = timedelta(minutes=30)


def note_look(*, session: ClassSession, user: User, what: str, at: datetime) -> None:
    """Write down that somebody saw private facts; the same within half an hour is one look."""
    since = at - SAME_LOOK
    seen = PrivateLook.objects.filter(session=session, user=user, what=what, at__gt=since)
    if not seen.exists():
        PrivateLook.objects.create(session=session, user=user, what=what, at=at)
