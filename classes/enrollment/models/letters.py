"""Letters to people: each is stored here before it is sent, and sent once."""

from __future__ import annotations

from datetime import datetime
from typing import Self

from django.db import models

from classes.enrollment.models.booking import Booking, Waiting
from classes.models.session import ClassSession


class LetterQuerySet(models.QuerySet["Letter"]):
    def due(self, at: datetime) -> Self:
        return self.filter(state=Letter.State.QUEUED, not_before__lte=at)


class Letter(models.Model):
    """A letter with its text. `key` says what it tells whom, so that it is never told twice."""

    class Kind(models.TextChoices):
        CONFIRMATION = "confirmation", "Confirmation"
        REMINDER = "reminder", "Reminder"
        CHANGE = "change", "Change of time or place"
        OFFER = "offer", "A seat has come free"
        CANCELED = "canceled", "Cancellation"
        THANKS = "thanks", "Thank you, with the handout"

    class State(models.TextChoices):
        QUEUED = "queued", "Waiting to be sent"
        SENDING = "sending", "Being sent"
        SENT = "sent", "Sent"
        WRITTEN = "written", "Written to a file, not sent"
        FAILED = "failed", "Could not be sent"

    session = models.ForeignKey(ClassSession, on_delete=models.CASCADE, related_name="letters")
    booking = models.ForeignKey(
        Booking, on_delete=models.CASCADE, null=True, blank=True, related_name="letters"
    )
    waiting = models.ForeignKey(
        Waiting, on_delete=models.CASCADE, null=True, blank=True, related_name="letters"
    )
    kind = models.CharField(max_length=12, choices=Kind)
    key = models.CharField(max_length=120, unique=True)
    to = models.EmailField(max_length=254, blank=True)
    subject = models.CharField(max_length=200, blank=True)
    text = models.TextField(blank=True)
    html = models.TextField(blank=True)
    calendar = models.TextField(blank=True)
    state = models.CharField(max_length=8, choices=State, default=State.QUEUED)
    tries = models.PositiveIntegerField(default=0)
    not_before = models.DateTimeField()
    made_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)
    problem = models.CharField(max_length=200, blank=True)

    objects = LetterQuerySet.as_manager()

    class Meta:
        ordering = ("made_at", "pk")
        indexes = (models.Index(fields=("state", "not_before"), name="letters_due"),)

    def __str__(self) -> str:
        return f"{self.get_kind_display()}, {self.get_state_display()}"
