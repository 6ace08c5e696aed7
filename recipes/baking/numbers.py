"""Guards at the door of the core: exact decimals only."""

from __future__ import annotations

from decimal import Decimal

from recipes.baking.errors import NotDecimal, OutOfRange

ZERO = Decimal(0)
ONE = Decimal(1)
HUNDRED = Decimal(100)


def exact(field: str, value: object) -> Decimal:
    """`value` as a finite Decimal; integers are taken, floats refused.

    Raises NotDecimal with the field's name.
    """
    if type(value) is int:
        return Decimal(value)
    if not isinstance(value, Decimal) or not value.is_finite():
        raise NotDecimal(field, value)
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
