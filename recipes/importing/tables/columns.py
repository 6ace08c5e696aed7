"""Two lists printed side by side, put one after the other."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import groupby, takewhile

from recipes.importing.tables.reading import cells_of, read_head
from recipes.importing.text.headings import Section, read_heading

_SIDES = re.compile(r"^(?P<left>.*?\S)?(?:\s{4,}|\s*\t\s*|\s+\|\s+)(?P<right>\S.*)$")
_SPACED = re.compile(r"^(?P<left>.*?\S)\s{4,}(?P<right>\S.*)$")
_AMOUNT_OF = re.compile(r"^\W{0,3}[0-9½¼¾].*[^\W\d_]{3}")
_STEP = re.compile(r"^[0-9]{1,2}[.)]\s+[^\W\d_]{2}")
# A cell of only a unit, behind the one with its number.
_UNIT_CELL = re.compile(
    r"(?<=[0-9½¼¾])[ ]*[\t|][ ]*(?=(?:kg|gr?|ml|dl|l|oz|lbs?|tsp|tbsp|cups?)[ ]*(?:[\t|]|$))",
    re.IGNORECASE,
)
_BREAD = r"(?:loaves|rolls|buns|pieces|pcs|units|baguettes|bagels|balls|sticks|boules)"
_CELL = r"[ ]*(?:[\t|]|:(?=[ ]))[ ]*"
# A count beside its name, and what one weighs in the next cells.
_COUNT_CELLS = re.compile(
    rf"\b(?:number of )?(?P<name>{_BREAD}){_CELL}(?P<count>[0-9]{{1,3}})"
    r"(?=[ ]*(?:[\t|]|$|[ ]{2}))",
    re.I,
)
_EACH_CELLS = re.compile(
    rf"(?<=\w)[ ]*(?:[\t|]|[ ]{{2}})[ ]*(?:[a-z]+ )?w(?:eigh)?t\.?(?: each)?(?: ?\(g\))?{_CELL}"
    r"(?P<grams>[0-9]{2,4})(?: ?g)?(?=[ ]*(?:[\t|]|$))",
    re.IGNORECASE,
)
_PIECE_CELLS = re.compile(
    rf"\b(?P<count>[0-9]{{1,3}} {_BREAD})[ ]*[\t|][ ]*(?P<each>[0-9]{{2,4}} ?g)\b", re.IGNORECASE
)
_GAPS = re.compile(r"\s{2,}")
_IS_NAME = re.compile(r"[^\d:.]{2,40}")
_IS_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_LEAST_ROWS, _LEAST_STEPS = 2, 3
_LISTS = [Section.INGREDIENTS, Section.METHOD]
LONGEST = 200

Numbered = tuple[int, str]


def unfolded(lines: Sequence[str]) -> list[Numbered]:
    """The lines with their numbers from 1; of lists side by side, the right one comes second."""
    joined = (_joined(line) if len(line) < LONGEST else line for line in lines)
    numbered = list(enumerate(joined, start=1))
    found: list[Numbered] = []
    for blank, block in groupby(numbered, key=lambda pair: not pair[1].strip()):
        rows = list(block)
        found += rows if blank else _in_order(_turned(rows))
    return found


def _joined(line: str) -> str:
    """A line with cells that say one thing joined: `250 | g`, `Loaves | 8 | Unit weight | 760`."""
    text = _UNIT_CELL.sub(" ", line)
    counted = _COUNT_CELLS.sub(r"\g<count> \g<name>", text)
    if counted != text:
        text = _EACH_CELLS.sub(r" of \g<grams> g", counted)
    return _PIECE_CELLS.sub(r"\g<count> of \g<each>", text)


def _turned(rows: list[Numbered]) -> list[Numbered]:
    """A block with a table that has a column for each ingredient, with a row for each instead."""
    cells = [cells_of(line) or _GAPS.split(line.strip()) for _, line in rows]
    for n, names in enumerate(cells):
        behind = ((row, _is_of_numbers(row, len(names))) for row in cells[n + 1 :])
        body = [row for row, _ in takewhile(lambda pair: pair[1], behind)]
        if len(names) > _LEAST_STEPS and body and all(map(_IS_NAME.fullmatch, names[1:])):
            head = "\t".join(["Ingredient", *(row[0] for row in body)])
            turned = [head, *("\t".join(column) for column in zip(names, *body, strict=True))][2:]
            at, end = rows[n][0], n + 1 + len(body)
            return [*rows[:n], (at, head), *((at, row) for row in turned), *rows[end:]]
    return rows


def _is_of_numbers(row: Sequence[str], most: int) -> bool:
    """Whether cells are numbers behind what measures them."""
    measured = read_head(f"Ingredient\t{row[0]}") if len(row) == most else None
    return measured is not None and all(map(_IS_NUMBER.fullmatch, row[1:]))


def _in_order(rows: list[Numbered]) -> list[Numbered]:
    """A block's lines, with those of its right column after the left ones."""
    sides = [_sides(line, _SIDES) for _, line in rows]
    steps = [bool(_STEP.match(right)) for _, right in sides]
    headed = _headed(*sides[0])
    if not headed and sum(steps) < _LEAST_STEPS:
        sides = [_sides(line, _SPACED) for _, line in rows]
        both = [s for s in sides if all(map(_AMOUNT_OF.match, s))]
        if len(both) < _LEAST_ROWS:
            return rows
    left = [(n, text) for (n, _), (text, _) in zip(rows, sides, strict=True) if text]
    right = [(n, text) for (n, _), (_, text) in zip(rows, sides, strict=True) if text]
    return [*left, *right]


def _sides(line: str, pattern: re.Pattern[str]) -> tuple[str, str]:
    """What a line has on the left and on the right; all of it is left if it has no gap."""
    found = pattern.match(line.strip("|") if "\t" not in line else line)
    if len(line) >= LONGEST or found is None:
        return line, ""
    return found["left"] or "", found["right"]


def _headed(left: str, right: str) -> bool:
    """Whether the heads of two columns are those of a list and of its method."""
    found = [read_heading(side) for side in (left, right) if side]
    return [heading and heading.section for heading in found] == _LISTS
