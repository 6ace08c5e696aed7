"""Whether the papers of a class agree with each other."""
