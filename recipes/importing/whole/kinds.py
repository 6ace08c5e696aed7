"""What kind a part is, where its heading alone does not say: brushed on, rolled in, or dough."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import TypeVar

from recipes.core.choices import ComponentKind, IngredientKind
from recipes.core.numbers import ZERO
from recipes.core.written import WrittenPart
from recipes.importing.naming.spelling import stems
from recipes.importing.tables.formulas import is_total
from recipes.importing.text.headings import kind_named
from recipes.importing.values import ReadLine
from recipes.importing.whole.doubts import PartGuessed

_BRUSHED = {IngredientKind.EGG, IngredientKind.LIQUID, IngredientKind.FAT, IngredientKind.SUGAR}
_SPREAD = {IngredientKind.FAT, IngredientKind.SUGAR, IngredientKind.DAIRY}
_POURED = _BRUSHED - {IngredientKind.SUGAR}
_ALSO_WORK = {"mix", "roll"}
# Headings that say where it goes, not what it is.
_ON_TOP = {"top", "finish", "finishing", "decoration", "decorate", "coating"}
_INTO_DOUGH = re.compile(
    r"\b(?:(?:fold|knead|mix|stir|work|add|rub|laminat)\w*[ -]?ins?|inclusions?|additions?|"
    r"add(?:ed)? (?:later|last|at the end)|bassinage)\b",
    re.IGNORECASE,
)
_FILLS = re.compile(
    r"\b(?:fill(?:ing|ed)?|spread\w*|roll(?:ed)? (?:it |them |the dough )?up|stuff\w*|enclose)\b",
    re.IGNORECASE,
)
_STREWN = re.compile(r"\b(?:scatter|sprinkle|strew|on top|top with|over the top)\b", re.IGNORECASE)

_STREWN_OF = re.compile(
    r"\b(?:scatter|sprinkle|strew|dot|brush|glaze|coat|spread|dust)\b[^.;]{2,60}"
    r"|\b(?:put|lay|arrange|pile|press)\b[^.;]{2,60}\b(?:on top|over the top)\b",
    re.IGNORECASE,
)
# What parts other than the dough and its like do not usually have in them.
_UNUSUAL = {
    ComponentKind.WASH: {IngredientKind.FLOUR, IngredientKind.YEAST, IngredientKind.SEED,
                         IngredientKind.NUT, IngredientKind.FRUIT, IngredientKind.VEGETABLE},
    ComponentKind.PREFERMENT: {IngredientKind.EGG, IngredientKind.FAT, IngredientKind.SEED,
                               IngredientKind.NUT, IngredientKind.FRUIT, IngredientKind.SPICE,
                               IngredientKind.VEGETABLE},
    ComponentKind.SOAKER: {IngredientKind.EGG, IngredientKind.YEAST, IngredientKind.FAT},
    ComponentKind.ROUX: {IngredientKind.EGG, IngredientKind.YEAST, IngredientKind.SEED,
                         IngredientKind.NUT, IngredientKind.FRUIT, IngredientKind.STARTER},
    ComponentKind.TOPPING: {IngredientKind.YEAST, IngredientKind.STARTER},
    ComponentKind.FILLING: {IngredientKind.YEAST, IngredientKind.STARTER},
}  # fmt: skip
_TOPPINGS = {IngredientKind.SEED, IngredientKind.NUT, IngredientKind.VEGETABLE,
             IngredientKind.DAIRY, IngredientKind.FRUIT}  # fmt: skip
DOUGH = ComponentKind.DOUGH
_LONGEST = 8000

K = TypeVar("K")
Settled = tuple[list[WrittenPart], list[ReadLine]]


def settled_kinds(parts: Sequence[WrittenPart], lines: Sequence[ReadLine], method: str) -> Settled:
    """Parts with their kinds, and a doubt on each line of which the part is a guess."""
    kinds = [_kind(parts, n, lines, method) for n in range(len(parts))]
    apart = _set_apart(lines)
    strewn = {word for found in _STREWN_OF.finditer(method[:_LONGEST]) for word in stems(found[0])}
    others = {"water", *stems(_STREWN_OF.sub(" ", method[:_LONGEST]))}

    def is_guess(line: ReadLine) -> bool:
        kind, sure = kinds[line.part]
        if not sure or id(line) in apart or line.written.ingredient.kind in _UNUSUAL.get(kind, ()):
            return True
        return parts[line.part].kind is DOUGH and _is_strewn(line, strewn, others)

    return (
        [replace(part, kind=kind) for part, (kind, _) in zip(parts, kinds, strict=True)],
        [replace(line, doubts=(*line.doubts, PartGuessed())) if is_guess(line) else line
         for line in lines],
    )  # fmt: skip


def _is_strewn(line: ReadLine, strewn: set[str], others: set[str]) -> bool:
    """Whether the method strews or brushes on top what a list has among the dough's lines.

    What may as well be in a dough counts only if the method names it nowhere else.
    """
    name, kind = {*stems(line.written.ingredient.name)[-1:]}, line.written.ingredient.kind
    if kind not in _TOPPINGS and (kind is IngredientKind.FLOUR or name & others):
        return False
    return bool(name & strewn)


def _set_apart(lines: Sequence[ReadLine]) -> set[int]:
    """The ids of lines that are set apart from others of their part, and may not be of it.

    A list of single lines with empty ones between them sets nothing apart. What has flour or yeast
    in it is dough, or of the dough's largest block.
    """
    blocks: dict[tuple[int, int], list[ReadLine]] = {}
    for line in lines:
        blocks.setdefault((line.part, line.block), []).append(line)
    parts = [part for part, _ in blocks]
    flours = _flours(lines, lambda line: (line.part, line.block))
    told: set[int] = set()
    for (part, block), own in blocks.items():
        kinds = {line.written.ingredient.kind for line in own}
        most = max(flour for at, flour in flours.items() if at[0] == part)
        other = flours[part, block] < most if IngredientKind.FLOUR in kinds else (
            IngredientKind.YEAST not in kinds)  # fmt: skip
        several = parts.count(part) > 1 and (block or IngredientKind.FLOUR in kinds)
        scattered = len([line for line in lines if line.part == part]) <= parts.count(part) + 1
        if several and other and most and not scattered:
            told |= set(map(id, own))
    return told


def _kind(
    parts: Sequence[WrittenPart], n: int, lines: Sequence[ReadLine], method: str
) -> tuple[ComponentKind, bool]:
    """The kind of a part, and whether that is sure."""
    part = parts[n]
    own = {line.written.ingredient.kind for line in lines if line.part == n}
    words = set(part.name.lower().split())
    if part.kind is ComponentKind.TOPPING and words & _ON_TOP:
        return _on_top(own)
    flours = _flours(lines, lambda line: line.part)
    doughs = {m: flour for m, flour in flours.items() if parts[m].kind is DOUGH and flour}
    if n in doughs and part.kind is DOUGH and not is_total(part):
        return _of_doughs(n, doughs, own)
    named = kind_named([*words - _ALSO_WORK]) or is_total(part)
    if part.kind is not DOUGH or named or not doughs:
        return part.kind, True
    if _INTO_DOUGH.search(part.name):
        return part.kind, True
    if _FILLS.search(method) or own & _SPREAD:
        return ComponentKind.FILLING, False
    return ComponentKind.TOPPING if _STREWN.search(method) else part.kind, False


def _on_top(kinds: set[IngredientKind]) -> tuple[ComponentKind, bool]:
    """What goes on top: a wash if there is egg in it, or all of it is brushed on."""
    brushed = kinds <= _BRUSHED and bool(kinds & _POURED)
    if not brushed and IngredientKind.EGG not in kinds:
        return ComponentKind.TOPPING, True
    return ComponentKind.WASH, kinds <= _POURED


def _of_doughs(
    n: int, doughs: dict[int, Decimal], kinds: set[IngredientKind]
) -> tuple[ComponentKind, bool]:
    """What a part with flour is beside others: all but the one with the most may be made ahead."""
    if doughs[n] == max(doughs.values()):
        return DOUGH, True
    ahead = n < max(doughs, key=lambda m: doughs[m]) and IngredientKind.SALT not in kinds
    return (ComponentKind.PREFERMENT if ahead else DOUGH), False


def _flours(lines: Sequence[ReadLine], of: Callable[[ReadLine], K]) -> dict[K, Decimal]:
    """The grams of flour by part or block."""
    flours: dict[K, Decimal] = {}
    for line in lines:
        is_flour = line.written.ingredient.kind is IngredientKind.FLOUR
        own = line.written.mass_g if is_flour else None
        flours[of(line)] = flours.get(of(line), ZERO) + (own or ZERO)
    return flours
