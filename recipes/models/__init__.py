"""The recipe book: ingredients, and recipes as numbered revisions."""

from recipes.models.ingredients import Ingredient, StarterFlour
from recipes.models.photos import Photo
from recipes.models.recipes import BESIDE_DOUGH, Component, FormulaLine, Recipe, Revision, Step
from recipes.models.variants import Variant, VariantSwap

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
