"""The one link with which somebody chooses a password."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.conf import settings
from django.db import models
from django.utils.crypto import constant_time_compare, salted_hmac

from classes.enrollment.models.booking import Linked

ENTRY_HOURS = 72


class Role(models.TextChoices):
    """What somebody may do: two groups, and ownership."""

    ASSISTANT = "assistant", "Assistant"
    INSTRUCTOR = "instructor", "Instructor"
    OWNER = "owner", "Owner"


def password_mark(password: str) -> str:
    """128 bits that change with a stored password and reveal nothing about it."""
    return salted_hmac("bakebench entry link", password).hexdigest()[:32]


class EntryLink(Linked):
    """Somebody's newest link. It opens once, until it expires or the password changes."""

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="entry_link"
    )
    password_mark = models.CharField(max_length=32)
    made_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"link for {self.user}"

    @property
    def ends_at(self) -> datetime:
        return self.made_at + timedelta(hours=ENTRY_HOURS)

    def opens(self, at: datetime) -> bool:
        """Whether the link still leads to a new password."""
        unchanged = constant_time_compare(self.password_mark, password_mark(self.user.password))
        return unchanged and self.user.is_active and at <= self.ends_at
