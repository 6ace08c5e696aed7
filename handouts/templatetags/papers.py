"""Filters that only format, for the papers."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal

from django import template

from recipes.baking.weighing import Count
from recipes.templatetags.amounts import exact

register = template.Library()


@register.filter
def tenth(mass_g: Decimal) -> str:
    """A mass to the tenth of a gram, as stock is kept."""
    return exact(mass_g, 1)


@register.filter
def counted(count: Count) -> str:
    """How to get a weighed amount of something that comes in pieces."""
    return f"about {exact(count.exact, 1)} × {count.of}: take {count.take}, beat or cut, weigh"


@register.filter
def instant(at: datetime) -> str:
    """A moment in UTC as PDF metadata want it."""
    return f"{at.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}"
