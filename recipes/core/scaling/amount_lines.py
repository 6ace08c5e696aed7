"""One printed line: the exact mass of an ingredient, and how it is weighed.

What dissolves and is too little for every scale of a kitchen is weighed in a stock solution, whose
liquid comes off the part's own. At most half of that liquid goes into solutions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_FLOOR, Decimal
from itertools import product

from recipes.core.formula import FormulaIngredient
from recipes.core.numbers import ONE, ZERO
from recipes.core.weighing import COARSE_SHARE, ONE_GRAM, Count, Scales, Weighing, count

# Grams of liquid to one gram dissolved, in the order in which they are tried.
STRENGTHS = (Decimal(100), Decimal(1000), Decimal(10))
# How many steps of the scale a weighing of the solution should have, and the fewest.
GOOD_STEPS, LEAST_STEPS = 5, 3
MOST_OF_LIQUID = Decimal("0.5")


@dataclass(frozen=True, slots=True)
class Stock:
    """A solution: `solute_g` stirred into `liquid_g` of `liquid`.

    Each weighing of it contains `brings_g` of the liquid; it is enough for `times` weighings.
    """

    solute_g: Decimal
    liquid: str
    liquid_g: Decimal
    brings_g: Decimal
    times: int

    @property
    def words(self) -> str:
        """Such as `solution of 1 g in 100 g water, enough for 9 times`."""
        enough = f", enough for {self.times} times" if self.times > 1 else ""
        return f"solution of {self.solute_g:f} g in {self.liquid_g:f} g {self.liquid}{enough}"


@dataclass(frozen=True, slots=True)
class AmountLine:
    """One ingredient of one component: the exact mass and what the scale shows.

    With a `stock`, `weighed` is the mass of the solution. For a liquid, `in_stock_g` is what the
    solutions contain, so that `weighed` is only the rest.
    """

    ingredient: FormulaIngredient
    exact_g: Decimal
    weighed: Weighing
    count: Count | None = None
    stock: Stock | None = None
    in_stock_g: Decimal = ZERO

    @property
    def name(self) -> str:
        """What is weighed, such as `Water` or `Instant yeast solution`."""
        return f"{self.ingredient.name} solution" if self.stock else self.ingredient.name

    @property
    def how(self) -> str:
        """How it is weighed, in words; empty if it is simply weighed."""
        if self.stock:
            return self.stock.words
        if self.weighed.too_small:
            return "too little for the scales here: use a finer one"
        if self.in_stock_g:
            return f"what the solution brings is left out: {self.in_stock_g:.1f} g"
        return ""


def amount_line(ingredient: FormulaIngredient, exact_g: Decimal, scales: Scales) -> AmountLine:
    """A line by itself; `dissolved` handles those that are too small."""
    each_g = ingredient.each_g
    counted = count(exact_g, each_g, ingredient.each_name) if each_g else None
    return AmountLine(ingredient, exact_g, scales.weigh_known(exact_g), counted)


def dissolved(lines: Sequence[AmountLine], scales: Scales) -> tuple[AmountLine, ...]:
    """A part's lines; those too small that dissolve become solutions in its liquid."""
    at = _liquid(lines)
    if at is None or not any(_wants_stock(line) for line in lines):
        return tuple(lines)
    liquid, found = lines[at], list(lines)
    spare_g = liquid.exact_g * MOST_OF_LIQUID
    for n, line in enumerate(lines):
        stock = _stock(line.exact_g, liquid, spare_g, scales) if _wants_stock(line) else None
        if stock:
            spare_g -= stock.brings_g
            found[n] = replace(line, stock=stock, weighed=_taken(line.exact_g, stock, scales))
    in_stock_g = liquid.exact_g * MOST_OF_LIQUID - spare_g
    rest = scales.weigh_known(liquid.exact_g - in_stock_g)
    found[at] = replace(liquid, weighed=rest, in_stock_g=in_stock_g)
    return tuple(found)


def _wants_stock(line: AmountLine) -> bool:
    return line.weighed.too_small and line.ingredient.dissolves


def _liquid(lines: Sequence[AmountLine]) -> int | None:
    """The index of the liquid to dissolve in: water, else the largest one."""
    liquids = [n for n, line in enumerate(lines) if line.ingredient.is_added_liquid]
    return max(
        liquids,
        key=lambda n: (lines[n].ingredient.water_share == ONE, lines[n].exact_g),
        default=None,
    )


def _stock(mass_g: Decimal, liquid: AmountLine, spare_g: Decimal, scales: Scales) -> Stock | None:
    """The first strength that the scale weighs well enough and for which there is enough liquid."""
    solute_g = max(ONE_GRAM, scales.finest_g)
    for steps, strength in product((GOOD_STEPS, LEAST_STEPS), STRENGTHS):
        brings_g = mass_g * strength
        taken_g = mass_g + brings_g
        if brings_g <= spare_g and taken_g >= steps * scales.finest_g:
            liquid_g = solute_g * strength
            times = ((solute_g + liquid_g) / taken_g).to_integral_value(ROUND_FLOOR)
            return Stock(solute_g, liquid.ingredient.name.lower(), liquid_g, brings_g, int(times))
    return None


def _taken(mass_g: Decimal, stock: Stock, scales: Scales) -> Weighing:
    """The weighing of a solution, coarse if it or what is dissolved in it is coarse."""
    taken = scales.weigh_known(mass_g + stock.brings_g)
    is_coarse = scales.step_for(stock.solute_g) > COARSE_SHARE * stock.solute_g
    return replace(taken, coarse=taken.coarse or is_coarse)
