"""Filters that only format: masses, percentages, temperatures and times, never in exponents.

Figures and their units are joined by a no-break space.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from django import template

from recipes.core.numbers import HUNDRED
from recipes.core.units import (
    parse_unit,
    to_fahrenheit,
    to_grams,
)
from recipes.core.weighing import Weighing

register = template.Library()

FIGURE_SPACE = "\N{FIGURE SPACE}"
NBSP = "\N{NO-BREAK SPACE}"
ONE = Decimal(1)
TENTH = Decimal("0.1")
HUNDREDTH = Decimal("0.01")
POOLED_IN_TENTHS_FROM = Decimal(20)


def _to(places: Decimal, value: Decimal) -> str:
    rounded = value.quantize(places, ROUND_HALF_UP)
    return format(rounded if rounded else abs(rounded), "f").replace("-", "\N{MINUS SIGN}")


def _short(places: Decimal, value: Decimal) -> str:
    text = _to(places, value)
    return text.rstrip("0").rstrip(".") if "." in text else text


@register.filter
def grams(mass: Weighing | Decimal) -> str:
    """A mass with exactly the places it has: `259`, `6.1`, `6.0`.

    A weighing has the places of its scale's step, a sum of weighings those of its finest line.
    """
    if isinstance(mass, Weighing):
        places = max(0, -int(mass.step_g.normalize().as_tuple().exponent))
        mass = mass.grams.quantize(ONE.scaleb(-places), ROUND_HALF_UP)
    return format(mass, "f")


@register.filter
def exact(mass_g: Decimal, places: int = 2) -> str:
    """An exact mass in grams, to the hundredth unless told otherwise: `258.63`."""
    return _to(ONE.scaleb(-int(places)), mass_g)


@register.filter
def exact_pooled(mass_g: Decimal) -> str:
    """An exact mass for many people: to the tenth, and to the hundredth below 20 g."""
    return exact(mass_g, 1 if mass_g >= POOLED_IN_TENTHS_FROM else 2)


@register.filter
def about(mass_g: Decimal) -> str:
    """A mass in grams where a tenth is plenty: `457.6`, `520`."""
    return _short(TENTH, mass_g)


@register.filter
def percent(value: Decimal) -> str:
    """A percentage to at most two places: `68 %`, `0.03 %`."""
    return f"{_short(HUNDREDTH, value)}{NBSP}%"


@register.filter
def share(value: Decimal) -> str:
    """A share of one as a percentage: `0.12` is `12 %`."""
    return percent(value * HUNDRED)


@register.filter
def signed(value: Decimal) -> str:
    """A change with its sign, in whole numbers: `+25`, `−33`."""
    text = _to(ONE, value)
    return f"+{text}" if value > 0 else text


@register.filter
def percent_column(value: Decimal) -> str:
    """A percentage for a column, to the tenth or hundredth, with its points in line: `68.0`."""
    text = _to(HUNDREDTH, value)
    return text.removesuffix("0") + FIGURE_SPACE if text.endswith("0") else text


@register.filter
def degrees(celsius: Decimal) -> str:
    """A temperature on both scales: `25 °C (77 °F)`."""
    fahrenheit = _to(ONE, to_fahrenheit(celsius))
    return f"{_short(TENTH, celsius)}{NBSP}°C ({fahrenheit}{NBSP}°F)"


@register.filter
def degrees_of(celsius: Decimal | None, of: str) -> str:
    """A step's temperature and what has it: `dough at 25 °C (77 °F)`; empty for neither."""
    if celsius is None:
        return f"{of.lower()}, temperature not stated" if of else ""
    if not of:
        return f"at {degrees(celsius)}, not stated of what"
    return f"{of.lower()} at {degrees(celsius)}"


@register.filter
def minutes(value: int) -> str:
    """A duration: `80` is `1 h 20 min`."""
    hours, rest = divmod(int(value), 60)
    parts = [f"{hours}{NBSP}h"] if hours else []
    if rest or not hours:
        parts.append(f"{rest}{NBSP}min")
    return NBSP.join(parts)


@register.filter
def cup(density_g_per_ml: Decimal) -> str:
    """What a US cup of it weighs, in whole grams."""
    return _to(ONE, to_grams(ONE, parse_unit("cup"), density_g_per_ml=density_g_per_ml))
