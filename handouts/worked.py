"""How a class works the steps of its recipes, in words: as its hours have it, not as at home."""

from __future__ import annotations

from collections.abc import Mapping

from classes.core.hours.problem import values as values
from classes.core.hours.problem.mixed_by import students_use_mixer, worked_in_class
from classes.hours.selectors import timed_recipe
from classes.models import ClassSession, TaughtRecipe
from recipes.core.choices import Worked
from recipes.selectors import formula_value

_IN_CLASS = {
    values.Mixing.HAND: Worked.HAND.label,
    values.Mixing.SHOWN: values.Mixing.SHOWN.label,
    values.Mixing.MIXER: Worked.MACHINE.label,
}


def ways_of_working(session: ClassSession) -> Mapping[str, tuple[str, ...]]:
    """Of each step of a taught revision, by its key: the way in words, empty where unsaid.

    The class is one fetched `with_plan`.
    """
    return {str(row.revision_id): _ways(row, _has_mixers(session)) for row in session.taught.all()}


def mixed_by_machine(session: ClassSession, row: TaughtRecipe) -> bool | None:
    """Whether the students of a class mix a recipe by mixer; None where it does not say."""
    return students_use_mixer(
        timed_recipe(row, formula_value(row.revision)), has_mixers=_has_mixers(session)
    )


def _has_mixers(session: ClassSession) -> bool:
    return bool(session.kitchen.mixers.all())


def _ways(row: TaughtRecipe, has_mixers: bool) -> tuple[str, ...]:
    recipe = timed_recipe(row, formula_value(row.revision))
    return tuple(_way(recipe, step, has_mixers) for step in recipe.steps)


def _way(recipe: values.TimedRecipe, step: values.TimedStep, has_mixers: bool) -> str:
    in_class = worked_in_class(recipe, step, has_mixers=has_mixers)
    if in_class is not None:
        return _IN_CLASS[in_class]
    return Worked(step.worked).label if step.worked else ""
