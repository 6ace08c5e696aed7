"""Numbers without a unit: rows of them, and what they are where a list tells.

A list may say its unit once for all. Else they are percentages if its flours add up to 100, and
grams if the rest of it is weighed; both are guesses.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from recipes.core.choices import IngredientKind
from recipes.core.numbers import HUNDRED, ZERO
from recipes.core.units import Measures, Unit, convert, parse_unit
from recipes.importing.doubts import Doubt, NoPieceMassKnown, NoUnit, SizeAssumed
from recipes.importing.text.tokens import line_text
from recipes.importing.text.words import GRAM
from recipes.importing.values import ReadLine
from recipes.importing.whole.doubts import TakenAsGrams

_LONGEST_ROW = 70
_LEAST_ROWS = 3
_LEAST_WEIGHED_G = Decimal(50)
_LEAST_COUNTED = 5
_MOST_EGGS = 20
_LEAST_LINES = 2
_NEAR = Decimal("0.05")
_PERCENT = r"(?P<{}>[0-9]{{1,3}}(?:[.,][0-9]+)?) ?%"
_ROW = re.compile(
    rf"^(?P<name>(?:[A-Za-z]\. ?)?[^\d:;.()]{{2,30}}?)(?: {_PERCENT.format('before')})?[ ,]+"
    rf"(?P<number>[0-9]{{1,5}}(?:[.,][0-9]+)?(?: ?- ?[0-9]{{1,5}})?)"
    rf"(?: {_PERCENT.format('after')})?"
    r"(?: ?\((?P<note>[^\d()]*)\)| ?,(?P<aside>[^\d(),]*))?$"
)
_LEADERS = re.compile(r"\||[.·]{2,}")
MEASURED = re.compile(
    r"[0-9½¼¾]\s?(?:g|kg|ml|cl|dl|l|oz|lb|tsp|tbsp|cups?|grams?|fl)\b", re.IGNORECASE
)
_UNITS = {
    **dict.fromkeys(("g", "gram", "grams"), GRAM),
    **dict.fromkeys(("kg", "kilo", "kilos", "kilograms"), parse_unit("kg")),
    **dict.fromkeys(("oz", "ounces"), parse_unit("oz")),
    **dict.fromkeys(("lb", "lbs", "pounds"), parse_unit("lb")),
}
_FOR_ALL = re.compile(
    r"(?:\b(?:all|weights?|amounts?|quantit(?:y|ies)|figures|numbers|everything|batch|measured)\b"
    rf"[^.\n0-9]{{0,25}}?\bin|\((?:all )?in)[ ](?P<unit>{'|'.join(_UNITS)})\b",
    re.IGNORECASE,
)


def unit_for_all(text: str) -> Unit | None:
    """The unit that a text names once for all of its numbers: `all weights in grams`."""
    found = _FOR_ALL.search(text)
    return _UNITS[found["unit"].lower()] if found else None


def bare_row(line: str) -> str:
    """A name with a bare number behind it, `water 3100`, as a line of a list; else nothing."""
    text = " ".join(_LEADERS.sub(" ", line_text(line[:_LONGEST_ROW])).split())
    found = _ROW.match(text) if len(line) < _LONGEST_ROW else None
    if found is None:
        return ""
    percent = found["before"] or found["after"]
    said = [found["number"], found["note"] or found["aside"], found["name"].replace(". ", " ")]
    return " ".join(" ".join(filter(None, [*said, percent and f"{percent} %"])).split())


def bare_rows(line: str) -> list[str]:
    """Several such names and numbers on a line, `flour 500, water 325, salt 9 g`."""
    items = re.split(r"[,;]\s", line_text(line).rstrip("."))
    if max(map(len, items)) > _LONGEST_ROW:
        return []
    rows = [bare_row(item) or (item if MEASURED.search(item) else "") for item in items]
    return rows if len(rows) >= _LEAST_ROWS and all(rows) and rows != items else []


def weighed_bare(
    lines: Sequence[ReadLine], unit: Unit | None, due_g: Decimal | None
) -> list[ReadLine]:
    """The lines, with bare numbers as what the list says or lets guess."""
    bare = [line for line in lines if _is_bare(line)]
    if unit is None and _are_percents(bare, due_g):
        return [_with_percent(line) if line in bare else line for line in lines]
    if unit is None and not _is_of_grams(lines, bare):
        return list(lines)
    return [_weighed(line, unit) if line in bare else line for line in lines]


def _are_percents(bare: Sequence[ReadLine], due_g: Decimal | None) -> bool:
    """Whether the flours add up to 100, and the whole is not the dough that is due."""
    flours = [line.quantity or ZERO for line in bare
              if line.written.ingredient.kind is IngredientKind.FLOUR]  # fmt: skip
    made = sum((line.quantity or ZERO for line in bare), ZERO)
    return sum(flours, ZERO) == HUNDRED and abs(made - (due_g or ZERO)) > made * _NEAR


def _is_of_grams(lines: Sequence[ReadLine], bare: Sequence[ReadLine]) -> bool:
    """Whether a number is too large for anything else, or most of what is measured is weighed."""
    numbers = (line.quantity or ZERO for line in bare if _has(line, NoUnit))
    if max(numbers, default=ZERO) >= _LEAST_WEIGHED_G:
        return True
    measured = [line.unit.measures for line in lines if line.unit]
    masses = measured.count(Measures.MASS)
    return masses >= _LEAST_LINES and masses > measured.count(Measures.VOLUME)


def _is_bare(line: ReadLine) -> bool:
    """Whether a line's number says neither a measure nor pieces that have a mass."""
    count = line.quantity or 0
    if not any(map(str.isdigit, line.text)):
        return False
    if line.written.ingredient.kind is IngredientKind.EGG and _has(line, SizeAssumed):
        return count > _MOST_EGGS
    if line.written.mass_g is not None:
        return False
    counted = any(isinstance(one, NoPieceMassKnown) and not one.word for one in line.doubts)
    return _has(line, NoUnit) or (counted and count >= _LEAST_COUNTED)


def _has(line: ReadLine, kind: type[Doubt]) -> bool:
    return any(isinstance(doubt, kind) for doubt in line.doubts)


def _weighed(line: ReadLine, unit: Unit | None) -> ReadLine:
    times = convert(Decimal(1), unit, Measures.MASS) if unit else Decimal(1)
    told = [one for one in line.doubts if not isinstance(one, NoUnit | NoPieceMassKnown)]
    return replace(
        line,
        written=replace(line.written, mass_g=(line.quantity or ZERO) * times, entered=""),
        unit=unit or GRAM,
        doubts=(*told, *(() if unit else (TakenAsGrams(),))),
    )


def _with_percent(line: ReadLine) -> ReadLine:
    told = (one for one in line.doubts if not isinstance(one, NoUnit | NoPieceMassKnown))
    return replace(line, quantity=None, percent=line.quantity, doubts=tuple(told))
