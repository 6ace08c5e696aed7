"""How long dough rises, at what temperature, and a chart of it."""
