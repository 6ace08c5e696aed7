"""Writing and changing a recipe: the recipe form and the proportions form."""
