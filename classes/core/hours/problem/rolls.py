"""A recipe baked in rolls instead of loaves, which are sooner out of the oven."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal

from classes.core.hours.problem.values import Group, TimedRecipe
from recipes.core.choices import StepKind
from recipes.core.written import WrittenStep

ROLLS_A_LOAF = 6
LEAST_BAKE_MIN = 12
ROUNDING_MIN = 5


def as_rolls(recipe: TimedRecipe) -> TimedRecipe:
    """Six rolls of each loaf, six to an oven place; six take longer to round than one loaf."""
    if recipe.pieces_a_place != 1 or baking_min(recipe) <= LEAST_BAKE_MIN:
        return recipe
    shown = recipe.demonstration
    before_min = baking_min(recipe)
    after_min = smaller_bake_min(before_min)
    return replace(
        recipe,
        steps=tuple(_rolled(recipe.steps, before_min, after_min)),
        groups=tuple(_in_six(group) for group in recipe.groups),
        demonstration=_in_six(shown) if shown else None,
        pieces_a_place=ROLLS_A_LOAF,
    )


def _in_six(group: Group) -> Group:
    return replace(group, pieces=group.pieces * ROLLS_A_LOAF)


def _rolled(steps: Iterable[WrittenStep], before_min: int, after_min: int) -> Iterator[WrittenStep]:
    """The stages of a bake keep their shares of it."""
    baked = 0
    for step in steps:
        if step.kind is StepKind.DIVIDE:
            step = replace(step, hands_on_min=step.hands_on_min + ROUNDING_MIN)
        elif step.kind is StepKind.BAKE:
            begun, baked = baked, baked + step.waiting_min
            ends, starts = (at * after_min // before_min for at in (baked, begun))
            step = replace(step, waiting_min=ends - starts)
        yield step


def smaller_bake_min(minutes: int) -> int:
    """The baking time of pieces of a sixth of the mass, at least 12 min.

    Heat that is conducted into bodies of the same shape takes a time that grows with the mass to
    the power of 2/3: 30 min are 9, so 12. An estimate, from memory; the core has the last word.
    """
    share = Decimal(ROLLS_A_LOAF) ** (Decimal(-2) / 3)
    return max(LEAST_BAKE_MIN, int((minutes * share).to_integral_value(ROUND_HALF_UP)))


def baking_min(recipe: TimedRecipe) -> int:
    """Minutes in the oven, without hands."""
    return sum(step.waiting_min for step in recipe.steps if step.kind is StepKind.BAKE)
