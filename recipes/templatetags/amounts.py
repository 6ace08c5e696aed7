"""Filters for masses, percentages, temperatures and times."""

from django import template

from wording import durations, figures, heat, masses, starters

register = template.Library()

for words in (
    durations.minutes,
    figures.percent,
    figures.percent_column,
    figures.share,
    figures.signed,
    heat.degrees,
    heat.degrees_of,
    heat.in_stages,
    masses.about,
    masses.cup,
    masses.exact,
    masses.exact_pooled,
    masses.grams,
    starters.made_of,
):
    register.filter(words.__name__, words)
