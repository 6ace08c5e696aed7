"""Measured goals of the program: one JSON object a line, the same figures on every machine."""
