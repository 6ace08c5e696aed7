"""Filters for the papers."""

from __future__ import annotations

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from wording import masses, moments

register = template.Library()

for words in (masses.tenth, masses.counted, moments.instant):
    register.filter(words.__name__, words)


@register.filter
def large_clock(label: str) -> SafeString:
    """A time in large type; the offset of one that comes twice stands small below it."""
    clock, _, offset = label.partition(" (")
    if not offset:
        return format_html("{}", clock)
    return format_html('{} <span class="offset">({}</span>', clock, offset)
