"""The recipe book: ingredients, and recipes as numbered revisions."""

from recipes.models.book import Book, book_home_region
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
    "Book",
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
    "book_home_region",
]
