"""The recipe book: ingredients, and recipes as numbered revisions."""

from recipes.models.ingredients import Ingredient, StarterFlour
from recipes.models.recipes import (
    BESIDE_DOUGH,
    Component,
    FormulaLine,
    Photo,
    Recipe,
    Revision,
    Step,
    Variant,
    VariantSwap,
)

__all__ = [
    "BESIDE_DOUGH",
    "Component",
    "FormulaLine",
    "Ingredient",
    "Photo",
    "Recipe",
    "Revision",
    "StarterFlour",
    "Step",
    "Variant",
    "VariantSwap",
]
