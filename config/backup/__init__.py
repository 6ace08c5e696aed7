"""The copy of everything that cannot be made anew, and the list of what was erased."""
