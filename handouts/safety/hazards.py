"""What can hurt somebody in a class: from its recipes, its shopping, its kitchen."""

from __future__ import annotations

import re

from classes.core.demand import Taught
from classes.plan import ClassPlan, TaughtRevision
from handouts.safety.values import ALWAYS, Hazard
from recipes.core.choices import ComponentKind, StepKind
from recipes.core.formula import FormulaComponent, FormulaIngredient

COOKING = frozenset({Hazard.STOVE, Hazard.COOLED})
COOKED = re.compile(r"\b(?:custard|pastry cream|curd|filling|compote)s?\b", re.IGNORECASE)
ON_THE_STOVE = re.compile(
    r"\b(?:boil|simmer|fry|scald|saucepan|stove|hob)(?:s|ed|ing)?\b", re.IGNORECASE
)


def hazards_of(plan: ClassPlan) -> frozenset[Hazard]:
    """The hazards of the class, which the sheet on the wall is about."""
    found = {*ALWAYS}
    for line in plan.shopping.lines:
        found |= _of_ingredient(plan, line.ingredient)
    for recipe in plan.amounts.recipes:
        found |= hazards_of_recipe(plan, recipe.taught)
    for taught in plan.taught:
        found |= _of_steps(plan, taught)
    return frozenset(found)


def hazards_of_recipe(plan: ClassPlan, taught: Taught) -> frozenset[Hazard]:
    """What can hurt those who make this recipe."""
    found = {*ALWAYS, *_of_steps(plan, plan.revisions[taught.revision])}
    if taught.dusting_flour:
        found.add(Hazard.FLOUR)
    for part in taught.formula.components:
        if _is_cooked(part):
            found |= COOKING
        for line in part.lines:
            found |= _of_ingredient(plan, line.ingredient)
    return frozenset(found)


def _of_ingredient(plan: ClassPlan, ingredient: FormulaIngredient) -> set[Hazard]:
    found = set()
    if ingredient.is_flour:
        found.add(Hazard.FLOUR)
    if "egg" in ingredient.allergens_us or "eggs" in ingredient.allergens_eu:
        found.add(Hazard.RAW_EGG)
    if plan.ingredients[ingredient.key].is_kept_cold:
        found.add(Hazard.CHILLED)
    return found


def _of_steps(plan: ClassPlan, taught: TaughtRevision) -> set[Hazard]:
    """From the kinds of the steps and their words.

    A recipe without written steps may be kneaded by machine, cut and baked, so it counts as if it
    were.
    """
    found = set()
    kinds = {step.kind for step in taught.timed.steps} or set(StepKind)
    if StepKind.BAKE in kinds:
        found.add(Hazard.OVEN)
    if StepKind.SCORE in kinds:
        found.add(Hazard.BLADE)
    if StepKind.MIX in kinds and plan.kitchen.mixers:
        found.add(Hazard.MIXER)
    words = " ".join(step.text for step in taught.timed.steps)
    if ON_THE_STOVE.search(words):
        found.add(Hazard.STOVE)
    if COOKED.search(words):
        found |= COOKING
    return found


def _is_cooked(part: FormulaComponent) -> bool:
    return part.kind is ComponentKind.ROUX or COOKED.search(part.name) is not None
