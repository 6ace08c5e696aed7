"""The papers of a class, as values, as HTML and as PDF."""
