"""What is weighed at a station, as values: side by side for its people, and together.

The amounts are those of the class's plan. Only the totals are made here, as the sums of the lines
that are printed above them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from classes.core.demand import (
    BROUGHT,
    DEMONSTRATION,
    TaughtAmounts,
)
from classes.heads import brought_in_words
from recipes.core.choices import ComponentKind
from recipes.core.numbers import ZERO
from recipes.core.scaling import (
    ComponentAmounts,
    PersonAmounts,
    Sheet,
)
from recipes.core.scaling.amount_lines import AmountLine
from recipes.core.weighing import Weighing

SIDE_BY_SIDE = 4

Column = tuple[str, Sheet]
Columns = Callable[[Sequence[PersonAmounts]], list[list[Column]]]


@dataclass(frozen=True, slots=True)
class StationRow:
    """One ingredient: for each column of the table, and for the station together if shown."""

    each: tuple[AmountLine, ...]
    together: AmountLine | None
    concern: str = ""

    @property
    def name(self) -> str:
        """What is weighed; where only some of it is a solution, the ingredient."""
        lines = (*self.each, self.together) if self.together else self.each
        names = {line.name for line in lines}
        return names.pop() if len(names) == 1 else self.each[0].ingredient.name

    @property
    def hows(self) -> tuple[str, ...]:
        """How its amounts come onto the scale where they are not simply weighed."""
        each = dict.fromkeys(line.how for line in self.each if line.how)
        if self.together is None or list(each) == [self.together.how]:
            return tuple(each)
        together = (f"together, {self.together.how}",) if self.together.how else ()
        return (*(f"each, {how}" for how in each), *together)

    @property
    def coarse(self) -> str:
        """Which of the weighings are coarse, in words; empty where none is."""
        each = any(line.weighed.coarse for line in self.each)
        together = self.together is not None and self.together.weighed.coarse
        if each and self.together and not together:
            return "coarse, each"
        if together and not each:
            return "coarse, together"
        return "coarse" if each else ""


@dataclass(frozen=True, slots=True)
class StationPart:
    """A component at a station."""

    name: str
    kind: ComponentKind
    rows: tuple[StationRow, ...]


@dataclass(frozen=True, slots=True)
class TubShare:
    """What is taken from a tub of the class: for each column, and together if shown.

    Each pairs what the scale shows with the exact mass in grams.
    """

    name: str
    each: tuple[tuple[Weighing, Decimal], ...]
    together: tuple[Weighing, Decimal] | None
    concern: str = ""


@dataclass(frozen=True)
class StationTable:
    """A recipe at a station for as many people as fit side by side.

    `columns` are their names, `each_dough_g` the exact dough of each. `together_dough_g` is
    None in a table that does not show the station's amounts together.
    """

    columns: tuple[str, ...]
    each_dough_g: tuple[Decimal, ...]
    together_dough_g: Decimal | None
    tubs: tuple[TubShare, ...]
    parts: tuple[StationPart, ...]

    @property
    def leads(self) -> bool:
        """Whether the station's amounts together are shown."""
        return self.together_dough_g is not None

    @property
    def width(self) -> int:
        """How many columns there are, the names of the ingredients included."""
        return 1 + len(self.columns) + self.leads

    @property
    def wall_width(self) -> int:
        """How many columns there are where exact masses stand in columns of their own."""
        return 2 * self.width - 1

    @property
    def has_parts(self) -> bool:
        """Whether the dough is weighed in several parts that need their names."""
        return len(self.dough_parts) > 1

    @property
    def dough_parts(self) -> tuple[StationPart, ...]:
        """What is weighed into the dough at the station, on top of the tubs."""
        return tuple(part for part in self.parts if part.kind.goes_into_dough)

    @property
    def other_parts(self) -> tuple[StationPart, ...]:
        """Wash and topping."""
        return tuple(part for part in self.parts if not part.kind.goes_into_dough)

    @cached_property
    def together_lines_g(self) -> Decimal:
        """Sum of the printed lines of the dough, together, in grams."""
        rows = [row.together for part in self.dough_parts for row in part.rows]
        tubs = sum((tub.together[0].grams for tub in self.tubs if tub.together), ZERO)
        return tubs + sum((line.weighed.grams for line in rows if line), ZERO)

    @cached_property
    def each_lines_g(self) -> tuple[Decimal, ...]:
        """Sum of the printed lines of the dough by column, in grams."""
        rows = [row.each for part in self.dough_parts for row in part.rows]
        tubs = [tub.each for tub in self.tubs]
        return tuple(
            sum((tub[n][0].grams for tub in tubs), ZERO)
            + sum((each[n].weighed.grams for each in rows), ZERO)
            for n in range(len(self.columns))
        )

    @property
    def totals(self) -> tuple[tuple[Decimal, Decimal], ...]:
        """Sum of the printed lines and exact dough by column, in grams."""
        return tuple(zip(self.each_lines_g, self.each_dough_g, strict=True))

    @property
    def has_coarse(self) -> bool:
        return any(row.coarse for part in self.parts for row in part.rows)


@dataclass(frozen=True, slots=True)
class StationRecipe:
    """A recipe at a station, over as many tables as the people who bake it need."""

    title: str
    label: str
    tables: tuple[StationTable, ...]
    people: tuple[str, ...] = ()
    taught: str = ""

    @property
    def leads(self) -> bool:
        """Whether the station's amounts together are shown."""
        return self.tables[0].leads

    @property
    def line_count(self) -> int:
        """How many lines there are to weigh, with titles of wash and topping and what is told."""
        return sum(
            len(table.tubs)
            + len(table.other_parts)
            + sum(1 + len(row.hows) for part in table.parts for row in part.rows)
            for table in self.tables
        )

    @property
    def has_coarse(self) -> bool:
        return any(table.has_coarse for table in self.tables)


@dataclass(frozen=True, slots=True)
class StationSheet:
    """A station: who works there and what is weighed. `private` pairs names and notes.

    `conflicts` say whose own bread there holds what they told, and what was decided.
    """

    name: str
    people: tuple[str, ...]
    recipes: tuple[StationRecipe, ...]
    private: tuple[tuple[str, str], ...] = ()
    conflicts: tuple[str, ...] = ()

    @property
    def leads(self) -> bool:
        return any(recipe.leads for recipe in self.recipes)

    @property
    def has_coarse(self) -> bool:
        return any(recipe.has_coarse for recipe in self.recipes)


# From the plan of a class


def _table(columns: Sequence[Column], together: Sheet | None) -> StationTable:
    sheets = [sheet for _, sheet in columns]
    parts, tubs = [], []
    for n, part in enumerate(sheets[0].components):
        each = [sheet.components[n] for sheet in sheets]
        if part.tub:
            whole = together.components[n] if together else None
            taken = tuple(pair for one in each if (pair := _taken(one)))
            tubs.append(TubShare(part.name, taken, _taken(whole) if whole else None))
        else:
            rows = zip(*(one.lines for one in each), strict=True)
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


def one_each(people: Sequence[PersonAmounts]) -> list[list[Column]]:
    """A column for everybody, in tables of about equal width."""
    columns = [(one.baker.name, one.sheet) for one in people]
    tables = math.ceil(len(columns) / SIDE_BY_SIDE)
    width = math.ceil(len(columns) / tables)
    return [columns[start : start + width] for start in range(0, len(columns), width)]


def one_a_dough(people: Sequence[PersonAmounts]) -> list[list[Column]]:
    """A column for all who weigh the same, which names them only if there are others."""
    names: dict[Decimal, list[str]] = {}
    sheets = {}
    for one in people:
        names.setdefault(one.sheet.dough_g, []).append(one.baker.name)
        sheets[one.sheet.dough_g] = one.sheet
    if len(sheets) == 1:
        return [[("Each", sheet) for sheet in sheets.values()]]
    return [[(", ".join(names[dough_g]), sheet) for dough_g, sheet in sheets.items()]]


def station_recipe(recipe: TaughtAmounts, station: str, columns: Columns) -> StationRecipe:
    """A recipe at the station of that name, at which somebody bakes."""
    plan = recipe.amounts
    at = next(at for at in plan.stations if at.station == station)
    people = [one for one in plan.persons if one.baker.station == station]
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
        people=tuple(one.baker.name for one in people),
    )


def demonstration_sheet(recipes: Sequence[TaughtAmounts]) -> StationSheet | None:
    """What the instructor shows, without sums over several demonstrations."""
    return _instructors_sheet(DEMONSTRATION, recipes, _shown_columns)


def brought_sheet(recipes: Sequence[TaughtAmounts]) -> StationSheet | None:
    """What the instructor brings ready-made, a column for each stage."""
    return _instructors_sheet(BROUGHT, recipes, _brought_columns)


def _shown_columns(recipe: TaughtAmounts) -> list[list[Column]]:
    shown = recipe.amounts.shown
    return one_each(shown) if shown else []


def _brought_columns(recipe: TaughtAmounts) -> list[list[Column]]:
    brought = recipe.amounts.brought
    columns = [(brought_in_words(recipe, dough), dough.sheet) for dough in brought]
    return [columns] if columns else []


def _instructors_sheet(
    name: str,
    recipes: Sequence[TaughtAmounts],
    columns_of: Callable[[TaughtAmounts], list[list[Column]]],
) -> StationSheet | None:
    made = [
        StationRecipe(
            recipe.taught.formula.title,
            recipe.taught.label,
            tuple(_table(columns, None) for columns in tables),
        )
        for recipe in recipes
        if (tables := columns_of(recipe))
    ]
    return StationSheet(name=name, people=(), recipes=tuple(made)) if made else None
