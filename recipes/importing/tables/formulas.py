"""Rows of formula tables as lines, and comparing the tables with each other."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal

from recipes.core.choices import ComponentKind
from recipes.core.numbers import HUNDRED, ZERO
from recipes.core.units import Measures, convert
from recipes.core.written import WrittenPart
from recipes.importing import doubts as line_doubts
from recipes.importing.doubts import Doubt
from recipes.importing.tables.reading import (
    Column,
    TableRow,
    first_cell,
    read_head,
    read_row,
)
from recipes.importing.text.headings import Section, kind_named
from recipes.importing.text.words import METRIC
from recipes.importing.values import ReadLine
from recipes.importing.whole import doubts
from recipes.importing.whole.progress import Progress
from wording.figures import plain

TOTALS = {"total", "total formula", "overall formula", "overall", "formula", "total dough"}
_TENTH = Decimal("0.1")
_NEAR = Decimal("0.02")
_ROUNDED = Decimal("0.06")
_LEAST_APART_G = Decimal(3)
_NO_INGREDIENT = {"day", "step", "stage", "part", "lesson", "batch", "class", "no", "number"}
_FIGURES = re.compile(r"\s[0-9]{2,}(?:[.,][0-9]+)?(?: ?k?g)?$")
_LAST_FIGURE = re.compile(r"\s+[0-9]$")


def take_table(reading: Progress, line: str) -> bool:
    """Read a table's head or row; False for a line that is neither."""
    if head := read_head(line):
        reading.table = head
        reading.section = Section.INGREDIENTS
        kind = kind_named(head.label.lower().split())
        if kind:
            reading.open(WrittenPart(kind, head.label.capitalize()))
        reading.use()
        return True
    named, cells = first_cell(line) if reading.table and reading.table.parts else ("", line)
    row = read_row(cells, reading.table) if reading.table else None
    if row is None or (row.name.lower().split() or [""])[0] in _NO_INGREDIENT:
        return False
    if named:
        reading.number = _part(reading, named)
    parts = dict.fromkeys(column.label for column, _ in row.numbers if column.unit)
    for label in parts or {"": None}:
        own = [pair for pair in row.numbers if pair[0].label == label or not pair[0].unit]
        _take(reading, row, own, _part(reading, label), line)
    return True


def _part(reading: Progress, label: str) -> int:
    if not label:
        return reading.part_number()
    kind = kind_named(label.lower().split()) or ComponentKind.DOUGH
    return reading.named_part(WrittenPart(kind, label[:1].upper() + label[1:]))


def _take(
    reading: Progress, row: TableRow, cells: Sequence[tuple[Column, Decimal]], part: int, line: str
) -> None:
    masses = sorted(
        ((column, value) for column, value in cells if column.unit),
        key=lambda cell: cell[0].unit is not None and cell[0].unit.name not in METRIC,
    )
    percents = [value for column, value in cells if not column.unit]
    grams = [_grams(column, value) for column, value in masses]
    if row.is_total:
        reading.totals += [(part, mass) for mass in grams[:1]]
        reading.use()
        return
    name = _LAST_FIGURE.sub("", row.name)
    told: list[Doubt] = []
    if len(grams) > 1 and abs(grams[1] - grams[0]) > max(grams[0] * _ROUNDED, _LEAST_APART_G):
        told.append(line_doubts.AmountsDisagree(grams[0], grams[1]))
    if left := _FIGURES.search(name):
        told.append(line_doubts.NumberUnread(left[0].strip()))
    amount = f"{plain(grams[0])} g" if grams else f"{plain(percents[0])} %"
    reading.add(f"{amount} {name}", part, told, line)
    if percents:
        reading.lines[-1] = replace(reading.lines[-1], percent=percents[0])


def _grams(column: Column, value: Decimal) -> Decimal:
    if column.unit is None or column.unit.name == "g":
        return value
    grams = value * convert(Decimal(1), column.unit, Measures.MASS)
    return grams.quantize(_TENTH, ROUND_HALF_UP) if column.unit.name != "kg" else value * 1000


def checked_percents(lines: Sequence[ReadLine]) -> list[ReadLine]:
    """The lines, with doubts if percentage and mass do not fit the rest of their part."""
    flours: dict[int, list[Decimal]] = {}
    for line in lines:
        if line.percent and line.written.mass_g:
            flours.setdefault(line.part, []).append(line.written.mass_g * HUNDRED / line.percent)
    return [_checked(line, flours.get(line.part, [])) for line in lines]


def _checked(line: ReadLine, flours: Sequence[Decimal]) -> ReadLine:
    mass_g = line.written.mass_g
    if not line.percent or not mass_g or len(flours) < 3:
        return line
    due_g = sorted(flours)[len(flours) // 2] * line.percent / HUNDRED
    digits = line.percent.as_tuple().exponent
    least = due_g / line.percent * Decimal(1).scaleb(digits if isinstance(digits, int) else 0)
    if abs(due_g - mass_g) <= max(due_g * _ROUNDED, least, Decimal(1)):
        return line
    apart = line_doubts.AmountsDisagree(mass_g, due_g.quantize(_TENTH, ROUND_HALF_UP))
    return replace(line, doubts=(*line.doubts, apart))


def worked_out(
    lines: Sequence[ReadLine], total_g: Decimal | None, flour_g: Decimal | None, *, sure: bool
) -> list[ReadLine]:
    """Lines with only percentages, given grams as far as the total or its flour is known."""
    bare = [line for line in lines if line.percent is not None and line.written.mass_g is None]
    weighed = any(line.written.mass_g for line in lines)
    percents = sum((line.percent or ZERO for line in bare), ZERO)
    made = []
    for line in lines:
        if line in bare and line.percent is not None:
            one_g = flour_g / HUNDRED if flour_g else total_g and percents and total_g / percents
            line = _worked_out(line, line.percent, None if weighed else one_g or None, sure)
        made.append(line)
    return made


def _worked_out(line: ReadLine, percent: Decimal, one_g: Decimal | None, sure: bool) -> ReadLine:
    told = tuple(doubt for doubt in line.doubts if not isinstance(doubt, line_doubts.NoAmount))
    if one_g is None:
        return replace(line, doubts=(*told, doubts.OnlyPercent(percent)))
    grams = (percent * one_g).quantize(_TENTH, ROUND_HALF_UP)
    told = told if sure else (*told, doubts.WorkedOutByPercent(percent))
    return replace(line, written=replace(line.written, mass_g=grams), doubts=told)


def is_total(part: WrittenPart) -> bool:
    return part.name.lower() in TOTALS


def without_total(
    parts: Sequence[WrittenPart], lines: Sequence[ReadLine]
) -> tuple[list[WrittenPart], list[ReadLine], list[Doubt]]:
    """Parts and lines without a total formula that other parts make up, compared with them."""
    filled = {line.part for line in lines}
    total = next((n for n, part in enumerate(parts) if is_total(part) and n in filled), None)
    doughs = [n for n, part in enumerate(parts) if n != total and n in filled
              and part.kind is ComponentKind.DOUGH]  # fmt: skip
    if total is None or not doughs:
        return list(parts), list(lines), []
    told = [
        doubts.TotalDisagrees(line.written.ingredient.name, line.written.mass_g, made_g)
        for line in lines
        if line.part == total and line.match.key and line.written.mass_g
        and _apart(line.written.mass_g, made_g := _made(line.match.key, total, lines))
    ]  # fmt: skip
    kept = [
        replace(line, part=line.part - (line.part > total)) for line in lines if line.part != total
    ]
    return [part for n, part in enumerate(parts) if n != total], kept, list(told)


def _made(key: str, total: int, lines: Sequence[ReadLine]) -> Decimal:
    own = (line for line in lines if line.part != total and line.match.key == key)
    return sum((line.written.mass_g or ZERO for line in own), ZERO)


def _apart(said_g: Decimal, made_g: Decimal) -> bool:
    return abs(said_g - made_g) > max(said_g * _NEAR, _LEAST_APART_G)
