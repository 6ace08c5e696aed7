"""The recipe book, and in `recipes.core` the arithmetic behind it."""
