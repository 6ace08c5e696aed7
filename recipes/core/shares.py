"""A dough's salt, sugar, fat and yeast, in percent of all flour, for bakers to compare."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from recipes.core.formula import Formula, merge_masses
from recipes.core.numbers import ZERO

ADDED_UP = {"salt": "Salt", "sugar": "Sugar, as added", "fat": "Fat, as added"}
YEAST = "yeast"


@dataclass(frozen=True, slots=True)
class FlourShare:
    """Something in the dough and its baker's percentage; None if that is not known."""

    what: str
    percent: Decimal | None


def shares(formula: Formula, kinds: Mapping[str, str]) -> tuple[FlourShare, ...]:
    """Totals of salt, sugar and fat, and each form of yeast by its own name; only what is there.

    `kinds` says by ingredient key what is `salt`, `sugar`, `fat` or `yeast`. Sugar and fat
    inside milk, eggs or flour are not counted.
    """
    sums = dict.fromkeys(ADDED_UP, ZERO)
    yeasts = []
    for ingredient, mass_g in merge_masses(formula.dough_lines()).items():
        kind = kinds.get(ingredient.key, "")
        if kind == YEAST:
            yeasts.append(FlourShare(ingredient.name, formula.percent(mass_g)))
        elif kind in sums:
            sums[kind] += mass_g
    added = [FlourShare(ADDED_UP[kind], formula.percent(sums[kind])) for kind in sums if sums[kind]]
    return (*added, *yeasts)
