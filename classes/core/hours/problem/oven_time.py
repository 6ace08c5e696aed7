"""How long bread is in the oven, apart from scoring and loading, and how long as rolls."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from typing import Protocol

from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.values import Group, TimedRecipe
from classes.core.hours.problem.work import Baking, OvenStage
from recipes.core.choices import StepKind
from recipes.core.written import WrittenStep


class AnyStep(Protocol):
    """Any value that describes a step of a recipe."""

    @property
    def kind(self) -> str: ...

    @property
    def hands_on_min(self) -> int: ...

    @property
    def waiting_min(self) -> int: ...


@dataclass(frozen=True, slots=True)
class OvenTime:
    """Minutes in the oven, and of loading before them (`scored`: with scoring).

    It has `stages` if the oven is set to another temperature meanwhile.
    """

    bake_min: int
    load_min: int = 0
    scored: bool = False
    stages: tuple[OvenStage, ...] = ()


def in_the_oven(steps: Iterable[AnyStep]) -> Iterator[int]:
    """For each step the minutes in the oven, 0 if there are none.

    The hands-on time of a first step is loading; that of a following step is at an oven that keeps
    baking. In a step without waiting they cannot be separated: all of it is in the oven.
    """
    inside = False
    for step in steps:
        bakes = step.kind == StepKind.BAKE
        hands_min = step.hands_on_min if inside or not step.waiting_min else 0
        yield step.waiting_min + hands_min if bakes else 0
        inside = bakes


def oven_times(scheduled: Scheduled) -> dict[str, OvenTime]:
    """The times of all bakings as they are planned, by key."""
    recipes = {recipe.key: recipe for recipe in scheduled.work.recipes}
    return {
        baking.key: _oven_time(baking, recipes[scheduled.notes[baking.key].recipe])
        for baking in scheduled.problem.bakings
    }


def _oven_time(baking: Baking, recipe: TimedRecipe) -> OvenTime:
    scored = any(step.kind is StepKind.SCORE for step in recipe.steps)
    bake_min = baking.minutes - baking.hands_min or sum(in_the_oven(recipe.steps))
    return OvenTime(bake_min, baking.minutes - bake_min, scored, baking.stages)


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
