"""A plan at once: jobs placed one after the other."""
