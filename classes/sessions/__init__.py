"""Building a class: its form, its recipes, and its roster."""
