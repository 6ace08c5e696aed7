"""Where papers of a class are chosen and printed."""
