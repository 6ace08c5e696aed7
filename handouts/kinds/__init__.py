"""The kinds of paper, a module each."""
