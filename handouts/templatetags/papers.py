"""Filters that only format, for the papers."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from recipes.core.weighing import Count
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
def large_clock(label: str) -> SafeString:
    """A time in large type; the offset of one that comes twice stands small below it."""
    clock, _, offset = label.partition(" (")
    if not offset:
        return format_html("{}", clock)
    return format_html('{} <span class="offset">({}</span>', clock, offset)


@register.filter
def instant(at: datetime) -> str:
    """A moment in UTC as PDF metadata want it."""
    return f"{at.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}"
