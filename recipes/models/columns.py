"""Columns of figures that several models have."""

from __future__ import annotations

from decimal import Decimal

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

_PERCENT = [MinValueValidator(0), MaxValueValidator(100)]


def share_percent() -> models.DecimalField[Decimal | None, Decimal | None]:
    """A share in percent, 0 to 100, to two places; empty is unknown."""
    return models.DecimalField(
        max_digits=5, decimal_places=2, validators=_PERCENT, null=True, blank=True
    )


def loss_percent() -> models.DecimalField[Decimal, Decimal]:
    """A loss in percent, 0 to 100, to two places; empty is none."""
    return models.DecimalField(
        max_digits=5, decimal_places=2, validators=_PERCENT, default=0, blank=True
    )


def celsius() -> models.DecimalField[Decimal | None, Decimal | None]:
    return models.DecimalField(
        max_digits=4,
        decimal_places=1,
        validators=[MinValueValidator(-30), MaxValueValidator(350)],
        null=True,
        blank=True,
    )


def grams() -> models.DecimalField[Decimal, Decimal]:
    return models.DecimalField(max_digits=11, decimal_places=4)


def millimeters(label: str) -> models.PositiveIntegerField[int | None, int | None]:
    return models.PositiveIntegerField(
        label,
        null=True,
        blank=True,
        validators=[MinValueValidator(10), MaxValueValidator(10_000)],
    )
