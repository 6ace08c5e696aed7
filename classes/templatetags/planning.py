"""Filters that only look up and format what the planning computed."""

from __future__ import annotations

from collections.abc import Container

from django import template

from classes.core.demand import TaughtAmounts, heads_in_words

register = template.Library()


@register.filter
def has(container: Container[object], item: object) -> bool:
    """Whether the item is in the container."""
    return item in container


@register.filter
def heads(recipe: TaughtAmounts) -> str:
    """For whom a recipe's amounts are: `12 bakers, 1 demonstration, 12 loaves brought risen`."""
    return heads_in_words(recipe)
