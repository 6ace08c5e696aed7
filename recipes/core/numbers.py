"""Checks of what enters the core: exact decimals only."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from recipes.core.errors import NotDecimal, NotWhole, OutOfRange

ZERO = Decimal(0)
ONE = Decimal(1)
HUNDRED = Decimal(100)

# A million tons in grams: nothing in a class comes near it, and all sums stay within 28 digits.
MOST = Decimal("1e12")

# A nanogram: anything smaller is residue of division, such as the last 3 of 1/3.
RESIDUE_G = Decimal("1e-9")


def exact(field: str, value: object) -> Decimal:
    """`value` as a finite Decimal of at most ±10^12; integers are accepted, floats refused.

    Raises NotDecimal or OutOfRange with the field's name.
    """
    if type(value) is int:
        value = Decimal(value)
    if not isinstance(value, Decimal) or not value.is_finite():
        raise NotDecimal(field, value)
    if not -MOST <= value <= MOST:
        raise OutOfRange(field, value, least=-MOST, most=MOST)
    return value


def positive(field: str, value: object) -> Decimal:
    """`value` as a Decimal above zero. Raises NotDecimal or OutOfRange."""
    number = exact(field, value)
    if number <= ZERO:
        raise OutOfRange(field, number, least=ZERO)
    return number


def not_negative(field: str, value: object) -> Decimal:
    """`value` as a Decimal of zero or more. Raises NotDecimal or OutOfRange."""
    number = exact(field, value)
    if number < ZERO:
        raise OutOfRange(field, number, least=ZERO)
    return number


def whole(field: str, value: object, *, least: int = 0) -> int:
    """`value` as a whole number from `least` up; only an integer is accepted.

    Raises NotWhole or OutOfRange.
    """
    if type(value) is not int:
        raise NotWhole(field, value)
    if not least <= value <= MOST:
        raise OutOfRange(field, Decimal(value), least=Decimal(least), most=MOST)
    return value


def settled(mass_g: Decimal) -> Decimal:
    """A sum of quotients to the nearest nanogram, so that thirds add up to wholes again.

    Without it, 1500 g made of three thirds can come out just above 1500 and cost another pack.
    """
    return mass_g.quantize(RESIDUE_G, ROUND_HALF_UP)
