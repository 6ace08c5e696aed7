"""Pans and what is in them: sizes, packing, loads, and drawings."""
