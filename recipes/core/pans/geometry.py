"""Geometry that Decimal lacks: pi, sine, cosine and the cube root.

Sine and cosine are the floats of `math`, good to 15 digits. They place the pieces of a ring for a
drawing and give their largest size, which `packing.HAIR_CM` compares to 9 places; how many pieces
fit is counted without them.
"""

from __future__ import annotations

from decimal import Decimal, localcontext
from math import cos, sin

from recipes.core.numbers import ONE, ZERO

PI = Decimal("3.141592653589793238462643383280")

_GUARD_DIGITS = 6


def sine(angle: Decimal) -> Decimal:
    """The sine of an angle in radians."""
    return Decimal(sin(angle))


def cosine(angle: Decimal) -> Decimal:
    """The cosine of an angle in radians."""
    return Decimal(cos(angle))


def cube_root(value: Decimal) -> Decimal:
    """The cube root of a number of zero or more, to all but the last two digits."""
    with localcontext() as context:
        context.prec += _GUARD_DIGITS
        root = value ** (ONE / 3) if value else ZERO
    return +root
