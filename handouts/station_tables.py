"""What is weighed at a station, as values: side by side for its people, and together.

The amounts are those of the class's plan. Only the totals are calculated here, as the sums of the
lines printed above them.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from recipes.core.choices import ComponentKind
from recipes.core.numbers import ZERO
from recipes.core.scaling.amount_lines import AmountLine
from recipes.core.weighing import Weighing


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
        """How its amounts are weighed if not simply on the scale."""
        each = dict.fromkeys(line.how for line in self.each if line.how)
        if self.together is None or list(each) == [self.together.how]:
            return tuple(each)
        together = (f"together, {self.together.how}",) if self.together.how else ()
        return (*(f"each, {how}" for how in each), *together)

    @property
    def coarse(self) -> str:
        """Which of the weighings are coarse, in words; empty if none is."""
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
        """How many columns there are, including the names of the ingredients."""
        return 1 + len(self.columns) + self.leads

    @property
    def has_parts(self) -> bool:
        """Whether the dough is weighed in several parts that need their names."""
        return len(self.dough_parts) > 1

    @property
    def dough_parts(self) -> tuple[StationPart, ...]:
        """What is weighed into the dough at the station, besides what comes from tubs."""
        return tuple(part for part in self.parts if part.kind.goes_into_dough)

    @property
    def other_parts(self) -> tuple[StationPart, ...]:
        """Filling, wash and topping."""
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
        """How many lines there are to weigh, including titles of other parts and notes."""
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
    """A station: who works there and what is weighed."""

    name: str
    people: tuple[str, ...]
    recipes: tuple[StationRecipe, ...]

    @property
    def leads(self) -> bool:
        return any(recipe.leads for recipe in self.recipes)

    @property
    def has_coarse(self) -> bool:
        return any(recipe.has_coarse for recipe in self.recipes)
