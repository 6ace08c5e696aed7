"""What a class costs besides its ingredients."""

from __future__ import annotations

from django.db import models

from classes.core.money import Money
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
