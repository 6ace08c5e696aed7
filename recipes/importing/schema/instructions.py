"""recipeInstructions in all their shapes: text, lists, HowToStep, HowToSection, ItemList."""

from __future__ import annotations

from typing import Any

from recipes.importing.method.steps import (
    Method,
    read_paragraph,
    read_step,
)
from recipes.importing.schema.plain import (
    one_line,
    plain_text,
    texts_of,
)
from recipes.importing.text.headings import read_heading

_DEEPEST = 8
_MOST_STEPS = 400
_MOST_ITEMS = 1000
_LONGEST_SECTION = 60


def read_instructions(method: Method, value: Any, section: str = "", depth: int = 0) -> None:
    """Add the steps of a value; its sections name their steps. Never refuses."""
    if depth > _DEEPEST or len(method.steps) >= _MOST_STEPS:
        return
    if isinstance(value, str):
        _text(method, value, section)
    elif isinstance(value, list):
        for one in value[:_MOST_ITEMS]:
            if isinstance(one, str) and len(value) > 1:
                _one(method, one, section)
            else:
                read_instructions(method, one, section, depth + 1)
    elif isinstance(value, dict):
        _object(method, value, section, depth)


def _text(method: Method, text: str, section: str) -> None:
    """A whole method in one text: each paragraph may hold several steps."""
    for line in plain_text(text).splitlines():
        heading = read_heading(line) if len(line) <= _LONGEST_SECTION else None
        if heading and not heading.rest:
            section = heading.name
        elif len(method.steps) < _MOST_STEPS:
            read_paragraph(method, line, section)


def _one(method: Method, text: str, section: str) -> None:
    """One item of a list is one step."""
    if len(method.steps) < _MOST_STEPS:
        read_step(method, " ".join(plain_text(text).split()), section)


def _object(method: Method, node: dict[str, Any], section: str, depth: int) -> None:
    types = texts_of(node.get("@type"))
    items = node.get("itemListElement", node.get("steps", node.get("item")))
    if any(one.endswith(("HowToSection", "ItemList", "HowTo")) for one in types):
        name = one_line(node.get("name"))[:_LONGEST_SECTION]
        read_instructions(method, items, name or section, depth + 1)
        return
    text = one_line(node.get("text")) or " ".join(texts_of(items)) or one_line(node.get("name"))
    if text:
        _one(method, text, section)
