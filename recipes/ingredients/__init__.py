"""The list of ingredients, and the shared table that fills it."""
