"""Lists with a column for each of several batches: the same recipe once, twice, three times."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from recipes.core.numbers import ZERO
from recipes.core.units import Measures, convert
from recipes.importing.doubts import AmountsDisagree
from recipes.importing.text.numbers import read_amount
from recipes.importing.text.tokens import clean, tokenize
from recipes.importing.values import ReadLine
from recipes.importing.whole.doubts import OtherBatch

_LEAST_LINES = 3
_LEAST_TIMES = Decimal("1.3")
_NEAR, _NEAR_TIMES = Decimal("0.03"), Decimal("0.06")
_MEASURED = (Measures.MASS, Measures.VOLUME)


def of_one_batch(lines: Sequence[ReadLine], due_g: Decimal | None) -> list[ReadLine]:
    """The lines with the amounts of one batch: the one that makes what is due, else the first.

    Where the yield does not tell, each line asks.
    """
    masses = [_columns(line) for line in lines]
    times = _times([row for row in masses if len(row) > 1])
    if not times:
        return list(lines)
    held = [row for row in masses if len(row) == len(times)]
    sums = [sum((row[n] for row in held), ZERO) for n in range(len(times))]
    due = [n for n, made in enumerate(sums) if due_g and abs(made - due_g) <= due_g * _NEAR]
    at = due[0] if due else 0
    return [
        _taken(line, row[at], sure=bool(due)) if len(row) == len(times) else line
        for line, row in zip(lines, masses, strict=True)
    ]


def _columns(line: ReadLine) -> list[Decimal]:
    """The grams of a line's amounts that disagree with each other."""
    told = any(isinstance(doubt, AmountsDisagree) for doubt in line.doubts)
    if not told or not line.written.mass_g or not line.unit or not line.quantity:
        return []
    if line.unit.measures not in _MEASURED:
        return []
    one_g = line.written.mass_g / (
        line.quantity * convert(Decimal(1), line.unit, line.unit.measures)
    )
    tokens = tokenize(clean(line.text))
    found = (read_amount(tokens, n) for n, token in enumerate(tokens) if token.is_number)
    return [
        amount.low * convert(Decimal(1), amount.unit, amount.unit.measures) * one_g
        for amount in found
        if amount and amount.unit and amount.unit.measures is line.unit.measures
        and amount.unit.measures in _MEASURED
    ]  # fmt: skip


def _times(rows: Sequence[Sequence[Decimal]]) -> list[Decimal]:
    """How many times the first column each one is, if that is the same in all rows."""
    if len(rows) < _LEAST_LINES or len({len(row) for row in rows}) > 1:
        return []
    ratios = [sorted(row[n] / row[0] for row in rows) for n in range(len(rows[0]))]
    middle = [column[len(column) // 2] for column in ratios]
    apart = all(times >= _LEAST_TIMES or times <= 1 / _LEAST_TIMES for times in middle[1:])
    same = all(
        abs(one - times) <= times * _NEAR_TIMES
        for column, times in zip(ratios, middle, strict=True)
        for one in column
    )
    return middle if apart and same else []


def _taken(line: ReadLine, mass_g: Decimal, *, sure: bool) -> ReadLine:
    told = tuple(one for one in line.doubts if not isinstance(one, AmountsDisagree))
    asks = () if sure else (OtherBatch(mass_g),)
    written = replace(line.written, mass_g=mass_g, entered="")
    return replace(line, written=written, doubts=(*told, *asks))
