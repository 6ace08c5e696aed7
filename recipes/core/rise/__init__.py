"""How long dough rises, at what temperature, and how that looks on a chart."""
