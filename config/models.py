"""What the site stores for every app."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class SentForm(models.Model):
    """A form that was processed, so that the same one sent again gets the same response."""

    key = models.CharField(max_length=64)
    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    answer = models.CharField(max_length=500, blank=True)
    at = models.DateTimeField()

    class Meta:
        constraints = (models.UniqueConstraint(fields=("user", "key"), name="form_once_a_user"),)
        indexes = (models.Index(fields=("at",), name="form_sent_at"),)

    def __str__(self) -> str:
        return f"{self.user_id}, {self.at:%Y-%m-%d %H:%M}"
