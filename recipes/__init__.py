"""The recipe book, and in `recipes.baking` the arithmetic behind it."""
