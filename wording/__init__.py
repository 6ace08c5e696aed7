"""How figures, times and lists become words, the same on every page, paper, letter and file."""
