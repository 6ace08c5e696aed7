"""What has been done for a class, and by whom."""

from __future__ import annotations

from django.conf import settings
from django.db import models

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
