"""What the decimal type lacks for drawing in a plane: pi, sine, cosine and the cube root.

Each answer is good to all but the last two digits of the context it is asked in.
"""

from __future__ import annotations

from decimal import Decimal, localcontext
from itertools import count

from recipes.core.numbers import ONE, ZERO

PI = Decimal("3.141592653589793238462643383280")

_GUARD_DIGITS = 6


def sine(angle: Decimal) -> Decimal:
    """The sine of an angle in radians, within a few turns of zero."""
    return _series(angle, first=angle, power=1)


def cosine(angle: Decimal) -> Decimal:
    """The cosine of an angle in radians, within a few turns of zero."""
    return _series(angle, first=ONE, power=0)


def cube_root(value: Decimal) -> Decimal:
    """The cube root of a number of zero or more."""
    with localcontext() as context:
        context.prec += _GUARD_DIGITS
        root = value ** (ONE / 3) if value else ZERO
    return +root


def _series(angle: Decimal, *, first: Decimal, power: int) -> Decimal:
    """The Taylor series whose terms go two powers up at a time, with alternating signs."""
    with localcontext() as context:
        context.prec += _GUARD_DIGITS
        total, term = ZERO, first
        for n in count(power + 2, 2):
            before, total = total, total + term
            if total == before:
                break
            term *= -angle * angle / (n * (n - 1))
    return +total
