"""The rows of a recipe form as raw values, before any checks.

A posted row is identified by its field names (`part-0-kind`, `part-0-line-2-amount`,
`step-1-text`). Rows keep the order in which they were posted, so a new row needs no renumbering.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from recipes.core.choices import ComponentKind, StepKind
from recipes.core.errors import BakingError
from recipes.core.reading import read_quantity
from recipes.core.regions import unlike_local
from recipes.core.units import parse_unit
from recipes.core.written import (
    WrittenLine,
    WrittenPart,
    WrittenRecipe,
    WrittenStep,
    names_of,
    values_of,
)
from recipes.ingredients.shelf import Shelf
from wording.figures import plain

FRESH_LINES = 4

HEAD_FIELDS = names_of(WrittenRecipe)
PART_FIELDS = names_of(WrittenPart)
LINE_FIELDS = ("amount", "unit", "ingredient", "note")
STEP_FIELDS = names_of(WrittenStep)

_KEY = r"-[0-9]{1,3}"
_PART = re.compile(rf"(part{_KEY})-({'|'.join(PART_FIELDS)})")
_LINE = re.compile(rf"(part{_KEY})-(line{_KEY})-({'|'.join(LINE_FIELDS)})")
_STEP = re.compile(rf"(step{_KEY})-({'|'.join(STEP_FIELDS)})")


@dataclass
class FormRow:
    """Values by field name; `key` is the row's own part of the field names."""

    key: str
    values: dict[str, Any] = field(default_factory=dict)


@dataclass
class PartRow(FormRow):
    """A component and its lines."""

    lines: list[FormRow] = field(default_factory=list)


@dataclass
class RecipeRows:
    """A whole recipe form."""

    head: dict[str, Any] = field(default_factory=dict)
    parts: list[PartRow] = field(default_factory=list)
    steps: list[FormRow] = field(default_factory=list)


def fresh_rows() -> RecipeRows:
    """A new recipe: one dough with a few empty lines, and the usual steps."""
    dough = fresh_part("part-0", kind=ComponentKind.DOUGH, name="Dough")
    kinds = (StepKind.MIX, StepKind.BULK, StepKind.DIVIDE, StepKind.PROOF, StepKind.BAKE)
    steps = [FormRow(f"step-{n}", {"kind": kind}) for n, kind in enumerate(kinds)]
    return RecipeRows({"pieces": 1, "piece_name": "loaf"}, [dough], steps)


def fresh_part(key: str, **values: Any) -> PartRow:
    """A part with a few empty lines."""
    return PartRow(key, values, [FormRow(f"line-{n}") for n in range(FRESH_LINES)])


def rows_of(written: WrittenRecipe, shelf: Shelf) -> RecipeRows:
    """The rows that show a written recipe; `label` names an ingredient."""
    return RecipeRows(
        head=values_of(written),
        parts=[_part_row(n, part, shelf) for n, part in enumerate(written.parts)],
        steps=[FormRow(f"step-{n}", values_of(step)) for n, step in enumerate(written.steps)],
    )


def _part_row(n: int, part: WrittenPart, shelf: Shelf) -> PartRow:
    lines = [FormRow(f"line-{m}", _line_values(line, shelf)) for m, line in enumerate(part.lines)]
    return PartRow(f"part-{n}", values_of(part), lines)


def _line_values(line: WrittenLine, shelf: Shelf) -> dict[str, Any]:
    """A line as it was typed: `2 1/2` and `cup`, or the grams."""
    amount, unit = plain(line.grams), "g"
    if line.entered:
        try:
            quantity = read_quantity(line.entered)
            said = unlike_local(parse_unit(quantity.word or "g"), shelf.region)
        except BakingError:
            said = None
        # Words that came from elsewhere say nothing here; the grams mean the same.
        if said:
            amount, unit = quantity.typed, said.name
    ingredient = shelf.label(line.ingredient)
    return {"amount": amount, "unit": unit, "ingredient": ingredient, "note": line.note}


def posted_rows(data: Mapping[str, str]) -> RecipeRows:
    """The rows of a posted form, in the order they came; unknown names are left out."""
    parts: dict[str, PartRow] = {}
    lines: dict[tuple[str, str], FormRow] = {}
    steps: dict[str, FormRow] = {}
    for name in data:
        if found := _LINE.fullmatch(name):
            part, key, column = found.groups()
            lines.setdefault((part, key), FormRow(key)).values[column] = data[name]
        elif found := _PART.fullmatch(name):
            parts.setdefault(found[1], PartRow(found[1])).values[found[2]] = data[name]
        elif found := _STEP.fullmatch(name):
            steps.setdefault(found[1], FormRow(found[1])).values[found[2]] = data[name]
    for (part, _), row in lines.items():
        if part in parts:
            parts[part].lines.append(row)
    head = {name: data[name] for name in HEAD_FIELDS if name in data}
    return RecipeRows(head, list(parts.values()), list(steps.values()))
