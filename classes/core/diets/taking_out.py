"""What can be left out of a recipe for somebody without making another dough of it.

That is what is put on top: wash, topping and dusting. An ingredient of the dough itself cannot be
left out without another formula, so it stays, and the papers mark it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from classes.core.diets.findings import DUSTING, Occurrence
from recipes.core.formula import Component, Formula, Line


@dataclass(frozen=True, slots=True)
class Without:
    """A formula without what was taken out, the names of that, and whether dusting goes too."""

    formula: Formula
    names: tuple[str, ...]
    undusted: bool


def without(formula: Formula, places: Iterable[Occurrence]) -> Without:
    """A formula without what was found on top of its bread."""
    found = {(place.component, place.ingredient_key): place.ingredient for place in places}
    parts, names = [], []
    for part in formula.components:
        kept = _kept(part, found)
        names += [line.ingredient.name for line in part.lines if line not in kept]
        if kept:
            parts.append(replace(part, lines=kept))
    dusting = [name for (component, _), name in found.items() if component == DUSTING]
    return Without(
        formula=replace(formula, components=tuple(parts)) if names else formula,
        names=tuple(dict.fromkeys([*names, *(f"{head} for dusting" for head in dusting)])),
        undusted=bool(dusting),
    )


def _kept(part: Component, found: dict[tuple[str, str], str]) -> tuple[Line, ...]:
    if part.kind.goes_into_dough:
        return part.lines
    return tuple(line for line in part.lines if (part.name, line.ingredient.key) not in found)
