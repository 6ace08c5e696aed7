"""recipeInstructions in all their shapes: text, lists, HowToStep, HowToSection, ItemList."""

from __future__ import annotations

from typing import Any

from recipes.importing.method.steps import Method, read_paragraph, read_step
from recipes.importing.schema.plain import one_line, plain_text, texts_of
from recipes.importing.text.headings import read_heading

_DEEPEST = 8
_MOST_STEPS = 400
_MOST_ITEMS = 1000
_LONGEST_HEADING = 60


def read_instructions(method: Method, value: object, depth: int = 0) -> None:
    """Add the steps of a value, without the names of its sections. Never refuses."""
    if depth > _DEEPEST or len(method.drafts) >= _MOST_STEPS:
        return
    if isinstance(value, str):
        _text(method, value)
    elif isinstance(value, list):
        for item in value[:_MOST_ITEMS]:
            if isinstance(item, str) and len(value) > 1:
                _item(method, item)
            else:
                read_instructions(method, item, depth + 1)
    elif isinstance(value, dict):
        _object(method, value, depth)


def _text(method: Method, text: str) -> None:
    """A whole method in one text: each paragraph may hold several steps."""
    for line in plain_text(text).splitlines():
        heading = read_heading(line) if len(line) <= _LONGEST_HEADING else None
        if heading and not heading.rest:
            continue
        if len(method.drafts) < _MOST_STEPS:
            read_paragraph(method, line)


def _item(method: Method, text: str) -> None:
    """One item of a list is one step."""
    if len(method.drafts) < _MOST_STEPS:
        read_step(method, " ".join(plain_text(text).split()))


def _object(method: Method, node: dict[str, Any], depth: int) -> None:
    types = texts_of(node.get("@type"))
    items = node.get("itemListElement", node.get("steps", node.get("item")))
    if any(name.endswith(("HowToSection", "ItemList", "HowTo")) for name in types):
        read_instructions(method, items, depth + 1)
        return
    text = one_line(node.get("text")) or " ".join(texts_of(items)) or one_line(node.get("name"))
    if text:
        _item(method, text)
