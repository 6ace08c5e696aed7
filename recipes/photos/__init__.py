"""Photos of recipes."""
