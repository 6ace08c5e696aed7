"""Named errors of the baking core. They have fields; forms turn them into sentences."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


class BakingError(ValueError):
    """Anything the baking core refuses. Subclasses compare by identity, so they can be hashed."""


@dataclass(eq=False)
class UnknownUnit(BakingError):
    """A word that is not in the fixed vocabulary of kitchen units."""

    word: str
    suggestions: tuple[str, ...] = ()


@dataclass(eq=False)
class WrongMeasure(BakingError):
    """A known unit of the wrong kind, such as a temperature where a mass is wanted."""

    unit: str
    measures: str
    wanted: str


@dataclass(eq=False)
class NoDensity(BakingError):
    """A volume of something whose mass per volume is not known."""

    unit: str


@dataclass(eq=False)
class NoPieceMass(BakingError):
    """A count of something whose mass apiece is not known."""

    unit: str


@dataclass(eq=False)
class NotDecimal(BakingError):
    """A binary float, NaN or infinity where an exact decimal is required."""

    field: str
    value: object


@dataclass(eq=False)
class NotWhole(BakingError):
    """A number of pieces, packs or cents that is not a whole number."""

    field: str
    value: object


@dataclass(eq=False)
class OutOfRange(BakingError):
    """A number below its least or above its greatest sensible value."""

    field: str
    value: Decimal
    least: Decimal | None = None
    most: Decimal | None = None


@dataclass(eq=False)
class Unsettled(BakingError):
    """A written recipe that lacks something needed to bake it."""


@dataclass(eq=False)
class NoFlour(BakingError):
    """A formula in which no line of the dough is a flour."""

    title: str


@dataclass(eq=False)
class StarterUnknown(BakingError):
    """A share of all flour was asked for, but a starter's water is not known."""

    names: tuple[str, ...]


@dataclass(eq=False)
class EmptyComponent(BakingError):
    """A part of a formula without lines."""

    component: str


@dataclass(eq=False)
class NobodyBakes(BakingError):
    """A demand without a single baker or demonstration."""


@dataclass(eq=False)
class StationEmpty(BakingError):
    """A station that is asked for but at which nobody bakes."""

    station: str


@dataclass(eq=False)
class StationUnknown(BakingError):
    """A baker placed at a station that is not part of the demand."""

    station: str
    baker: str


@dataclass(eq=False)
class NoGrowth(BakingError):
    """A temperature at which, by the rule in use, the dough never rises enough."""

    rule: str
    temperature_c: Decimal


@dataclass(eq=False)
class NoFactor(BakingError):
    """A set of yeast factors that has none for one of the forms."""

    factors: str
    form: str


@dataclass(eq=False)
class NotInFormula(BakingError):
    """An ingredient to replace that is not there; without a component, it is nowhere."""

    ingredient: str
    component: str | None = None
