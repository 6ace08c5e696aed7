"""Formula tables: columns of percentages and masses under a head, with a row for an ingredient.

Cells are separated by tabs, bars or spaces. A row may leave cells empty, and may belong to the head
of an earlier table.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.core.units import Unit, parse_unit
from recipes.importing.text.headings import kind_named
from recipes.importing.text.words import word_set

LONGEST_ROW = 200
_MOST_NAME_WORDS = 8
_MOST_LABEL_WORDS = 4
_UNITS = {
    **dict.fromkeys(("g", "gr", "gm", "gram", "grams"), parse_unit("g")),
    **dict.fromkeys(("kg", "kilo", "kilos", "kilograms"), parse_unit("kg")),
    **dict.fromkeys(("lb", "lbs", "pounds"), parse_unit("lb")),
    **dict.fromkeys(("oz", "ounces"), parse_unit("oz")),
}
_PERCENT = word_set("percent percentage baker's% baker% bakers% pct")
_NAMES = word_set("ingredient ingredients item items material materials name")
_PLAIN = word_set("weight mass baker's bakers baker in amount qty quantity")
_PARTS = word_set("part component stage phase section build")
_FIRST = re.compile(r"\|?(?P<cell>[^\t|]{0,40})[\t|](?P<rest>.*)$")
_TOTALS = word_set("total totals sum")
_NUMBER = re.compile(r"-?(?:[0-9]{1,7}(?:[.,][0-9]{1,6})?|[.,][0-9]{1,6})%?")
_THOUSANDS = re.compile(r"[0-9]{1,3},[0-9]{3}")
_GRAMS = re.compile(r"(?<!\S)([0-9.,]+) ?g(?=\s|$)")
_EMPTY = {"-", "–", "—", "/"}
_SPACED = re.compile(r"\S+(?: \S+)*")


@dataclass(frozen=True, slots=True)
class Column:
    """A column of percentages, or of masses in a unit; `label` may name a part.

    `place` is its number among the cells, or where it ends on the line.
    """

    unit: Unit | None
    label: str
    place: int


@dataclass(frozen=True, slots=True)
class TableHead:
    """The columns of numbers; `cells` is how many cells a full row has, 0 when set by spaces.

    `label` is above the names and may open a part. With `parts`, the first column names them.
    """

    columns: tuple[Column, ...]
    cells: int = 0
    label: str = ""
    parts: bool = False

    @property
    def is_of_parts(self) -> bool:
        """Whether each of its columns is of another part."""
        return len({column.label for column in self.columns} - {""}) == len(self.columns) > 1

    @property
    def masses(self) -> tuple[Column, ...]:
        return tuple(column for column in self.columns if column.unit)


@dataclass(frozen=True, slots=True)
class TableRow:
    """A name and its numbers by column; a total has no ingredient's name."""

    name: str
    numbers: tuple[tuple[Column, Decimal], ...]
    is_total: bool


def cells_of(line: str) -> list[str] | None:
    """Cells between tabs or bars, None if there are none."""
    if "\t" in line:
        return [cell.strip() for cell in line.rstrip("\n").split("\t")]
    if "|" in line:
        return [cell.strip() for cell in line.strip().strip("|").split("|")]
    return None


def read_head(line: str) -> TableHead | None:
    """The head of a table with a unit over at least one column, else None."""
    if len(line) > LONGEST_ROW:
        return None
    first, rest = first_cell(line)
    if first.lower() in _PARTS and (head := read_head(rest)):
        return replace(head, parts=True)
    cells = cells_of(line)
    if cells is None:
        spaced = [(found[0], found.end()) for found in _SPACED.finditer(line)]
        alone = len(spaced) == 1 and not line[:4].strip()
        placed = spaced if len(spaced) > 1 or alone else []
    else:
        placed = [(cell, n) for n, cell in enumerate(cells) if cell]
    columns: list[Column | None] = [_column(cell, place) for cell, place in placed]
    label = _label(placed[0][0]) if len(placed) > 1 else ""
    named = bool(placed) and (_is_name(placed[0][0]) or bool(label))
    if not any(columns) and len(columns) > 2:
        named = not line[:1].isspace() and placed[0][1] != 1
        label = ""
        columns[named:] = [_part_column(cell, place) for cell, place in placed[named:]]
    found = [column for column in columns[named:] if column]
    if not found or len(found) != len(columns) - named:
        return None
    return TableHead(tuple(found), len(cells or ()), "" if _is_name(placed[0][0]) else label)


def first_cell(line: str) -> tuple[str, str]:
    """The first of a row's cells, and the line without it; an empty one if there are no cells."""
    found = _FIRST.match(line)
    return (found["cell"].strip(), found["rest"]) if found else ("", line)


def _label(cell: str) -> str:
    """Words over the column of names: `DOUGH`."""
    words = cell.strip(" *_:").split()
    short = 0 < len(words) <= _MOST_LABEL_WORDS and all(map(str.isalpha, words))
    return " ".join(words) if short and _column(cell, 0) is None else ""


def _is_name(cell: str) -> bool:
    return set(cell.lower().strip(" *_:").split()) <= _NAMES


def _column(cell: str, place: int) -> Column | None:
    words = cell.lower().replace("%", "% ").strip(" *_:()").split()
    if not words or len(words) > _MOST_NAME_WORDS or any(map(str.isdigit, cell)):
        return None
    last = words[-1].strip("().")
    is_percent = "%" in cell or last in _PERCENT
    if not is_percent and last not in _UNITS:
        return None
    label = cell.strip(" *_:").split()[:-1] if len(words) > 1 else []
    kept = [word for word in label if word.lower().strip("%()") not in _PLAIN and "%" not in word]
    own = " ".join(kept)
    return Column(None if is_percent else _UNITS[last], own, place)


def _part_column(cell: str, place: int) -> Column | None:
    """A column of grams under the name of a part, or of all of them: `Levain`, `Final dough`."""
    words = cell.lower().strip(" *_:").split()
    short = 0 < len(words) <= _MOST_LABEL_WORDS and all(map(str.isalpha, words))
    named = short and (kind_named(words) or set(words) <= _TOTALS)
    return Column(_UNITS["g"], cell.strip(" *_:"), place) if named else None


def read_row(line: str, head: TableHead) -> TableRow | None:
    """The row of a table, None for a line that is something else."""
    if len(line) > LONGEST_ROW:
        return None
    if head.is_of_parts:
        line = _GRAMS.sub(lambda cell: cell[1].rjust(len(cell[0])), line)
    cells = cells_of(line)
    found = _from_cells(cells, head) if cells is not None else _from_spaces(line, head)
    if found is None:
        return None
    name, numbers = found
    words = name.lower().strip(" *_:").split()
    if len(words) > _MOST_NAME_WORDS or name.endswith((".", "!")):
        return None
    is_total = not any(map(str.isalpha, name)) or words[0].strip(":") in _TOTALS
    return TableRow(name.strip(" *_:"), tuple(numbers), is_total)


_Found = tuple[str, list[tuple[Column, Decimal]]]


def _from_cells(cells: Sequence[str], head: TableHead) -> _Found | None:
    cells = ["" if cell in _EMPTY else cell for cell in cells]
    name, rest = cells[0], list(cells[1:])
    if len(cells) == head.cells or len(rest) >= len(head.columns):
        by_place = {column.place: column for column in head.columns}
        placed = [(by_place.get(n), cell) for n, cell in enumerate(cells) if n and cell]
    else:
        filled = [cell for cell in rest if cell]
        over = head.columns if len(filled) == len(head.columns) else head.masses
        placed = list(zip(over, filled, strict=False)) if len(filled) <= len(over) else []
    numbers = [
        (column, value)
        for column, cell in placed
        if column and (value := _number(cell, column)) is not None
    ]
    return (name, numbers) if numbers and len(numbers) == len(placed) else None


def _from_spaces(line: str, head: TableHead) -> _Found | None:
    """The numbers at the end of a line, each under the column that ends nearest."""
    words = list(re.finditer(r"\S+", line))
    at = len(words)
    while (
        at
        and len(words) - at < len(head.columns)
        and (_NUMBER.fullmatch(words[at - 1][0]) or words[at - 1][0] in _EMPTY)
    ):
        at -= 1
    ends = words[at:]
    if not ends:
        return None
    free = list(head.columns)
    over = free
    if len(ends) < len(free):
        over = [_nearest(free, word.end()) for word in ends]
        if len(set(over)) < len(over):
            return None
    values = [_number(word[0], column) for word, column in zip(ends, over, strict=True)]
    numbers = [(c, value) for c, value in zip(over, values, strict=True) if value is not None]
    return line[: ends[0].start()].strip(), numbers


def _nearest(columns: Sequence[Column], end: int) -> Column:
    return min(columns, key=lambda column: abs(column.place - end))


def _number(text: str, column: Column) -> Decimal | None:
    """A bare number; a comma before three digits of grams sets thousands apart."""
    text = text.strip(" *_")
    if not _NUMBER.fullmatch(text):
        return None
    whole = column.unit is not None and column.unit.name == "g"
    bare = text.rstrip("%")
    if whole and _THOUSANDS.fullmatch(bare):
        return Decimal(bare.replace(",", ""))
    return Decimal(bare.replace(",", "."))
