"""How long bread is in the oven, apart from the scoring and loading before it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Protocol

from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.values import TimedRecipe
from classes.core.hours.problem.work import Baking, OvenStage
from recipes.core.choices import StepKind


class AnyStep(Protocol):
    """A step, of whatever comes from a recipe."""

    @property
    def kind(self) -> str: ...

    @property
    def hands_on_min(self) -> int: ...

    @property
    def waiting_min(self) -> int: ...


@dataclass(frozen=True, slots=True)
class OvenTime:
    """Minutes in the oven, and the minutes of loading before them, `scored`: of scoring too.

    `stages` are there where the oven is turned to another temperature meanwhile.
    """

    bake_min: int
    load_min: int = 0
    scored: bool = False
    stages: tuple[OvenStage, ...] = ()


def in_the_oven(steps: Iterable[AnyStep]) -> Iterator[int]:
    """Of each step the minutes in the oven, 0 where there are none.

    The hands of a first step load; those of a step that follows it are at an oven that bakes on.
    A step without waiting tells nothing apart: all of it is in the oven.
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
