"""Filters for the papers, and for the kitchen at home, whose own units come first."""

from __future__ import annotations

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from classes.home_kitchen import words as home
from wording import durations, masses, moments

register = template.Library()

for words in (
    durations.total_minutes,
    home.in_pans,
    home.size,
    home.warmth,
    masses.counted,
    masses.number,
    masses.off_by,
    masses.scoop_words,
    masses.spooned,
    masses.tenth,
    moments.instant,
):
    register.filter(words.__name__, words)


@register.filter
def large_clock(label: str) -> SafeString:
    """A time in large type; the name of another day, and a repeated time's offset, in small."""
    clock, _, offset = label.partition(" (")
    day, _, time = clock.partition(" ")
    shown = format_html('<span class="offset">{}</span> {}', day, time) if day.isalpha() else clock
    if not offset:
        return format_html("{}", shown)
    return format_html('{} <span class="offset">({}</span>', shown, offset)
