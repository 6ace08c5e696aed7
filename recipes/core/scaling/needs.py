"""Every ingredient for the whole demand, and how a tub is shared among stations."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from recipes.core.formula import Formula, FormulaIngredient
from recipes.core.numbers import ZERO, settled
from recipes.core.scaling.bakers import Demand
from recipes.core.scaling.sheets import ComponentAmounts, Sheet, Tubs, batch_g_of, bulk_parts
from recipes.core.weighing import COARSE_SHARE, Scales, Weighing, split

# Steps of scales that a kitchen may have to borrow, in grams.
FINER_G = (Decimal("0.1"), Decimal("0.01"), Decimal("0.001"))

Taker = tuple[str, Decimal]


@dataclass(frozen=True, slots=True)
class Division:
    """A component made in bulk, divided among stations; the shares keep the weighed total.

    `kept_back_g` is the handling loss that stays in the tub.
    """

    component: str
    exact_g: Decimal
    weighed_g: Decimal
    shares: tuple[tuple[str, Decimal], ...]
    kept_back_g: Decimal
    step_g: Decimal


def divisions_of(pooled: Sheet, takers: Sequence[Taker], scales: Scales) -> tuple[Division, ...]:
    """How each bulk component is shared out, by dough mass, with the loss kept back."""
    shared = sum((dough_g for _, dough_g in takers), ZERO)
    parts = [dough_g for _, dough_g in takers] + [pooled.dough_g - shared]
    return tuple(_division(part, takers, parts, scales) for part in bulk_parts(pooled))


def _division(
    part: ComponentAmounts, takers: Sequence[Taker], parts: Sequence[Decimal], scales: Scales
) -> Division:
    """Divided in steps of the tub's scale, or finer ones if somebody would get nothing."""
    weighed = scales.weigh(part.exact_g)
    first_g = max(weighed.step_g, FINER_G[-1])
    finer = {step_g for step_g in (*scales.steps_g, *FINER_G) if step_g < first_g}
    for step_g in (first_g, *sorted(finer, reverse=True)):
        *shares, kept_g = split(weighed.grams, parts, step_g)
        if all(shares):
            break
    named = tuple((name, share_g) for (name, _), share_g in zip(takers, shares, strict=True))
    # Not what the scale showed: a tub of milligrams has digits that these steps cannot divide.
    return Division(part.name, part.exact_g, sum(shares, kept_g), named, kept_g, step_g)


def tubs_for(divisions: Sequence[Division], taker: int) -> Tubs:
    """What each station or person weighs from each tub."""
    return tuple(
        Weighing(
            grams=tub.shares[taker][1],
            step_g=tub.step_g,
            coarse=tub.step_g > COARSE_SHARE * tub.shares[taker][1],
        )
        for tub in divisions
    )


@dataclass(frozen=True, slots=True)
class IngredientNeed:
    """An ingredient for the whole demand, in exact grams, and where the mass comes from."""

    ingredient: FormulaIngredient
    bakers_g: Decimal
    demonstrations_g: Decimal
    loss_g: Decimal
    dusting_g: Decimal
    brought_g: Decimal = ZERO

    @property
    def exact_g(self) -> Decimal:
        """All of it, in grams, to the nanogram."""
        instructors_g = self.demonstrations_g + self.brought_g
        return settled(self.bakers_g + instructors_g + self.loss_g + self.dusting_g)

    def times(self, factor: Decimal, ingredient: FormulaIngredient | None = None) -> IngredientNeed:
        """The need multiplied, for the same ingredient or for another in its place."""
        return IngredientNeed(
            ingredient or self.ingredient,
            self.bakers_g * factor,
            self.demonstrations_g * factor,
            self.loss_g * factor,
            self.dusting_g * factor,
            self.brought_g * factor,
        )

    def __add__(self, other: IngredientNeed) -> IngredientNeed:
        return IngredientNeed(
            self.ingredient,
            self.bakers_g + other.bakers_g,
            self.demonstrations_g + other.demonstrations_g,
            self.loss_g + other.loss_g,
            self.dusting_g + other.dusting_g,
            self.brought_g + other.brought_g,
        )


def line_needs(formula: Formula, demand: Demand) -> Iterator[IngredientNeed]:
    for part in formula.components:
        batch_g = batch_g_of(formula, part)
        lost_g = demand.everybody_g * demand.handling_loss if part.kind.goes_into_dough else ZERO
        for line in part.lines:
            yield IngredientNeed(
                line.ingredient,
                bakers_g=line.mass_g * demand.bakers_g / batch_g,
                demonstrations_g=line.mass_g * demand.demonstrations_g / batch_g,
                loss_g=line.mass_g * lost_g / batch_g,
                dusting_g=ZERO,
                brought_g=line.mass_g * demand.brought_g / batch_g,
            )
    if demand.dusting_flour and demand.dusting_g:
        dusting_g = demand.dusting_g * demand.heads
        yield IngredientNeed(demand.dusting_flour, ZERO, ZERO, ZERO, dusting_g)


def pool(needs: Iterable[IngredientNeed]) -> tuple[IngredientNeed, ...]:
    """Needs of the same ingredient, by key, added up, in the order of first appearance."""
    pooled: dict[str, IngredientNeed] = {}
    for need in needs:
        seen = pooled.get(need.ingredient.key)
        pooled[need.ingredient.key] = seen + need if seen else need
    return tuple(pooled.values())
