"""Filters for lengths, loads, gaps, bowls, and the names of arrangements."""

from django import template

from wording import figures, packing, sizes

register = template.Library()

for words in (
    figures.times,
    packing.gap,
    packing.how_many,
    packing.lies,
    packing.pattern_note,
    packing.verdict,
    packing.wall,
    sizes.length,
    sizes.liters,
    sizes.load,
    sizes.pan_size,
    sizes.pan_words,
    sizes.us_cups,
):
    register.filter(words.__name__, words)
