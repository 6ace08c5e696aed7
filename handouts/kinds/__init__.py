"""The kinds of paper, one module for each."""
