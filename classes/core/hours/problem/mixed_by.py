"""Who in a class mixes with a machine: one rule for the plan and for what the papers say."""

from __future__ import annotations

from classes.core.demand import DEMONSTRATION
from classes.core.hours.problem.values import Mixing, TimedRecipe
from recipes.core.choices import StepKind, Worked
from recipes.core.written import WrittenStep


def is_for_machine(step: WrittenStep) -> bool:
    """Whether a recipe has a step mixed by machine."""
    return step.kind is StepKind.MIX and step.worked is Worked.MACHINE


def mixing_of(recipe: TimedRecipe) -> Mixing:
    """Who mixes a recipe by mixer; nobody does where only a demonstration would and there is none.

    It asks for no mixer in the kitchen: what is set is set, and a lack of mixers is said.
    """
    lacks_it = recipe.mixing is Mixing.SHOWN and recipe.demonstration is None
    return Mixing.HAND if lacks_it else recipe.mixing


def goes_into_mixer(recipe: TimedRecipe, step: WrittenStep, who: str, *, has_mixers: bool) -> bool:
    """Whether the dough of a station, or of the demonstration, is mixed by mixer in a step."""
    mixing = mixing_of(recipe)
    by_mixer = mixing is Mixing.MIXER or (mixing is Mixing.SHOWN and who == DEMONSTRATION)
    return has_mixers and by_mixer and is_for_machine(step)


def worked_in_class(recipe: TimedRecipe, step: WrittenStep, *, has_mixers: bool) -> Mixing | None:
    """How a class works a step for a machine; None for others, which keep to the recipe."""
    if not is_for_machine(step):
        return None
    return mixing_of(recipe) if has_mixers else Mixing.HAND


def students_use_mixer(recipe: TimedRecipe, *, has_mixers: bool) -> bool | None:
    """Whether students mix a recipe by mixer; None where its steps do not say."""
    if not has_mixers or mixing_of(recipe) is not Mixing.MIXER:
        return False
    mixes = [step for step in recipe.steps if step.kind is StepKind.MIX]
    if any(map(is_for_machine, mixes)):
        return True
    is_unsaid = not mixes or any(step.worked is None for step in mixes)
    return None if is_unsaid else False
