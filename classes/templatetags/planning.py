"""Filters that look up and format what the planning computed: money, water, rise and charts."""

from __future__ import annotations

from collections.abc import Container, Iterable
from decimal import Decimal

from django import template

from classes.core.demand import TaughtAmounts, heads_in_words
from classes.core.money import Estimate, Money
from recipes.core.rise.chart import At
from wording import durations, heat

register = template.Library()

# A dash pattern for each curve of a chart; the first is a solid line.
DASHES = ("none", "9 5", "2 4", "12 4 2 4")

for words in (heat.plain_degrees, heat.difference, heat.change, durations.whole_minutes):
    register.filter(words.__name__, words)


@register.filter
def has(container: Container[object], item: object) -> bool:
    """Whether the item is in the container."""
    return item in container


@register.filter
def heads(recipe: TaughtAmounts) -> str:
    """Whom a recipe's amounts are for: `12 bakers, 1 demonstration, 12 loaves brought risen`."""
    return heads_in_words(recipe)


@register.filter
def money(amount: Money | Estimate) -> str:
    """Such as `38.00 EUR`, `180 JPY`, `at least 5.95 EUR` or `cannot say`.

    Raises TypeError for anything without a currency.
    """
    if not isinstance(amount, Money | Estimate):
        raise TypeError(amount)
    return str(amount)


@register.filter
def points(line: Iterable[At]) -> str:
    """The points of a line for SVG: `52.0,236.0 60.1,230.4`."""
    return " ".join(f"{at.x},{at.y}" for at in line)


@register.filter
def dash(number: int) -> str:
    """The dash pattern of the curve with that number, from 0."""
    return DASHES[number % len(DASHES)]


@register.filter
def plus(length: Decimal, more: int) -> Decimal:
    """A shifted coordinate, for a word beside its mark."""
    return length + more
