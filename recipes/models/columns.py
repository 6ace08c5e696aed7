"""Columns of figures that several models have."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models


def percent(**kwargs: Any) -> models.DecimalField[Any, Any]:
    """A share in percent, 0 to 100, to two places."""
    return models.DecimalField(
        max_digits=5,
        decimal_places=2,
        validators=[MinValueValidator(0), MaxValueValidator(100)],
        **kwargs,
    )


def celsius(**kwargs: Any) -> models.DecimalField[Any, Any]:
    return models.DecimalField(
        max_digits=4,
        decimal_places=1,
        validators=[MinValueValidator(-30), MaxValueValidator(350)],
        null=True,
        blank=True,
        **kwargs,
    )


def grams(**kwargs: Any) -> models.DecimalField[Decimal, Decimal]:
    return models.DecimalField(max_digits=11, decimal_places=4, **kwargs)


def millimeters(label: str) -> models.PositiveIntegerField[Any, Any]:
    return models.PositiveIntegerField(
        label,
        null=True,
        blank=True,
        validators=[MinValueValidator(10), MaxValueValidator(10_000)],
    )
