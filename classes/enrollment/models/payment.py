"""What was paid for a booking, and given back: how money changed hands, never a card number."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from classes.core.money import Money
from classes.enrollment.models.booking import Booking


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
