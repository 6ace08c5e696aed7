"""Pans and what lies in them: sizes, packing, loads, and drawings."""
