"""Filters that write as a kitchen does: `{{ step.temperature_c|degrees_in:paper.writing }}`."""

from __future__ import annotations

from django import template

from wording.writing import Writing

register = template.Library()


def _filter(name: str, words: str) -> None:
    def shown(value: object, writing: Writing) -> str:
        text: str = getattr(writing, words)(value)
        return text

    register.filter(name, shown)


_filter("degrees_in", "degrees")
_filter("heat_in", "heat_of")
_filter("stages_in", "in_stages")
_filter("one_scale_in", "one_scale")
_filter("difference_in", "difference")
_filter("ounces_in", "beside")
