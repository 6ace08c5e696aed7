"""What people bake once decisions about what they must not eat are applied.

Whoever has another task does not bake the recipe. What is taken out of a filling, a wash, a topping
or the dusting is not weighed for that person; what is in the dough stays in it and is marked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from zlib import crc32

from classes.core.demand import Taught
from classes.core.diets.conflicts import Decisions, Way, basis_of, own_places
from classes.core.diets.findings import DUSTING, BakedRecipe, Eater, Occurrence
from classes.core.keys import PersonKey
from recipes.core.formula import Formula, FormulaComponent, Line
from recipes.core.numbers import ZERO


@dataclass(frozen=True, slots=True)
class Without:
    """A formula without what was taken out, its names, and whether dusting is left out too."""

    formula: Formula
    names: tuple[str, ...]
    undusted: bool


def without(formula: Formula, places: Iterable[Occurrence]) -> Without:
    """A formula without what was found outside its dough."""
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


def _kept(part: FormulaComponent, found: dict[tuple[str, str], str]) -> tuple[Line, ...]:
    if part.kind.goes_into_dough:
        return part.lines
    return tuple(line for line in part.lines if (part.name, line.ingredient.key) not in found)


Steps = tuple[tuple[str, str], ...]
"""The steps of a recipe as pairs of kind and text, in order."""


def baked_of(
    taught: Taught,
    steps: Steps,
    eaters: frozenset[PersonKey] = frozenset(),
    stations: frozenset[str] = frozenset(),
) -> BakedRecipe:
    """A recipe of a class as these people bake it, at the stations where it is weighed."""
    return BakedRecipe(
        title=taught.label,
        formula=taught.formula,
        steps=steps,
        eaters=eaters,
        dusting_flour=taught.dusting_flour if taught.dusting_g else None,
        stations=stations,
        key=taught.key,
        revision=taught.revision,
        bakes=taught.bakes,
    )


def as_decided(
    chosen: Taught,
    steps: Steps,
    bakers: frozenset[PersonKey],
    eaters: Iterable[Eater],
    decisions: Decisions,
) -> Iterator[Taught]:
    """A recipe that the people with these keys chose, as they bake it after the decisions."""
    alone = baked_of(chosen, steps)
    groups: dict[tuple[str, ...], set[PersonKey]] = {}
    made: dict[tuple[str, ...], Without] = {}
    others: set[PersonKey] = set()
    for eater in eaters:
        way = _in_force(eater, alone, decisions) if eater.key in bakers else None
        if way is Way.OTHER_TASK:
            others.add(eater.key)
        elif way is Way.TAKEN_OUT:
            out = without(chosen.formula, own_places(eater, alone))
            if out.names:
                groups.setdefault(out.names, set()).add(eater.key)
                made[out.names] = out
    away = others.union(*groups.values())
    yield replace(chosen, only_for=bakers - away) if away else chosen
    for names, keys in groups.items():
        yield _taken_out(chosen, made[names], frozenset(keys))


def _in_force(eater: Eater, alone: BakedRecipe, decisions: Decisions) -> Way | None:
    """The decision for somebody about a recipe, if it still fits."""
    decided = decisions.get((eater.key, alone.revision))
    if decided is None:
        return None
    lapse = decided.basis.lapse(basis_of(eater, alone, own_places(eater, alone)))
    return None if lapse else decided.way


def _taken_out(chosen: Taught, out: Without, keys: frozenset[PersonKey]) -> Taught:
    mark = f"{crc32('|'.join(out.names).encode()):08x}"
    shown = replace(
        chosen,
        key=f"{chosen.key if '-' in chosen.key else f'{chosen.key}-0'}-{mark}",
        label=f"{chosen.label}, {_listed(out.names)} taken out",
        written=chosen.label,
        formula=out.formula,
        demonstration_batches=0,
        only_for=keys,
    )
    return replace(shown, dusting_g=ZERO, dusting_flour=None) if out.undusted else shown


def _listed(names: tuple[str, ...]) -> str:
    """Such as `sesame seeds and sunflower seeds`: the part of each name before the comma."""
    heads = [name.partition(",")[0] for name in names]
    return heads[0] if len(heads) == 1 else f"{', '.join(heads[:-1])} and {heads[-1]}"
