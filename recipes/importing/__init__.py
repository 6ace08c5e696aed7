"""Bringing a recipe in: pasted text, Recipe JSON-LD and our own JSON become frozen values.

Everything here but `shelf` is plain Python on `recipes.core`: no Django, no clock, no network.
Ingredients are passed in as `KnownIngredient` values; what was read comes out as a `Reading` with
its doubts.
"""
