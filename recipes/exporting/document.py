"""A recipe as our own JSON, without any loss.

Numbers are written as text in plain digits, so that no reader turns them into binary floats.
"""

from __future__ import annotations

import json
from decimal import Decimal
from typing import Any

from recipes.core.choices import IngredientKind
from recipes.core.written import (
    NamedIngredient,
    Written,
    WrittenPart,
    WrittenRecipe,
    values_of,
)
from recipes.importing.document import FORMAT, VERSION
from wording.figures import plain


def document(written: WrittenRecipe) -> dict[str, Any]:
    """Our own JSON as a dictionary; `recipes.importing.document` reads it back."""
    return {
        "format": FORMAT,
        "version": VERSION,
        **_plain_values(written),
        "components": [_part(part) for part in written.parts],
        "steps": [_plain_values(step) for step in written.steps],
    }


def _plain_values(written: Written) -> dict[str, Any]:
    values = values_of(written).items()
    return {name: plain(value) if isinstance(value, Decimal) else value for name, value in values}


def _part(part: WrittenPart) -> dict[str, Any]:
    return {
        **_plain_values(part),
        "lines": [
            {"ingredient": _ingredient(line.ingredient), **_plain_values(line)}
            for line in part.lines
        ],
    }


def _ingredient(named: NamedIngredient) -> dict[str, Any]:
    """The ingredient as a line names it; a starter with its water, if known, and its flours."""
    found: dict[str, Any] = {"key": named.key, "name": named.name, "kind": named.kind}
    if named.kind is not IngredientKind.STARTER:
        return found
    hydration = named.hydration_percent
    found["hydration_percent"] = None if hydration is None else plain(hydration)
    found["flours"] = [
        {"key": flour.key, "name": flour.name, "percent": plain(flour.percent)}
        for flour in named.flours
    ]
    return found


def document_text(written: WrittenRecipe) -> str:
    """Our own JSON as text."""
    return json.dumps(document(written), ensure_ascii=False, indent=2) + "\n"
