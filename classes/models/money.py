"""What a class costs, and what was paid and given back.

Never a card number: only that and how money changed hands.
"""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from classes.core.money import Money
from classes.models.booking import Booking
from classes.models.session import ClassSession


class ClassCost(models.Model):
    """What a class costs beside its ingredients, in minor units of its class's currency."""

    class Per(models.TextChoices):
        CLASS = "class", "Once for the class"
        PERSON = "person", "For each person"

    session = models.ForeignKey(ClassSession, on_delete=models.CASCADE, related_name="costs")
    name = models.CharField("what for", max_length=60)
    amount_minor = models.PositiveBigIntegerField()
    per = models.CharField("how often", max_length=6, choices=Per, default=Per.CLASS)

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return self.name

    @property
    def amount(self) -> Money:
        return Money(self.amount_minor, self.session.currency)


class Payment(models.Model):
    """Money for a booking in minor units of its class's currency; given back is negative."""

    class Means(models.TextChoices):
        CASH = "cash", "Cash"
        CARD_READER = "card reader", "Card reader"
        TRANSFER = "transfer", "Bank transfer"

    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="payments")
    amount_minor = models.BigIntegerField()
    means = models.CharField(max_length=12, choices=Means)
    paid_on = models.DateField()
    note = models.CharField(max_length=120, blank=True)
    form_key = models.CharField(max_length=64, unique=True, editable=False)
    noted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    noted_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("paid_on", "pk")
        constraints = (
            models.CheckConstraint(condition=~Q(amount_minor=0), name="payment_of_something"),
        )

    def __str__(self) -> str:
        return f"{self.amount}, {self.get_means_display()}"

    @property
    def amount(self) -> Money:
        return Money(self.amount_minor, self.booking.session.currency)
