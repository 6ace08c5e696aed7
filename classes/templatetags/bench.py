"""Filters that only format what the pages on water and rise show."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

from django import template

from recipes.core.heat.altitude import Advice
from recipes.core.heat.water import difference_f
from recipes.core.rise.chart import At
from recipes.templatetags.amounts import NBSP, minutes

register = template.Library()

TENTH = Decimal("0.1")
# A pattern for each curve of a chart; the first is a full line.
DASHES = ("none", "9 5", "2 4", "12 4 2 4")


def _short(value: Decimal, places: Decimal) -> str:
    rounded = value.quantize(places, ROUND_HALF_UP)
    text = format(rounded if rounded else abs(rounded), "f")
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.replace("-", "\N{MINUS SIGN}")


@register.filter
def plain_degrees(celsius: Decimal) -> str:
    """A temperature in °C alone, for a table or a chart: `25 °C`."""
    return f"{_short(celsius, TENTH)}{NBSP}°C"


@register.filter
def difference(celsius: Decimal) -> str:
    """A difference of temperatures on both scales: `11 °C (20 °F)`."""
    fahrenheit = _short(difference_f(celsius), Decimal(1))
    return f"{plain_degrees(celsius)} ({fahrenheit}{NBSP}°F)"


@register.filter
def whole_minutes(value: Decimal) -> str:
    """Minutes to the nearest whole one: `134.04` is `2 h 14 min`."""
    return minutes(int(value.quantize(Decimal(1), ROUND_HALF_UP)))


@register.filter
def change(advice: Advice) -> str:
    """A published change: `25 to 33 % less`, `25 to 50 % more`."""
    least, most = sorted((abs(advice.least_percent), abs(advice.most_percent)))
    word = "less" if advice.least_percent < 0 else "more"
    return f"{_short(least, Decimal(1))} to {_short(most, Decimal(1))}{NBSP}% {word}"


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
