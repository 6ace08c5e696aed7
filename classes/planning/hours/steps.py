"""The steps of a recipe as a class takes them: ahead of it, at its benches, or at the oven."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from classes.planning.hours.class_values import Stage, StepKind, TimedRecipe, TimedStep

ENDS_WITH = {
    Stage.MIXED: StepKind.MIX,
    Stage.RISEN: StepKind.BULK,
    Stage.SHAPED: StepKind.PROOF,
}


def first_mix(recipe: TimedRecipe) -> TimedStep | None:
    """The step in which a dough begins."""
    return next((step for step in recipe.steps if step.kind is StepKind.MIX), None)


def is_ahead(recipe: TimedRecipe, step: TimedStep) -> bool:
    """Whether a step is done before the class: it prepares something for the first mixing."""
    first = next((n for n, one in enumerate(recipe.steps) if one.kind is StepKind.MIX), None)
    at = next(n for n, one in enumerate(recipe.steps) if one is step)
    return step.kind is StepKind.PREPARE and first is not None and at < first


def in_class(recipe: TimedRecipe) -> tuple[TimedStep, ...]:
    """The steps of a recipe in class, with scoring and all of baking as one step."""
    steps = [step for step in recipe.steps if not is_ahead(recipe, step)]
    found: list[TimedStep] = []
    for n, step in enumerate(steps):
        if _is_at_the_oven(steps, n):
            step = replace(step, kind=StepKind.BAKE)
            if found and found[-1].kind is StepKind.BAKE:
                found[-1] = _together(found[-1], step)
                continue
        found.append(step)
    return tuple(found)


def _is_at_the_oven(steps: Sequence[TimedStep], n: int) -> bool:
    """Whether it is baking, or scoring with nothing between it and the oven."""
    kinds = [step.kind for step in steps[n:] if step.kind is not StepKind.SCORE]
    own = steps[n].kind in (StepKind.SCORE, StepKind.BAKE)
    return own and kinds[:1] == [StepKind.BAKE]


def _together(first: TimedStep, second: TimedStep) -> TimedStep:
    """Two steps at the oven as one; hands are needed until the first waiting begins."""
    hands, waiting = first.hands_on_min, first.waiting_min + second.waiting_min
    if first.waiting_min:
        waiting += second.hands_on_min
    else:
        hands += second.hands_on_min
    degrees = first.temperature_c if first.temperature_c is not None else second.temperature_c
    return TimedStep(StepKind.BAKE, f"{first.text} {second.text}", hands, waiting, degrees)


def cooling_min(recipe: TimedRecipe) -> int:
    """Minutes from the oven until the bread can be cut."""
    return sum(
        step.hands_on_min + step.waiting_min for step in recipe.steps if step.kind is StepKind.COOL
    )


def steps_behind(steps: Sequence[TimedStep], stage: Stage) -> int:
    """How many of the steps in class a dough has behind it that is brought at a stage.

    0 where the recipe never comes to that stage. A dough is mixed before its first rise.
    """
    if stage is Stage.MIXED:
        first_rise = next((n for n, one in enumerate(steps) if one.kind is StepKind.BULK), None)
        steps = steps[:first_rise]
    kind = ENDS_WITH[stage]
    return max((n + 1 for n, step in enumerate(steps) if step.kind is kind), default=0)
