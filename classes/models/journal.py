"""What has been done for a class, and who looked at private facts."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.conf import settings
from django.contrib.auth.models import User
from django.db import models

from classes.core.keys import TickKey
from classes.models.session import ClassSession


class Tick(models.Model):
    """A line of the preparation list that somebody has ticked off."""

    session = models.ForeignKey(ClassSession, on_delete=models.CASCADE, related_name="ticks")
    key = models.CharField(max_length=160)
    done_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)
    done_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("done_at",)
        constraints = (models.UniqueConstraint(fields=("session", "key"), name="tick_once_a_line"),)

    def __str__(self) -> str:
        return self.key

    @property
    def line(self) -> TickKey:
        """The line as it was when it was ticked off."""
        return TickKey.parse(self.key)


class PrivateLook(models.Model):
    """A staff member has seen or exported private facts: who, what and when."""

    session = models.ForeignKey(ClassSession, on_delete=models.CASCADE, related_name="looks")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    what = models.CharField(max_length=80)
    at = models.DateTimeField()

    class Meta:
        ordering = ("-at", "-pk")

    def __str__(self) -> str:
        return f"{self.user}: {self.what}"


class Printed(models.Model):
    """A paper that was printed, and its lines at that time: {key: [name, grams]}."""

    session = models.ForeignKey(ClassSession, on_delete=models.CASCADE, related_name="printed")
    paper = models.CharField(max_length=40)
    lines = models.JSONField(default=dict)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ("-at", "-pk")

    def __str__(self) -> str:
        return f"{self.paper}, {self.at:%Y-%m-%d %H:%M}"


SAME_LOOK = timedelta(minutes=30)


def note_look(*, session: ClassSession, user: User, what: str, at: datetime) -> None:
    """Record that somebody saw private facts; repeats within half an hour count as one."""
    since = at - SAME_LOOK
    seen = PrivateLook.objects.filter(session=session, user=user, what=what, at__gt=since)
    if not seen.exists():
        PrivateLook.objects.create(session=session, user=user, what=what, at=at)
