"""The steps of a recipe as a class does them: ahead, at the benches, or at the oven."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from classes.core.demand import DEMONSTRATION
from classes.core.hours.problem.values import RISES, Mixing, TimedRecipe
from classes.core.hours.problem.work import OvenStage
from classes.core.keys import Stage
from recipes.core.choices import StepKind, Worked
from recipes.core.written import WrittenStep

ENDS_WITH = {
    Stage.MIXED: StepKind.MIX,
    Stage.RISEN: StepKind.BULK,
    Stage.SHAPED: StepKind.PROOF,
}


@dataclass(frozen=True, slots=True)
class StagedBake(WrittenStep):
    """Scoring and all of baking as one step, with `stages` if the oven is turned."""

    stages: tuple[OvenStage, ...] = ()


_AFTER_MIXING = frozenset({*RISES, StepKind.DIVIDE, StepKind.BAKE})


def first_mix(recipe: TimedRecipe) -> WrittenStep | None:
    """The step in which a dough begins."""
    return next((step for step in recipe.steps if step.kind is StepKind.MIX), None)


def is_ahead(recipe: TimedRecipe, step: WrittenStep) -> bool:
    """Whether a step is done before the class: it prepares something for the first mixing."""
    first = next((n for n, step in enumerate(recipe.steps) if step.kind is StepKind.MIX), None)
    at = next(n for n, other in enumerate(recipe.steps) if other is step)
    return step.kind is StepKind.PREPARE and first is not None and at < first


def in_class(recipe: TimedRecipe) -> tuple[WrittenStep, ...]:
    """The steps of a recipe in class, with scoring and all of baking as one step."""
    steps = [step for step in recipe.steps if not is_ahead(recipe, step)]
    found: list[WrittenStep] = []
    for n, step in enumerate(steps):
        if _is_at_the_oven(steps, n):
            step = replace(step, kind=StepKind.BAKE)
            if found and found[-1].kind is StepKind.BAKE:
                found[-1] = _together(found[-1], step)
                continue
        found.append(step)
    return tuple(found)


def _is_at_the_oven(steps: Sequence[WrittenStep], n: int) -> bool:
    """Whether it is baking, or scoring with nothing between it and the oven."""
    kinds = [step.kind for step in steps[n:] if step.kind is not StepKind.SCORE]
    own = steps[n].kind in (StepKind.SCORE, StepKind.BAKE)
    return own and kinds[:1] == [StepKind.BAKE]


def _together(first: WrittenStep, second: WrittenStep) -> WrittenStep:
    """Two steps at the oven as one; hands are needed until the first waiting begins."""
    hands, waiting = first.hands_on_min, first.waiting_min + second.waiting_min
    if first.waiting_min:
        waiting += second.hands_on_min
    else:
        hands += second.hands_on_min
    hot = first if first.temperature_c is not None else second
    text = f"{first.text} {second.text}"
    heat = hot.temperature_c, hot.temperature_of
    return StagedBake(StepKind.BAKE, text, hands, waiting, *heat, stages=_stages(first, second))


def stages_of(step: WrittenStep) -> tuple[OvenStage, ...]:
    """The stages of a bake; none if the oven stays at one temperature."""
    return step.stages if isinstance(step, StagedBake) else ()


def _stages(first: WrittenStep, second: WrittenStep) -> tuple[OvenStage, ...]:
    """The stages of both if the oven is turned between them; scoring is not in the oven."""
    own = stages_of(first)
    before = own or (OvenStage(first.waiting_min, first.oven_c),)
    minutes = second.minutes if first.waiting_min else second.waiting_min
    if not first.waiting_min or second.oven_c in (None, before[-1].temperature_c):
        longer = replace(before[-1], minutes=before[-1].minutes + minutes)
        return (*before[:-1], longer) if own else ()
    return (*before, OvenStage(minutes, second.oven_c))


def cooling_steps(recipe: TimedRecipe) -> tuple[WrittenStep, ...]:
    """The cooling that ends a recipe after a bake; any earlier one is an ordinary wait."""
    steps = list(in_class(recipe))
    found: list[WrittenStep] = []
    while steps and steps[-1].kind is StepKind.COOL:
        found.insert(0, steps.pop())
    return tuple(found) if steps and steps[-1].kind is StepKind.BAKE else ()


def cooling_min(recipe: TimedRecipe) -> int:
    """Minutes from the oven until the bread can be cut."""
    return sum(step.minutes for step in cooling_steps(recipe))


def dough_mixing(recipe: TimedRecipe) -> WrittenStep | None:
    """The step after which the dough is mixed: the last one of mixing before it rises or is shaped.

    Whisking dry ingredients and cooking a roux come before it.
    """
    found: WrittenStep | None = None
    for step in in_class(recipe):
        if step.kind in _AFTER_MIXING and found is not None:
            break
        if step.kind is StepKind.MIX and step.worked is not Worked.PAN:
            found = step
    return found


def steps_behind(steps: Sequence[WrittenStep], stage: Stage) -> int:
    """How many of the steps in class are already done for a dough brought at a stage.

    0 if the recipe never reaches that stage. A dough is mixed before its first rise.
    """
    if stage is Stage.MIXED:
        first_rise = next((n for n, step in enumerate(steps) if step.kind is StepKind.BULK), None)
        steps = steps[:first_rise]
    kind = ENDS_WITH[stage]
    return max((n + 1 for n, step in enumerate(steps) if step.kind is kind), default=0)


def is_for_machine(step: WrittenStep) -> bool:
    """Whether a recipe has a step mixed by machine."""
    return step.kind is StepKind.MIX and step.worked is Worked.MACHINE


def mixing_of(recipe: TimedRecipe) -> Mixing:
    """Who mixes a recipe by mixer; nobody if only a demonstration would and there is none.

    It ignores the kitchen's mixers: the setting counts, and a lack of mixers is reported.
    """
    lacks_it = recipe.mixing is Mixing.SHOWN and recipe.demonstration is None
    return Mixing.HAND if lacks_it else recipe.mixing


def goes_into_mixer(recipe: TimedRecipe, step: WrittenStep, who: str, *, has_mixers: bool) -> bool:
    """Whether the dough of a station, or of the demonstration, is mixed by mixer in a step."""
    mixing = mixing_of(recipe)
    by_mixer = mixing is Mixing.MIXER or (mixing is Mixing.SHOWN and who == DEMONSTRATION)
    return has_mixers and by_mixer and is_for_machine(step)


def worked_in_class(recipe: TimedRecipe, step: WrittenStep, *, has_mixers: bool) -> Mixing | None:
    """How a class does a step for a machine; None for others, which follow the recipe."""
    if not is_for_machine(step):
        return None
    return mixing_of(recipe) if has_mixers else Mixing.HAND


def students_use_mixer(recipe: TimedRecipe, *, has_mixers: bool) -> bool | None:
    """Whether students mix a recipe by mixer; None if its steps do not say."""
    if not has_mixers or mixing_of(recipe) is not Mixing.MIXER:
        return False
    mixes = [step for step in recipe.steps if step.kind is StepKind.MIX]
    if any(map(is_for_machine, mixes)):
        return True
    is_unsaid = not mixes or any(step.worked is None for step in mixes)
    return None if is_unsaid else False
