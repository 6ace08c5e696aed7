"""The recipe book: the list, the search, and a recipe's own page."""
