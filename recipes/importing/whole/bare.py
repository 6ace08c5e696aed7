"""Numbers without a unit, taken as grams where a list weighs the rest of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from recipes.core.choices import IngredientKind
from recipes.core.units import Measures
from recipes.importing.doubts import Doubt, NoPieceMassKnown, NoUnit, SizeAssumed
from recipes.importing.text.words import GRAM
from recipes.importing.values import ReadLine
from recipes.importing.whole.doubts import TakenAsGrams

_LEAST_FLOUR_G = Decimal(50)
_LEAST_COUNTED = 5
_MOST_EGGS = 20
_LEAST_WEIGHED = 2
_MEASURED = (IngredientKind.FLOUR, IngredientKind.LIQUID)


def weighed_bare(lines: Sequence[ReadLine]) -> list[ReadLine]:
    """The lines, with bare numbers as grams and a doubt if the list is one of grams."""
    if not _is_of_grams(lines):
        return list(lines)
    return [_weighed(line) if _is_bare(line) else line for line in lines]


def _is_of_grams(lines: Sequence[ReadLine]) -> bool:
    """Whether flour or water is a number of grams, or most of what is measured is weighed."""
    bare = [line for line in lines if _is_bare(line)]
    poured = [line.quantity or 0 for line in bare
              if line.written.ingredient.kind in _MEASURED]  # fmt: skip
    if max(poured, default=0) >= _LEAST_FLOUR_G:
        return True
    units = [line.unit for line in lines if line.unit]
    masses = [unit for unit in units if unit.measures is Measures.MASS]
    volumes = [unit for unit in units if unit.measures is Measures.VOLUME]
    return len(masses) >= _LEAST_WEIGHED and len(masses) > len(volumes)


def _is_bare(line: ReadLine) -> bool:
    """Whether a line's number says neither a measure nor pieces that have a mass."""
    count = line.quantity or 0
    if line.written.ingredient.kind is IngredientKind.EGG and _has(line, SizeAssumed):
        return count > _MOST_EGGS
    if line.written.mass_g is not None:
        return False
    counted = any(isinstance(one, NoPieceMassKnown) and not one.word for one in line.doubts)
    return _has(line, NoUnit) or (counted and count >= _LEAST_COUNTED)


def _has(line: ReadLine, kind: type[Doubt]) -> bool:
    return any(isinstance(doubt, kind) for doubt in line.doubts)


def _weighed(line: ReadLine) -> ReadLine:
    told = (one for one in line.doubts if not isinstance(one, NoUnit | NoPieceMassKnown))
    return replace(
        line,
        written=replace(line.written, mass_g=line.quantity, entered=""),
        unit=GRAM,
        doubts=(*told, TakenAsGrams()),
    )
