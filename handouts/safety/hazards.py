"""What can hurt somebody in a class: from its recipes, its shopping, its kitchen."""

from __future__ import annotations

import re
from collections.abc import Iterator

from classes.plan import ClassPlan
from handouts.safety.values import Hazard
from recipes.core.choices import ComponentKind, StepKind
from recipes.core.formula import FormulaComponent

COOKED = re.compile(r"\b(?:custard|pastry cream|curd|filling|compote)s?\b", re.IGNORECASE)
ON_THE_STOVE = re.compile(
    r"\b(?:boil|simmer|fry|scald|saucepan|stove|hob)(?:s|ed|ing)?\b", re.IGNORECASE
)


def hazards_of(plan: ClassPlan) -> frozenset[Hazard]:
    """The hazards of the class, which cautions are about.

    A recipe without written steps may be kneaded by machine, cut and baked, so it counts as if it
    were.
    """
    found = {*_ingredient_hazards(plan), *_cooking_hazards(plan)}
    steps = set()
    for taught in plan.taught:
        steps |= {step.kind for step in taught.timed.steps} or set(StepKind)
    if StepKind.BAKE in steps:
        found.add(Hazard.OVEN)
    if StepKind.SCORE in steps:
        found.add(Hazard.BLADE)
    if StepKind.MIX in steps and plan.kitchen.mixers:
        found.add(Hazard.MIXER)
    return frozenset(found)


def _ingredient_hazards(plan: ClassPlan) -> Iterator[Hazard]:
    for line in plan.shopping.lines:
        ingredient = line.ingredient
        if ingredient.is_flour:
            yield Hazard.FLOUR
        if "egg" in ingredient.allergens_us or "eggs" in ingredient.allergens_eu:
            yield Hazard.RAW_EGG
        if plan.ingredients[line.ingredient.key].is_kept_cold:
            yield Hazard.CHILLED


def _cooking_hazards(plan: ClassPlan) -> Iterator[Hazard]:
    """Parts that are cooked and cooled, and what the steps say about the stove."""
    for recipe in plan.amounts.recipes:
        if any(map(_is_cooked, recipe.taught.formula.components)):
            yield from (Hazard.STOVE, Hazard.COOLED)
    for taught in plan.taught:
        words = " ".join(step.text for step in taught.timed.steps)
        if ON_THE_STOVE.search(words):
            yield Hazard.STOVE
        if COOKED.search(words):
            yield from (Hazard.STOVE, Hazard.COOLED)


def _is_cooked(part: FormulaComponent) -> bool:
    return part.kind is ComponentKind.ROUX or COOKED.search(part.name) is not None
