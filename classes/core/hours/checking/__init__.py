"""Whether a plan keeps the rules, and whether a class fits its hours."""
