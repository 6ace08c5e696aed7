"""A pasted recipe as text: its lines, amounts, names and parts."""
