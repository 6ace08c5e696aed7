"""Every recipe of a class at the places where it is weighed: stations, demonstrations, brought.

The amounts are those of the plan of a class. People whose dough has the same mass are one portion.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from classes.core.demand import DEMONSTRATION, TaughtAmounts, brought_in_words
from classes.plan import ClassPlan
from handouts.safety.heeds import Lines, lines_at, part_words
from recipes.core.scaling import PersonAmounts, Sheet
from recipes.core.scaling.amount_lines import AmountLine
from recipes.core.weighing import Weighing

FROM_TUB = ", from the tub"


@dataclass(frozen=True, slots=True)
class Portion:
    """What each of some people weighs, or a station for all of them together.

    `weighed` is what the scale shows, `exact_g` the exact mass in grams; `how` explains a solution.
    """

    whose: tuple[str, ...]
    weighed: Weighing | Decimal
    exact_g: Decimal
    name: str = ""
    how: str = ""

    @property
    def grams(self) -> Decimal:
        """What the scale shows."""
        return self.weighed.grams if isinstance(self.weighed, Weighing) else self.weighed

    @property
    def is_coarse(self) -> bool:
        """Whether a step of the scale is a large part of it."""
        return isinstance(self.weighed, Weighing) and self.weighed.coarse


@dataclass(frozen=True, slots=True)
class Place:
    """A station, or what the instructor shows or brings.

    `sheets` pairs people with the amounts of each; `together` are those of the whole station.
    `people` are named only where others at the station bake something else. `marks` are words
    beside its lines.
    """

    name: str
    sheets: tuple[tuple[tuple[str, ...], Sheet], ...]
    marks: Lines
    together: Sheet | None = None
    people: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlacedCell:
    """What is weighed for one row at one place; portions are `named` if people differ there."""

    portions: tuple[Portion, ...]
    together: Portion | None = None

    @property
    def named(self) -> bool:
        return len(self.portions) > 1


@dataclass(frozen=True, slots=True)
class PlacedRow:
    """One ingredient, a part from its tub, or a dough, at every place.

    `ingredient` is what is weighed, `pooled` its line for the whole class; a tub and a dough have
    none. `concerns` are words about people whom it concerns.
    """

    name: str
    cells: tuple[PlacedCell, ...]
    concerns: tuple[str, ...] = ()
    ingredient: str = ""
    pooled: AmountLine | None = None

    @property
    def each_g(self) -> Decimal | None:
        """What everybody weighs of it, exactly; None if that differs."""
        return _same(one for cell in self.cells for one in cell.portions)

    @property
    def together_g(self) -> Decimal | None:
        """The same for stations together."""
        return _same(cell.together for cell in self.cells if cell.together)

    @property
    def hows(self) -> tuple[str, ...]:
        """How its amounts are weighed if not simply on the scale."""
        each = dict.fromkeys(one.how for cell in self.cells for one in cell.portions)
        whole = dict.fromkeys(cell.together.how for cell in self.cells if cell.together)
        if len(each | whole) < 2:
            return tuple(how for how in each if how)
        said = [f"each, {how}" for how in each if how]
        return (*said, *(f"together, {how}" for how in whole if how))


def _same(portions: Iterable[Portion]) -> Decimal | None:
    found = {one.exact_g for one in portions}
    return found.pop() if len(found) == 1 else None


@dataclass(frozen=True, slots=True)
class PlacedPart:
    """A part of a recipe that is weighed at the places themselves; `number` counts all parts."""

    number: int
    name: str
    in_dough: bool
    rows: tuple[PlacedRow, ...]


@dataclass(frozen=True)
class PlacedRecipe:
    """A recipe at some places. `total` has the lines of a dough added, beside the exact dough."""

    label: str
    places: tuple[Place, ...]
    tubs: tuple[PlacedRow, ...]
    parts: tuple[PlacedPart, ...]
    total: PlacedRow

    @property
    def dough_parts(self) -> tuple[PlacedPart, ...]:
        return tuple(part for part in self.parts if part.in_dough)

    @property
    def other_parts(self) -> tuple[PlacedPart, ...]:
        """Filling, wash and topping."""
        return tuple(part for part in self.parts if not part.in_dough)

    @property
    def width(self) -> int:
        """How many columns it has."""
        return 1 + len(self.places)

    @property
    def has_parts(self) -> bool:
        """Whether the parts of the dough need their names."""
        return len(self.dough_parts) > 1

    def row(self, part: int, line: int) -> PlacedRow | None:
        """The row of a line of a part; None if the part comes from a tub."""
        rows = [found.rows for found in self.parts if found.number == part]
        return rows[0][line] if rows else None


def places_of(plan: ClassPlan, recipe: TaughtAmounts) -> tuple[Place, ...]:
    """The stations in the kitchen's order, and then what the instructor shows and brings."""
    return tuple(_places(plan, recipe))


def _places(plan: ClassPlan, recipe: TaughtAmounts) -> Iterator[Place]:
    amounts, told = recipe.amounts, plan.concerns
    at = {station.station: station.sheet for station in amounts.stations}
    there = Counter(person.station for person in plan.people)
    for name in plan.stations:
        people = [person for person in amounts.persons if person.baker.station == name]
        if people:
            yield Place(
                name,
                _alike(people),
                lines_at(name, recipe.taught.key, told, on_wall=False),
                at[name] if len(people) > 1 else None,
                tuple(person.baker.name for person in people if len(people) < there[name]),
            )
    if amounts.shown:
        yield Place(DEMONSTRATION, _alike(amounts.shown), {})
    for dough in amounts.brought:
        name = brought_in_words(recipe, dough)
        yield Place(name, (((name,), dough.sheet),), {})


def _alike(people: Sequence[PersonAmounts]) -> tuple[tuple[tuple[str, ...], Sheet], ...]:
    """People by their amounts: those of the same dough, and the same shares of tubs."""
    names: dict[object, list[str]] = {}
    sheets: dict[object, Sheet] = {}
    for person in people:
        alike = person.sheet.dough_g, *(part.tub for part in person.sheet.components)
        names.setdefault(alike, []).append(person.baker.name)
        sheets.setdefault(alike, person.sheet)
    return tuple((tuple(names[alike]), sheet) for alike, sheet in sheets.items())


def placed(recipe: TaughtAmounts, places: Sequence[Place]) -> PlacedRecipe:
    """The recipe at these of its places."""
    parts = list(enumerate(recipe.amounts.pooled.components))
    return PlacedRecipe(
        label=recipe.taught.label,
        places=tuple(places),
        tubs=tuple(_tub(n, part.name, places) for n, part in parts if part.kind.made_in_bulk),
        parts=tuple(
            PlacedPart(
                n,
                part.name,
                part.kind.goes_into_dough,
                tuple(_row(n, m, part.name, line, places) for m, line in enumerate(part.lines)),
            )
            for n, part in parts
            if not part.kind.made_in_bulk
        ),
        total=PlacedRow("", _cells(places, _dough)),
    )


def _tub(n: int, name: str, places: Sequence[Place]) -> PlacedRow:
    def taken(whose: tuple[str, ...], sheet: Sheet) -> Portion:
        part = sheet.components[n]
        return Portion(whose, part.tub or part.weighed_g, part.exact_g)

    concerns = _concerns(places, lambda marks: part_words(name, marks))
    return PlacedRow(f"{name}{FROM_TUB}", _cells(places, taken), concerns)


def _row(n: int, m: int, part: str, pooled: AmountLine, places: Sequence[Place]) -> PlacedRow:
    def weighed(whose: tuple[str, ...], sheet: Sheet) -> Portion:
        line = sheet.components[n].lines[m]
        return Portion(whose, line.weighed, line.exact_g, line.name, line.how)

    own = pooled.ingredient
    cells = _cells(places, weighed)
    names = {portion.name for cell in cells for portion in cell.portions}
    names |= {cell.together.name for cell in cells if cell.together}
    name = names.pop() if len(names) == 1 else own.name
    concerns = _concerns(places, lambda marks: marks.get((part, own.key), ""))
    return PlacedRow(name, cells, concerns, own.name, pooled)


def _concerns(places: Sequence[Place], words: Callable[[Lines], str]) -> tuple[str, ...]:
    found = ((place.name, words(place.marks)) for place in places)
    return tuple(f"{name} {said}" for name, said in found if said)


def _dough(whose: tuple[str, ...], sheet: Sheet) -> Portion:
    return Portion(whose, sheet.weighed_dough_g, sheet.dough_g)


def _cells(
    places: Sequence[Place], portion: Callable[[tuple[str, ...], Sheet], Portion]
) -> tuple[PlacedCell, ...]:
    return tuple(
        PlacedCell(
            tuple(portion(names, sheet) for names, sheet in place.sheets),
            portion((), place.together) if place.together else None,
        )
        for place in places
    )


MOST_BESIDE = 7  # As many columns as paper/preparation.css has widths for.


def side_by_side(places: Sequence[Place]) -> Iterator[Sequence[Place]]:
    """The places in rows of at most seven and of about equal length."""
    rows = ceil(len(places) / MOST_BESIDE)
    width = ceil(len(places) / rows) if rows else 1
    for first in range(0, len(places), width):
        yield places[first : first + width]
