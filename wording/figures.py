"""Plain figures: decimals, percentages and factors, never in exponents.

Figures and their units are joined by a no-break space.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from recipes.core.numbers import HUNDRED

FIGURE_SPACE = "\N{FIGURE SPACE}"
NBSP = "\N{NO-BREAK SPACE}"
MINUS = "\N{MINUS SIGN}"
CANNOT_SAY = "cannot say"
ONE, TENTH, HUNDREDTH, THOUSANDTH = (Decimal(places) for places in ("1", "0.1", "0.01", "0.001"))


def plain(value: Decimal) -> str:
    """A decimal without trailing zeros: `500`, `0.9`, `-0.5`."""
    text = format(value, "f")
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text if text != "-0" else "0"


def rounded(places: Decimal, value: Decimal) -> str:
    """Rounded to that place, halves up, with a true minus sign: `6.0`, `−33`."""
    number = value.quantize(places, ROUND_HALF_UP)
    return format(number if number else abs(number), "f").replace("-", MINUS)


def short(places: Decimal, value: Decimal) -> str:
    """Rounded to that place, without trailing zeros: `457.6`, `520`."""
    return plain(value.quantize(places, ROUND_HALF_UP)).replace("-", MINUS)


def percent(value: Decimal | None) -> str:
    """A percentage with at most two decimals: `68 %`, `0.03 %`; None is `cannot say`."""
    return CANNOT_SAY if value is None else f"{short(HUNDREDTH, value)}{NBSP}%"


def share(value: Decimal) -> str:
    """A share of one as a percentage: `0.12` is `12 %`."""
    return percent(value * HUNDRED)


def signed(value: Decimal) -> str:
    """A change with its sign, in whole numbers: `+25`, `−33`."""
    text = rounded(ONE, value)
    return f"+{text}" if value > 0 else text


def percent_column(value: Decimal | None) -> str:
    """A percentage for a column, to the tenth or hundredth, with points aligned: `68.0`.

    None, which is explained elsewhere, is a question mark.
    """
    if value is None:
        return "?"
    text = rounded(HUNDREDTH, value)
    return text.removesuffix("0") + FIGURE_SPACE if text.endswith("0") else text


def times(factor: Decimal) -> str:
    """A factor: `× 1.23`."""
    return f"×{NBSP}{rounded(HUNDREDTH, factor)}"
