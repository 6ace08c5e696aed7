"""What a scale can weigh, and how printed masses keep their sums.

Each printed line is the nearest step of the scale it is weighed on. A weighing whose step is more
than 2 % of the amount is marked coarse. A scale is used from 40 of its steps upward, where half a
step is at most 1.25 %; smaller amounts go to the next finer scale of the kitchen. Less than three
quarters of the finest step would show as zero or as a third too much: it is marked too small, keeps
two digits, and is never shown as 0.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from typing import NamedTuple

from recipes.core.errors import OutOfRange
from recipes.core.numbers import ONE, ZERO, not_negative, positive, settled

COARSE_SHARE = Decimal("0.02")
STEPS_FROM = 40
SMALLEST_STEPS = Decimal("0.75")
DIGITS_KEPT = 2
ONE_GRAM = Decimal("1")
FINEST_STEP_G = Decimal("0.001")


@dataclass(frozen=True, slots=True)
class Weighing:
    """A mass as a scale shows it: `grams`, in steps of `step_g`.

    `coarse` says that one step is more than 2 % of the exact amount, `too_small` that no scale of
    the kitchen weighs it: `grams` then has two digits that only a finer one shows.
    """

    grams: Decimal
    step_g: Decimal
    coarse: bool
    too_small: bool = False

    @property
    def is_whole(self) -> bool:
        """Whether the scale shows whole grams."""
        return self.step_g >= ONE_GRAM


@dataclass(frozen=True, slots=True)
class Count:
    """Counted things, such as eggs: take this many, beat or cut them, then weigh the amount."""

    take: int
    of: str
    exact: Decimal


def _step(step_g: object) -> Decimal:
    step = positive("step_g", step_g)
    if step < FINEST_STEP_G:
        raise OutOfRange("step_g", step, least=FINEST_STEP_G)
    return step


def _is_decimal_place(step_g: Decimal) -> bool:
    """Whether a step is 1, 0.1, 0.01 and so on, to which Decimal can round directly."""
    return step_g <= ONE and step_g.normalize().as_tuple().digits == (1,)


def _nearest_multiple(exact_g: Decimal, step_g: Decimal) -> Decimal:
    return (exact_g / step_g).quantize(ONE, ROUND_HALF_UP) * step_g


class _Band(NamedTuple):
    """The amounts that one scale weighs, and everything that depends only on its step."""

    from_g: Decimal
    step_g: Decimal
    coarse_below_g: Decimal
    is_place: bool


def _bands(steps_g: Sequence[Decimal]) -> tuple[_Band, ...]:
    """A band for each step, coarsest first; the finest scale takes the rest."""
    finest = len(steps_g) - 1
    return tuple(
        _Band(
            from_g=STEPS_FROM * step_g if n < finest else ZERO,
            step_g=step_g,
            coarse_below_g=step_g / COARSE_SHARE,
            is_place=_is_decimal_place(step_g),
        )
        for n, step_g in enumerate(steps_g)
    )


@dataclass(frozen=True, slots=True)
class Scales:
    """The steps, in grams, of the scales a kitchen has, coarsest first."""

    steps_g: tuple[Decimal, ...] = (ONE_GRAM,)
    _bands: tuple[_Band, ...] = field(init=False, repr=False, compare=False)
    _least_g: Decimal = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if not self.steps_g:
            raise OutOfRange("steps_g", ZERO, least=ZERO)
        steps = {_step(step) for step in self.steps_g}
        coarsest_first = tuple(sorted(steps, reverse=True))
        object.__setattr__(self, "steps_g", coarsest_first)
        object.__setattr__(self, "_bands", _bands(coarsest_first))
        object.__setattr__(self, "_least_g", SMALLEST_STEPS * coarsest_first[-1])

    @property
    def finest_g(self) -> Decimal:
        """The finest step."""
        return self.steps_g[-1]

    def step_for(self, exact_g: Decimal) -> Decimal:
        """The step of the scale that an amount is weighed on. Raises NotDecimal, OutOfRange."""
        exact_g = not_negative("exact_g", exact_g)
        return next(band.step_g for band in self._bands if exact_g >= band.from_g)

    def weigh(self, exact_g: Decimal) -> Weighing:
        """The nearest weighing of an exact mass; halves go up. Raises NotDecimal, OutOfRange."""
        return self.weigh_known(not_negative("exact_g", exact_g))

    def weigh_known(self, exact_g: Decimal) -> Weighing:
        """`weigh` without its checks, for inner loops whose masses are already checked."""
        if ZERO < exact_g < self._least_g:
            return _too_small(exact_g)
        for from_g, step_g, coarse_below_g, is_place in self._bands:  # noqa: B007  (used below)
            if exact_g >= from_g:
                break
        if is_place:
            grams = exact_g.quantize(step_g, ROUND_HALF_UP)
        else:
            grams = _nearest_multiple(exact_g, step_g)
        return Weighing(grams, step_g, ZERO < exact_g < coarse_below_g)


def _too_small(exact_g: Decimal) -> Weighing:
    step_g = ONE.scaleb(exact_g.adjusted() - DIGITS_KEPT + 1)
    shown_g = exact_g.quantize(step_g, ROUND_HALF_UP)
    return Weighing(shown_g, step_g, coarse=True, too_small=True)


BENCH_SCALE = Scales()


def nearest(exact_g: Decimal, step_g: Decimal) -> Decimal:
    """`exact_g` to the nearest multiple of `step_g`, with the step's decimals."""
    if _is_decimal_place(step_g):
        return exact_g.quantize(step_g, ROUND_HALF_UP)
    return _nearest_multiple(exact_g, step_g)


def split(total_g: Decimal, parts: Sequence[Decimal], step_g: Decimal) -> tuple[Decimal, ...]:
    """Divide a mass in proportion to `parts` so that the printed shares keep its sum.

    The total is first taken to the nearest step; the steps left over by rounding down go to the
    largest remainders. Among equal remainders the larger part comes first, among equal parts the
    earlier, so the order of the parts changes nothing else. Raises OutOfRange for a negative total
    or part and for parts that add to nothing.
    """
    weight = positive("parts", sum((not_negative("part", part) for part in parts), ZERO))
    total_g, step_g = not_negative("total_g", total_g), _step(step_g)
    steps = int(_nearest_multiple(total_g, step_g) / step_g)
    shares = [divmod(steps * part, weight) for part in parts]
    whole = [int(share) for share, _ in shares]
    by_remainder = sorted(range(len(parts)), key=lambda n: (-shares[n][1], -parts[n], n))
    for n in by_remainder[: steps - sum(whole)]:
        whole[n] += 1
    return tuple(steps_of * step_g for steps_of in whole)


def count(exact_g: Decimal, each_g: Decimal, of: str) -> Count:
    """How many counted things hold at least `exact_g` grams, within a nanogram."""
    each_g, exact_g = positive("each_g", each_g), not_negative("exact_g", exact_g)
    take = (settled(exact_g) / each_g).to_integral_value(ROUND_CEILING)
    return Count(int(take), of, exact_g / each_g)
