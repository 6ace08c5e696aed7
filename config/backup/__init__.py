"""The copy of everything that cannot be replaced, and the list of what was erased."""
