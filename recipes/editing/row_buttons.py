"""What the add, remove and move-up buttons of a recipe form do to its rows.

A button posts its verb as its name and its row as its value: `add-row` takes `part`, `step` or
`part-0-line`; `remove-row` takes `part-0`, `part-0-line-2` or `step-1`; `raise-row` takes a part
or a step. (A button named plain `remove` would hide the form element's own method of that name.)
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from recipes.core.choices import ComponentKind, StepKind
from recipes.editing.rows import FormRow, RecipeRows, fresh_part

MOST_PARTS = 12
MOST_LINES = 30
MOST_STEPS = 40

AnyRow = TypeVar("AnyRow", bound=FormRow)

ADD, REMOVE, RAISE = VERBS = ("add-row", "remove-row", "raise-row")


@dataclass(frozen=True, slots=True)
class Pressed:
    """A row button that was pressed."""

    verb: str
    target: str


def pressed(data: Mapping[str, str]) -> Pressed | None:
    """The row button that posted the form, if it was one."""
    return next((Pressed(verb, data[verb]) for verb in VERBS if data.get(verb)), None)


def press(rows: RecipeRows, button: Pressed) -> str:
    """Change `rows` in place; return the field or button that gets the focus next.

    If the target is missing or a list is full, the rows stay as they are.
    """
    return {ADD: _add, REMOVE: _remove, RAISE: _raise}[button.verb](rows, button.target)


def _add(rows: RecipeRows, target: str) -> str:
    if target == "part":
        return _add_part(rows)
    if target == "step":
        return _add_step(rows)
    part = _find(rows.parts, target.removesuffix("-line"))
    if part is None or len(part.lines) >= MOST_LINES:
        return ""
    row = FormRow(_next_key("line", part.lines))
    part.lines.append(row)
    return f"{part.key}-{row.key}-amount"


def _add_part(rows: RecipeRows) -> str:
    if len(rows.parts) >= MOST_PARTS:
        return ""
    kind = ComponentKind.PREFERMENT if rows.parts else ComponentKind.DOUGH
    part = fresh_part(_next_key("part", rows.parts), kind=kind)
    rows.parts.append(part)
    return f"{part.key}-kind"


def _add_step(rows: RecipeRows) -> str:
    if len(rows.steps) >= MOST_STEPS:
        return ""
    row = FormRow(_next_key("step", rows.steps), {"kind": StepKind.PREPARE})
    rows.steps.append(row)
    return f"{row.key}-kind"


def _remove(rows: RecipeRows, target: str) -> str:
    part_key, is_line, line_key = target.partition("-line-")
    if is_line:
        part = _find(rows.parts, part_key)
        if part is not None:
            part.lines[:] = [line for line in part.lines if line.key != f"line-{line_key}"]
        return f"add-{part_key}-line"
    if target.startswith("part-"):
        rows.parts[:] = [part for part in rows.parts if part.key != target]
        return "add-part"
    rows.steps[:] = [step for step in rows.steps if step.key != target]
    return "add-step"


def _raise(rows: RecipeRows, target: str) -> str:
    if target.startswith("part-"):
        _raise_in(rows.parts, target)
    else:
        _raise_in(rows.steps, target)
    return f"{target}-kind"


def _raise_in(rows: list[AnyRow], key: str) -> None:
    row = _find(rows, key)
    if row is not None and (place := rows.index(row)) > 0:
        rows.insert(place - 1, rows.pop(place))


def _find(rows: Sequence[AnyRow], key: str) -> AnyRow | None:
    return next((row for row in rows if row.key == key), None)


def _next_key(word: str, rows: Sequence[FormRow]) -> str:
    """A key that no row has; the numbers only identify rows, not their order."""
    return f"{word}-{max((int(row.key.rpartition('-')[2]) for row in rows), default=-1) + 1}"
