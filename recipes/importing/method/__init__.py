"""The method of a pasted recipe: steps, times and temperatures."""
