"""The recipe book: ingredients, and recipes as numbered revisions."""

from recipes.models.ingredients import Ingredient, StarterFlour
from recipes.models.photos import Photo
from recipes.models.recipes import Component, FormulaLine, Recipe, Revision, Step
from recipes.models.variants import Variant, VariantSwap

__all__ = [
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
