"""What a kitchen at home may use instead of what a class weighs."""

from __future__ import annotations

from classes.plan import ClassPlan, IngredientFacts
from classes.selectors import ingredient_facts
from recipes.core.exchange.kinds import YEAST_FORMS
from recipes.models import Ingredient


def shelf_of(plan: ClassPlan) -> dict[str, IngredientFacts]:
    """The ingredients of a class, and the yeasts that can replace its yeast, by key."""
    yeasts = Ingredient.objects.filter(key__in=YEAST_FORMS)
    return {**plan.ingredients, **{row.key: ingredient_facts(row) for row in yeasts}}
