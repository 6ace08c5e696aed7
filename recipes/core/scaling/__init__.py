"""The scaling service: every list, page and paper takes its numbers from `scale`.

Exact masses are proportional to dough mass and never rounded here; each printed line is weighed
once from its exact mass, so that no total adds up rounded numbers. A mass is multiplied first and
divided once, so that 28.5 g x 100 / 300 is exactly 9.5 g.

People and stations weigh exactly their dough; from a part made in one tub for everybody they weigh
what they take. The pooled amounts add, on top of everybody's dough, the demonstration batches, the
doughs that are brought ready-made, the handling loss (what sticks to bowls and hands between the
bulk tub and the stations), and dusting flour.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.core.formula import Formula
from recipes.core.numbers import ONE, positive
from recipes.core.scaling.bakers import MOST_LOSS, Baker, Demand, dough_g_of
from recipes.core.scaling.needs import (
    Division,
    IngredientNeed,
    divisions_of,
    line_needs,
    pool,
    tubs_for,
)
from recipes.core.scaling.sheets import ComponentAmounts, Sheet, Sheets, sheet_of
from recipes.core.weighing import BENCH_SCALE, Scales, split

__all__ = [
    "MOST_LOSS",
    "Amounts",
    "Baker",
    "ComponentAmounts",
    "Demand",
    "Division",
    "IngredientNeed",
    "PersonAmounts",
    "Sheet",
    "StationAmounts",
    "batch",
    "pool",
    "scale",
]


@dataclass(frozen=True, slots=True)
class PersonAmounts:
    """What one baker weighs."""

    baker: Baker
    sheet: Sheet

    def piece_masses(self) -> tuple[Decimal, ...]:
        """The pieces, in whole grams, that the dough is divided into."""
        return split(self.sheet.dough_g, (ONE,) * self.baker.pieces, step_g=ONE)


@dataclass(frozen=True, slots=True)
class StationAmounts:
    """What a station needs in total, without handling loss."""

    station: str
    bakers: tuple[Baker, ...]
    sheet: Sheet


@dataclass(frozen=True)
class Amounts:
    """A formula scaled to a demand.

    `demonstrations` are all of the instructor's doughs: the `shown` and the `brought` ones.
    """

    formula: Formula
    demand: Demand
    persons: tuple[PersonAmounts, ...]
    demonstrations: tuple[PersonAmounts, ...]
    stations: tuple[StationAmounts, ...]
    pooled: Sheet
    divisions: tuple[Division, ...]
    needs: tuple[IngredientNeed, ...]

    @property
    def shown(self) -> tuple[PersonAmounts, ...]:
        """The doughs that the instructor makes in class."""
        return tuple(
            demonstration
            for demonstration in self.demonstrations
            if not demonstration.baker.brought
        )

    @property
    def brought(self) -> tuple[PersonAmounts, ...]:
        """The doughs that the instructor brings ready-made."""
        return tuple(
            demonstration for demonstration in self.demonstrations if demonstration.baker.brought
        )


def _at_stations(demand: Demand) -> dict[str, list[Baker]]:
    """Who bakes at each station, in its order."""
    names = demand.stations or tuple(dict.fromkeys(baker.station for baker in demand.bakers))
    at: dict[str, list[Baker]] = {name: [] for name in names}
    for baker in demand.bakers:
        at[baker.station].append(baker)
    return at


def scale(formula: Formula, demand: Demand) -> Amounts:
    """Scale a formula to a demand: per person, per station and pooled, exact and as weighed.

    Masses are grams. Only `pooled` and `needs` include the handling loss.
    """
    sheets, at = Sheets(formula, demand.scales), _at_stations(demand)
    pooled = sheet_of(formula, demand.everybody_g, demand.scales, demand.handling_loss)
    takers = [(name, dough_g_of(bakers)) for name, bakers in at.items()]
    takers += [(baker.name, baker.dough_g) for baker in demand.demonstrations]
    divisions = divisions_of(pooled, takers, demand.scales)
    stations = tuple(
        StationAmounts(
            name, tuple(bakers), sheets.of(dough_g_of(bakers), tubs_for(divisions, taker))
        )
        for taker, (name, bakers) in enumerate(at.items())
    )
    alone = {
        station.bakers[0].key: station.sheet for station in stations if len(station.bakers) == 1
    }
    return Amounts(
        formula=formula,
        demand=demand,
        persons=tuple(
            PersonAmounts(baker, alone.get(baker.key) or sheets.of(baker.dough_g))
            for baker in demand.bakers
        ),
        demonstrations=tuple(
            PersonAmounts(baker, sheets.of(baker.dough_g, tubs_for(divisions, taker)))
            for taker, baker in enumerate(demand.demonstrations, start=len(stations))
        ),
        stations=stations,
        pooled=pooled,
        divisions=divisions,
        needs=pool(line_needs(formula, demand)),
    )


def batch(formula: Formula, dough_g: Decimal, scales: Scales | None = None) -> Sheet:
    """The amounts for one dough mass in grams, for a recipe page or a kitchen at home."""
    return sheet_of(formula, positive("dough_g", dough_g), scales or BENCH_SCALE)
