"""What is weighed at each station, from the amounts of a class."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal

from classes.core.demand import TaughtAmounts
from classes.core.diets.conflict_words import people_words
from classes.plan import ClassPlan
from handouts.safety.heeds import on_station
from handouts.station_tables import (
    StationPart,
    StationRecipe,
    StationRow,
    StationSheet,
    StationTable,
    TubShare,
)
from recipes.core.scaling import ComponentAmounts, PersonAmounts, Sheet
from recipes.core.weighing import Weighing

Column = tuple[str, Sheet]
Columns = Callable[[Sequence[PersonAmounts]], list[list[Column]]]


def stations_of(plan: ClassPlan, columns: Columns, *, on_wall: bool) -> tuple[StationSheet, ...]:
    """The stations with somebody at them, in the kitchen's order; marked for the wall or not."""
    told = plan.concerns
    people: dict[str, list[str]] = {}
    for person in plan.people:
        people.setdefault(person.station, []).append(person.name)
    names = [name for name in plan.stations if name in people]
    return tuple(
        StationSheet(
            name=name,
            people=tuple(people[name]),
            recipes=tuple(
                on_station(station_recipe(recipe, name, columns), name, told, on_wall=on_wall)
                for recipe in plan.amounts.recipes
                if any(at.station == name for at in recipe.amounts.stations)
            ),
        )
        for name in names
    )


def station_recipe(recipe: TaughtAmounts, station: str, columns: Columns) -> StationRecipe:
    """A recipe at the station of that name, at which somebody bakes."""
    plan = recipe.amounts
    at = next(at for at in plan.stations if at.station == station)
    people = [person for person in plan.persons if person.baker.station == station]
    first, *others = columns(people)
    together = at.sheet if len(people) > 1 else None
    return StationRecipe(
        title=recipe.taught.formula.title,
        label=recipe.taught.label,
        taught=recipe.taught.key,
        tables=(
            _table(first, together),
            *(_table(more, None) for more in others),
        ),
        people=tuple(person.baker.name for person in people),
    )


def one_a_dough(people: Sequence[PersonAmounts], *, named: bool = True) -> list[list[Column]]:
    """One column for all who weigh the same; it says who they are only if there are others."""
    alike: dict[Decimal, list[PersonAmounts]] = {}
    for person in people:
        alike.setdefault(person.sheet.dough_g, []).append(person)
    columns = []
    for group in alike.values():
        names = ", ".join(person.baker.name for person in group)
        whose = names if named else people_words(len(group))
        columns.append((whose if len(alike) > 1 else "Each", group[0].sheet))
    return [columns]


def _table(columns: Sequence[Column], together: Sheet | None) -> StationTable:
    sheets = [sheet for _, sheet in columns]
    parts, tubs = [], []
    for n, part in enumerate(sheets[0].components):
        each = [sheet.components[n] for sheet in sheets]
        if part.tub:
            whole = together.components[n] if together else None
            taken = tuple(pair for part in each if (pair := _taken(part)))
            tubs.append(TubShare(part.name, taken, _taken(whole) if whole else None))
        else:
            rows = zip(*(own.lines for own in each), strict=True)
            sums = together.components[n].lines if together else (None,) * len(part.lines)
            lines = tuple(StationRow(own, whole) for own, whole in zip(rows, sums, strict=True))
            parts.append(StationPart(part.name, part.kind, lines))
    return StationTable(
        columns=tuple(name for name, _ in columns),
        each_dough_g=tuple(sheet.dough_g for sheet in sheets),
        together_dough_g=together.dough_g if together else None,
        tubs=tuple(tubs),
        parts=tuple(parts),
    )


def _taken(part: ComponentAmounts) -> tuple[Weighing, Decimal] | None:
    return (part.tub, part.exact_g) if part.tub else None
