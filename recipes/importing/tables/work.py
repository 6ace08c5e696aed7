"""Tables of the work: a row for a step, with its time and temperature in columns of their own."""

from __future__ import annotations

from collections.abc import Sequence

from recipes.importing.tables.reading import LONGEST_ROW, cells_of
from recipes.importing.text.words import word_set

_WORK = word_set("process stage what operation work phase task action activity instruction do")
_NUMBERS = word_set("step no nr # number")
_TIME = word_set("time duration minutes min mins hours hrs h long")
_HEAT = word_set("temp temperature heat at c f °c °f oven degrees")
_AROUND = word_set("how to for in of the target note notes remarks comment comments speed")
_UNITS = {
    **dict.fromkeys(("h", "hrs", "hours"), "h"),
    **dict.fromkeys(("min", "mins", "minutes"), "min"),
    **dict.fromkeys(("c", "°c"), "°C"),
    **dict.fromkeys(("f", "°f"), "°F"),
}

# What is behind a bare number in each column; None for a column that only counts the steps.
WorkHead = tuple[str | None, ...]


def read_work_head(line: str) -> WorkHead | None:
    """The columns of a table's head that has steps and their times or temperatures."""
    cells = cells_of(line) if len(line) < LONGEST_ROW else None
    named = [cell.lower().strip("*_: ").replace("(", " ").replace(")", " ").split()
             for cell in cells or ()]  # fmt: skip
    known = _WORK | _NUMBERS | _TIME | _HEAT | _AROUND
    if not named or not all(set(words) <= known for words in named):
        return None
    measured = [bool(set(words) & (_TIME | _HEAT)) for words in named]
    if measured[0] or not any(measured):
        return None
    counts = bool(set(named[0]) & _NUMBERS) and len(named) > 2 and bool(set(named[1]) & _WORK)
    units = [_unit(words) if is_measure else ""
             for words, is_measure in zip(named, measured, strict=True)]  # fmt: skip
    return (None if counts else units[0], *units[1:])


def _unit(words: Sequence[str]) -> str:
    return next((_UNITS[word] for word in words if word in _UNITS), "")


def read_work(line: str, head: WorkHead) -> str:
    """A row of such a table as a step, `Mix | 10 min | 26 °C`; nothing for any other line."""
    cells = cells_of(line) if len(line) < LONGEST_ROW else None
    if cells is None or len(cells) > len(head):
        return ""
    told = (f"{cell} {unit}" if unit and cell.replace(".", "").isdigit() else cell
            for cell, unit in zip(cells, head, strict=False) if unit is not None)  # fmt: skip
    return " | ".join(filter(None, told))
