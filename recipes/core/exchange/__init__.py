"""One ingredient for another: yeasts, salts, eggs, flours, and allergen swaps."""
