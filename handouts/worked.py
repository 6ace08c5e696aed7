"""How a class works the steps of its recipes, in words: as its hours have it, not as at home."""

from __future__ import annotations

from classes.core.hours.problem.mixed_by import students_use_mixer, worked_in_class
from classes.core.hours.problem.values import Mixing, TimedStep
from classes.plan import ClassPlan, TaughtRevision
from recipes.core.choices import Worked

_IN_CLASS = {
    Mixing.HAND: Worked.HAND.label,
    Mixing.SHOWN: Mixing.SHOWN.label,
    Mixing.MIXER: Worked.MACHINE.label,
}


def way_in_words(plan: ClassPlan, taught: TaughtRevision, step: TimedStep) -> str:
    """The way in which a class works a step of a recipe; empty where that is unsaid."""
    in_class = worked_in_class(taught.timed, step, has_mixers=bool(plan.kitchen.mixers))
    if in_class is not None:
        return _IN_CLASS[in_class]
    return step.worked.label if step.worked else ""


def mixed_by_machine(plan: ClassPlan, taught: TaughtRevision) -> bool | None:
    """Whether the students of a class mix a recipe by mixer; None where it does not say."""
    return students_use_mixer(taught.timed, has_mixers=bool(plan.kitchen.mixers))
