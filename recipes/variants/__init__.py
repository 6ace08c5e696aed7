"""Variants of a recipe, for people who must not eat one of its ingredients."""
