"""Filters that only format, for the page of the kitchen at home."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from django import template

from classes.home_kitchen.pans import HomePan
from classes.home_kitchen.values import HomeKitchen
from recipes.core.batch.spoons import CUP, Scoop, Scoops
from recipes.core.pans.sizes import PanShape
from recipes.core.units import to_fahrenheit
from recipes.templatetags.amounts import NBSP, minutes

register = template.Library()

ONE, TENTH = Decimal(1), Decimal("0.1")
IN_HOURS_FROM_MIN, IN_HOURS_ALONE_FROM_MIN = 120, 600
CM_PER_INCH = Decimal("2.54")
PAN_NAMES = {
    PanShape.LOAF: "loaf pan",
    PanShape.ROUND: "round pan",
    PanShape.RECTANGULAR: "rectangular pan",
}


def _short(places: Decimal, value: Decimal) -> str:
    text = format(value.quantize(places, ROUND_HALF_UP), "f")
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.replace("-", "\N{MINUS SIGN}")


@register.filter
def warmth(celsius: Decimal, kitchen: HomeKitchen) -> str:
    """A temperature on both scales, the kitchen's own first: `446 °F (230 °C)`."""
    in_c = f"{_short(TENTH, celsius)}{NBSP}°C"
    in_f = f"{_short(ONE, to_fahrenheit(celsius))}{NBSP}°F"
    return f"{in_f} ({in_c})" if kitchen.fahrenheit_first else f"{in_c} ({in_f})"


@register.filter
def size(length_cm: Decimal, kitchen: HomeKitchen) -> str:
    """A length both ways, the kitchen's own unit first: `2.5 in (6.4 cm)`."""
    return _both_sizes([length_cm], kitchen)


@register.filter
def in_pans(home: HomePan, kitchen: HomeKitchen) -> str:
    """The pans of a kitchen: `a loaf tin, 8.5 × 4.5 × 2.5 in (21.6 × 11.4 × 6.4 cm)`."""
    pan, name = home.pan, PAN_NAMES[home.pan.shape]
    sizes = [pan.length_cm] if pan.shape.has_one_size else [pan.length_cm, pan.width_cm]
    if pan.depth_cm is not None:
        sizes.append(pan.depth_cm)
    of_them = f"a {name}" if home.count == 1 else f"{home.count} {name}s"
    return f"{of_them}, {_both_sizes(sizes, kitchen)}"


def _both_sizes(sizes_cm: list[Decimal], kitchen: HomeKitchen) -> str:
    in_cm = f"{NBSP}×{NBSP}".join(_short(TENTH, size_cm) for size_cm in sizes_cm) + f"{NBSP}cm"
    inches = f"{NBSP}×{NBSP}".join(_short(TENTH, size_cm / CM_PER_INCH) for size_cm in sizes_cm)
    inches = f"{inches}{NBSP}in"
    return f"{inches} ({in_cm})" if kitchen.in_inches else f"{in_cm} ({inches})"


@register.filter
def total_minutes(value: Decimal) -> str:
    """A rise in minutes, from two hours up in hours too: `134 min (2 h 14 min)`.

    From ten hours up it is in hours alone.
    """
    whole = int(value.quantize(ONE, ROUND_HALF_UP))
    if whole >= IN_HOURS_ALONE_FROM_MIN:
        return minutes(whole)
    text = f"{whole}{NBSP}min"
    return f"{text} ({minutes(whole)})" if whole >= IN_HOURS_FROM_MIN else text


@register.filter
def number(scoop: Scoop) -> str:
    """How many of its cups or spoons: `2`, `7/8`, `2 1/2`."""
    amount = Fraction(scoop.eighths, scoop.size)
    whole, rest = divmod(amount, 1)
    words = [str(whole)] if whole else []
    return NBSP.join([*words, *([str(rest)] if rest else [])])


@register.filter
def scoop_words(scoop: Scoop) -> str:
    """A scoop with its unit: `2 cups`, `7/8 cup`, `2 1/2 tbsp`."""
    plural = "s" if scoop.size == CUP and scoop.eighths > CUP else ""
    return f"{number(scoop)}{NBSP}{scoop.unit}{plural}"


@register.filter
def spooned(scoops: Scoops) -> str:
    """What to measure: `2 cups + 2 1/2 tbsp`."""
    return " + ".join(scoop_words(scoop) for scoop in scoops.scoops if scoop.eighths)


@register.filter
def off_by(scoops: Scoops) -> str:
    """How far off that is: `6 % too much`."""
    word = "much" if scoops.error_percent > 0 else "little"
    return f"{_short(ONE, abs(scoops.error_percent))}{NBSP}% too {word}"
