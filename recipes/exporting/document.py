"""A recipe out in our own JSON, without any loss.

Numbers are written as text in plain digits, so that no reader makes binary floats of them.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from decimal import Decimal
from typing import Any

from recipes.core.written import Written, WrittenPart, WrittenRecipe, values_of
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
            {"ingredient": asdict(line.ingredient), **_plain_values(line)} for line in part.lines
        ],
    }


def document_text(written: WrittenRecipe) -> str:
    """Our own JSON as text."""
    return json.dumps(document(written), ensure_ascii=False, indent=2) + "\n"
