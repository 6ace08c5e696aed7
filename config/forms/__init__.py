"""Forms that two people may have open at once, and that are sent only once."""
