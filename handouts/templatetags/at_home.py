"""Filters for the kitchen at home, whose own units come first."""

from django import template

from classes.home_kitchen import words as home
from wording import durations, masses

register = template.Library()

for words in (
    durations.total_minutes,
    home.in_pans,
    home.size,
    home.warmth,
    masses.number,
    masses.off_by,
    masses.scoop_words,
    masses.spooned,
):
    register.filter(words.__name__, words)
