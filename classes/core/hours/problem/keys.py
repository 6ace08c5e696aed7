"""The keys of the tasks and resources that a class's problem is made of."""

from __future__ import annotations

from classes.core.demand import DEMONSTRATION
from classes.core.hours.problem.values import Group, TimedRecipe
from recipes.core.choices import StepKind
from recipes.core.written import WrittenStep

INSTRUCTOR = "instructor"
CABINET = "cabinet"
REFRIGERATOR = "refrigerator"
WELCOME = "welcome"


def hands_key(who: str) -> str:
    """The resource of a station's hands; the demonstration uses the instructor's."""
    return INSTRUCTOR if who == DEMONSTRATION else f"hands|{who}"


def mixer_key(capacity_g: int) -> str:
    """The resource of all mixers of a capacity in grams."""
    return f"mixers|{capacity_g}"


def key_of(what: str, recipe: TimedRecipe, group: Group) -> str:
    """The key of what a station does for a recipe."""
    return f"{what}|{recipe.key}|{group.station}"


def step_key(step: WrittenStep, number: int, recipe: TimedRecipe, group: Group) -> str:
    """The key of the task or baking for a step in class, by the step's position."""
    return key_of(f"{step.kind}{number}", recipe, group)


def show_key(kind: StepKind, recipe: TimedRecipe) -> str:
    """The key of the task in which everybody watches a step of a recipe."""
    return f"show|{kind}|{recipe.key}"
