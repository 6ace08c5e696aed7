"""How much a line says: which of its amounts counts, in whose measures, and what it weighs."""
