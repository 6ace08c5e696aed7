"""Who comes. What they must not eat is private to instructor and assistant."""

from __future__ import annotations

import secrets

from django.db import models

from classes.models.kitchen import Station
from classes.models.session import ClassSession
from recipes.models import Variant


def new_link_nonce() -> str:
    """128 random bits; changing them revokes every link given out before."""
    return secrets.token_hex(16)


class Enrollment(models.Model):
    session = models.ForeignKey(ClassSession, on_delete=models.CASCADE, related_name="enrollments")
    position = models.PositiveIntegerField(default=0)
    name = models.CharField(max_length=80)
    station = models.ForeignKey(
        Station, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    must_not_eat = models.CharField(max_length=300, blank=True)
    variants = models.ManyToManyField(Variant, through="BakedVariant", blank=True, related_name="+")
    link_nonce = models.CharField(max_length=32, default=new_link_nonce, editable=False)

    class Meta:
        ordering = ("position", "pk")

    def __str__(self) -> str:
        return self.name


class BakedVariant(models.Model):
    """A variant that a student bakes; while somebody does, it cannot be removed."""

    enrollment = models.ForeignKey(Enrollment, on_delete=models.CASCADE, related_name="+")
    variant = models.ForeignKey(Variant, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("enrollment", "variant"), name="variant_once_a_student"
            ),
        )

    def __str__(self) -> str:
        return f"{self.enrollment}: {self.variant}"
