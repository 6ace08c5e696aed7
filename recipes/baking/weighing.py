"""What a scale can weigh, and how printed masses keep their sums.

Each printed line is the nearest step of the scale it is weighed on. A weighing whose step is more
than 2 % of the amount is marked coarse. A scale is used from 40 of its steps upward, where half a
step is at most 1.25 %; smaller amounts go to the next finer scale of the kitchen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from functools import cache

from recipes.baking.errors import OutOfRange
from recipes.baking.numbers import ONE, ZERO, not_negative, positive

COARSE_SHARE = Decimal("0.02")
STEPS_FROM = 40
ONE_GRAM = Decimal("1")


@dataclass(frozen=True, slots=True)
class Weighing:
    """A mass as a scale shows it: `grams`, in steps of `step_g`.

    `coarse` says that one step is more than 2 % of the exact amount.
    """

    grams: Decimal
    step_g: Decimal
    coarse: bool


@dataclass(frozen=True, slots=True)
class Count:
    """Counted things: take this many, beat or cut, then weigh what is needed."""

    take: int
    of: str
    exact: Decimal


@dataclass(frozen=True, slots=True)
class Scales:
    """The steps, in grams, of the scales a kitchen has, coarsest first."""

    steps_g: tuple[Decimal, ...] = (ONE_GRAM,)

    def __post_init__(self) -> None:
        if not self.steps_g:
            raise OutOfRange("steps_g", ZERO, least=ZERO)
        for step in self.steps_g:
            positive("step_g", step)
        object.__setattr__(self, "steps_g", tuple(sorted(set(self.steps_g), reverse=True)))

    def step_for(self, exact_g: Decimal) -> Decimal:
        """The step of the scale that an amount is weighed on."""
        for step in self.steps_g:
            if exact_g >= STEPS_FROM * step:
                return step
        return self.steps_g[-1]

    def weigh(self, exact_g: Decimal) -> Weighing:
        """The nearest weighing of an exact mass; halves go up."""
        step = self.step_for(not_negative("exact_g", exact_g))
        return Weighing(nearest(exact_g, step), step, step > COARSE_SHARE * exact_g > ZERO)


@cache
def _is_decimal_place(step: Decimal) -> bool:
    return step.normalize().as_tuple().digits == (1,)


def nearest(exact_g: Decimal, step_g: Decimal) -> Decimal:
    """`exact_g` to the nearest multiple of `step_g`, written with the step's places."""
    if _is_decimal_place(step_g) and step_g <= ONE:
        return exact_g.quantize(step_g, rounding=ROUND_HALF_UP)
    return (exact_g / step_g).quantize(ONE, rounding=ROUND_HALF_UP) * step_g


def split(total_g: Decimal, parts: Sequence[Decimal], step_g: Decimal) -> tuple[Decimal, ...]:
    """Divide a mass in proportion to `parts` so that the printed shares keep its sum.

    The total is first taken to the nearest step; the steps left over by rounding down go to
    the largest remainders, the earlier part first where two are equal.
    Raises OutOfRange for negative parts or parts that add to nothing.
    """
    weight = sum((not_negative("part", part) for part in parts), ZERO)
    positive("parts", weight)
    steps = int((nearest(total_g, step_g) / step_g).to_integral_value())
    shares = [steps * part / weight for part in parts]
    whole = [int(share.to_integral_value(rounding=ROUND_FLOOR)) for share in shares]
    by_remainder = sorted(range(len(parts)), key=lambda n: (whole[n] - shares[n], n))
    for n in by_remainder[: steps - sum(whole)]:
        whole[n] += 1
    return tuple(steps_of * step_g for steps_of in whole)


def count(exact_g: Decimal, each_g: Decimal, of: str) -> Count:
    """How many counted things hold at least `exact_g` grams."""
    exact = not_negative("exact_g", exact_g) / positive("each_g", each_g)
    return Count(int(exact.to_integral_value(rounding=ROUND_CEILING)), of, exact)
