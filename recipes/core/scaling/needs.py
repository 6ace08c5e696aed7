"""Every ingredient over the whole demand, exact, and where its mass comes from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from recipes.core.formula import Formula, Ingredient
from recipes.core.numbers import ZERO, settled
from recipes.core.scaling.bakers import Demand
from recipes.core.scaling.sheets import batch_g_of


@dataclass(frozen=True, slots=True)
class IngredientNeed:
    """An ingredient over everything, in exact grams, and where the mass comes from."""

    ingredient: Ingredient
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
