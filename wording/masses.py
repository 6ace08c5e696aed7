"""Masses in grams, and what replaces them in a kitchen: cups, spoons and pieces."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from recipes.core.batch.spoons import Scoop, Scoops
from recipes.core.units import parse_unit, to_grams
from recipes.core.weighing import Count, Weighing
from wording.figures import NBSP, ONE, TENTH, rounded, short

POOLED_IN_TENTHS_FROM = Decimal(20)


def grams(mass: Weighing | Decimal) -> str:
    """A mass with exactly its own decimals: `259`, `6.1`, `6.0`.

    A weighing has the decimals of its scale's step, a sum of weighings those of its finest line.
    """
    if isinstance(mass, Weighing):
        places = max(0, -int(mass.step_g.normalize().as_tuple().exponent))
        mass = mass.grams.quantize(ONE.scaleb(-places), ROUND_HALF_UP)
    return format(mass, "f")


def exact(mass_g: Decimal, places: int = 2) -> str:
    """An exact mass in grams, to the hundredth unless told otherwise: `258.63`."""
    return rounded(ONE.scaleb(-int(places)), mass_g)


def exact_pooled(mass_g: Decimal) -> str:
    """An exact mass for many people: to the tenth, and to the hundredth below 20 g."""
    return exact(mass_g, 1 if mass_g >= POOLED_IN_TENTHS_FROM else 2)


def tenth(mass_g: Decimal) -> str:
    """A mass to the tenth of a gram, as stock is recorded."""
    return exact(mass_g, 1)


def about(mass_g: Decimal) -> str:
    """A mass in grams to the tenth at most: `457.6`, `520`."""
    return short(TENTH, mass_g)


def cup(density_g_per_ml: Decimal) -> str:
    """What a US cup of it weighs, in whole grams."""
    return rounded(ONE, to_grams(ONE, parse_unit("cup"), density_g_per_ml=density_g_per_ml))


def counted(count: Count) -> str:
    """How to get a weighed amount of something that comes in pieces."""
    return f"about {exact(count.exact, 1)} × {count.of}: take {count.take}, beat or cut, weigh"


def number(scoop: Scoop) -> str:
    """How many of its cups or spoons: `2`, `7/8`, `2 1/2`."""
    amount = Fraction(scoop.parts, scoop.size)
    whole, rest = divmod(amount, 1)
    words = [str(whole)] if whole else []
    return NBSP.join([*words, *([str(rest)] if rest else [])])


def scoop_words(scoop: Scoop) -> str:
    """A scoop with its unit: `2 cups`, `7/8 cup`, `2 1/2 tbsp`."""
    plural = "s" if scoop.unit == "cup" and scoop.parts > scoop.size else ""
    return f"{number(scoop)}{NBSP}{scoop.unit}{plural}"


def spooned(scoops: Scoops) -> str:
    """What to measure: `2 cups + 2 1/2 tbsp`."""
    return " + ".join(scoop_words(scoop) for scoop in scoops.scoops if scoop.parts)


def off_by(scoops: Scoops) -> str:
    """How far off that is: `6 % too much`."""
    word = "much" if scoops.error_percent > 0 else "little"
    return f"{short(ONE, abs(scoops.error_percent))}{NBSP}% too {word}"
