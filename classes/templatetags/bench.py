"""Filters for what the pages on water and rise show, and for their charts."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from django import template

from recipes.core.rise.chart import At
from wording import durations, heat

register = template.Library()

# A pattern for each curve of a chart; the first is a full line.
DASHES = ("none", "9 5", "2 4", "12 4 2 4")

for words in (heat.plain_degrees, heat.difference, heat.change, durations.whole_minutes):
    register.filter(words.__name__, words)


@register.filter
def points(line: Iterable[At]) -> str:
    """The points of a line for SVG: `52.0,236.0 60.1,230.4`."""
    return " ".join(f"{at.x},{at.y}" for at in line)


@register.filter
def dash(number: int) -> str:
    """The dash pattern of the curve of that number, from 0."""
    return DASHES[number % len(DASHES)]


@register.filter
def plus(length: Decimal, more: int) -> Decimal:
    """A coordinate shifted: where a word stands beside its mark."""
    return length + more
