"""A recipe rewritten for a kitchen at home."""
