"""A student's kitchen at home."""
