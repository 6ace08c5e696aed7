"""Edits of a formula as it is written: by grams, by baker's percentage, or to a dough mass.

What is written stays as written, and something else is held: all flour together, so that the dough
grows or shrinks, or the dough, so that everything else makes room. Filling, wash and topping are
not part of the dough: a new mass of theirs moves nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple

from recipes.core.errors import BakingError, OutOfRange, StarterUnknown
from recipes.core.formula import Formula, FormulaComponent, Line, component_percent
from recipes.core.numbers import HUNDRED, ONE, ZERO, positive, settled


class Held(StrEnum):
    """What keeps its mass while lines are edited."""

    FLOUR = "flour"
    DOUGH = "dough"


class LineAt(NamedTuple):
    """The position of a line: its component and its place there, both counted from 0."""

    component: int
    line: int


Masses = dict[LineAt, Decimal]


@dataclass(eq=False)
class FlourMissed(BakingError):
    """All flours are written, or nothing is left for the others, and the held total is missed."""

    written_g: Decimal
    flour_g: Decimal


@dataclass(eq=False)
class DoughMissed(BakingError):
    """All lines are written, or nothing is left for the others, and the held total is missed."""

    written_g: Decimal
    dough_g: Decimal


def places(formula: Formula) -> Iterator[tuple[LineAt, FormulaComponent, Line]]:
    """Every line of a formula with its place and its component."""
    for n, part in enumerate(formula.components):
        for m, line in enumerate(part.lines):
            yield LineAt(n, m), part, line


def percent_at(formula: Formula, place: LineAt) -> Decimal | None:
    """The baker's percentage of a line, as the formula card shows it; None if unknown."""
    part = formula.components[place.component]
    return component_percent(formula, part, part.lines[place.line].mass_g)


def set_grams(formula: Formula, grams: Mapping[LineAt, Decimal], held: Held) -> Formula:
    """The formula with other masses, in grams, in some places.

    With the flour held the other flours make room for a flour or the flour in a starter; with the
    dough held all other lines of the dough do, in proportion. Raises OutOfRange, FlourMissed,
    DoughMissed or StarterUnknown.
    """
    wanted = {_known(formula, place): positive("mass_g", mass) for place, mass in grams.items()}
    dough = _dough_masses(formula)
    if held is Held.FLOUR:
        sharing, total_g = _flour_places(formula), _flour_besides_starters(formula, wanted)
    else:
        sharing, total_g = frozenset(dough), formula.dough_g
    masses = {place: dough[place] for place in sharing}
    rest = _making_room(masses, wanted, total_g, held)
    return _with_masses(formula, {**rest, **wanted})


def set_percents(formula: Formula, percents: Mapping[LineAt, Decimal], held: Held) -> Formula:
    """The formula with other baker's percentages in some places.

    All other lines keep their percentages, except that flours make room for a flour: together they
    stay 100 %. With the dough held all of it is then scaled to its mass from before. Raises
    OutOfRange, FlourMissed, DoughMissed or StarterUnknown.
    """
    wanted = {
        _known(formula, place): positive("percent", percent) for place, percent in percents.items()
    }
    into_dough = {
        place: percent * formula.all_flour_g / HUNDRED
        for place, percent in wanted.items()
        if formula.components[place.component].kind.goes_into_dough
    }
    made = set_grams(formula, into_dough, Held.FLOUR)
    if held is Held.DOUGH:
        made = scale_to_dough(made, formula.dough_g)
    on_top = {
        place: _mass_on_top(made, place, percent)
        for place, percent in wanted.items()
        if place not in into_dough
    }
    return _with_masses(made, on_top)


def scale_to_dough(formula: Formula, dough_g: Decimal) -> Formula:
    """The formula scaled to `dough_g` grams of dough; every percentage stays."""
    wanted_g = positive("dough_g", dough_g)
    masses = _dough_masses(formula)
    return _with_masses(formula, _scaled(masses, wanted_g, formula.dough_g))


def _known(formula: Formula, place: LineAt) -> LineAt:
    parts = formula.components
    if not 0 <= place.component < len(parts):
        raise OutOfRange("component", Decimal(place.component), least=ZERO)
    if not 0 <= place.line < len(parts[place.component].lines):
        raise OutOfRange("line", Decimal(place.line), least=ZERO)
    return place


def _dough_masses(formula: Formula) -> Masses:
    return {
        place: line.mass_g for place, part, line in places(formula) if part.kind.goes_into_dough
    }


def _flour_places(formula: Formula) -> frozenset[LineAt]:
    return frozenset(
        place
        for place, part, line in places(formula)
        if part.kind.goes_into_dough and line.ingredient.is_flour
    )


def _flour_besides_starters(formula: Formula, wanted: Masses) -> Decimal:
    """The total of all flour lines once the starters have their new masses."""
    in_starters = (
        replace(line, mass_g=wanted.get(place, line.mass_g)).flour_g
        for place, part, line in places(formula)
        if part.kind.goes_into_dough and line.ingredient.starter
    )
    return formula.all_flour_g - sum(in_starters, ZERO)


def _making_room(masses: Masses, wanted: Masses, total_g: Decimal, held: Held) -> Masses:
    """The lines that are not set, scaled so that all lines make the total."""
    written = {place: mass for place, mass in wanted.items() if place in masses}
    if not written and settled(total_g - sum(masses.values(), ZERO)) == ZERO:
        return {}
    rest = {place: mass for place, mass in masses.items() if place not in written}
    written_g = sum(written.values(), ZERO)
    left_g = settled(total_g - written_g)
    if left_g < ZERO or bool(left_g) is not bool(rest):
        missed = FlourMissed if held is Held.FLOUR else DoughMissed
        raise missed(written_g, total_g)
    return _scaled(rest, total_g - written_g, sum(rest.values(), ZERO)) if rest else {}


def _scaled(masses: Masses, by: Decimal, over: Decimal) -> Masses:
    return {place: mass * by / over for place, mass in masses.items()}


def _mass_on_top(formula: Formula, place: LineAt, percent: Decimal) -> Decimal:
    """The inverse of `component_percent`, which is in proportion to the mass."""
    part = formula.components[place.component]
    of_a_gram = component_percent(formula, part, ONE)
    if of_a_gram is None:
        raise StarterUnknown(formula.unopened)
    return percent / of_a_gram


def _with_masses(formula: Formula, masses: Mapping[LineAt, Decimal]) -> Formula:
    return replace(
        formula,
        components=tuple(
            replace(
                part,
                lines=tuple(
                    replace(line, mass_g=masses.get(LineAt(n, m), line.mass_g))
                    for m, line in enumerate(part.lines)
                ),
            )
            for n, part in enumerate(formula.components)
        ),
    )
