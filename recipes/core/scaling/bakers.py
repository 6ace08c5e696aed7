"""Who bakes what, and what is needed on top of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from recipes.core.errors import NobodyBakes, OutOfRange, StationEmpty, StationUnknown
from recipes.core.formula import FormulaIngredient
from recipes.core.numbers import ZERO, not_negative, positive, whole
from recipes.core.weighing import BENCH_SCALE, Scales

MOST_LOSS = Decimal("0.5")


@dataclass(frozen=True, slots=True)
class Baker:
    """Somebody who bakes `pieces` pieces of `piece_g` grams of dough at a station.

    `brought` is the stage at which the instructor brings the dough, empty if it is made in class.
    `dustings` is how many times one head's dusting flour is used for it.
    """

    key: str
    name: str
    station: str
    pieces: int
    piece_g: Decimal
    brought: str = ""
    dustings: int = 1

    def __post_init__(self) -> None:
        whole("pieces", self.pieces, least=1)
        positive("piece_g", self.piece_g)
        whole("dustings", self.dustings)

    @property
    def dough_g(self) -> Decimal:
        """Dough mass in grams."""
        return self.pieces * self.piece_g


def dough_g_of(bakers: Iterable[Baker]) -> Decimal:
    """The dough of these bakers together, in grams."""
    return sum((baker.dough_g for baker in bakers), ZERO)


@dataclass(frozen=True)
class Demand:
    """Who bakes what, and what is needed on top of it.

    `demonstrations` are all of the instructor's doughs, including the brought ones. `handling_loss`
    is a share (0.03 is 3 %) added to the pooled dough; each head gets `dusting_g` grams of
    `dusting_flour`, none if no flour is named. Raises NobodyBakes, StationEmpty, StationUnknown or
    OutOfRange.
    """

    bakers: tuple[Baker, ...]
    demonstrations: tuple[Baker, ...] = ()
    stations: tuple[str, ...] = ()
    handling_loss: Decimal = ZERO
    dusting_g: Decimal = ZERO
    dusting_flour: FormulaIngredient | None = None
    scales: Scales = BENCH_SCALE

    def __post_init__(self) -> None:
        if not self.bakers and not self.demonstrations:
            raise NobodyBakes
        not_negative("dusting_g", self.dusting_g)
        if not_negative("handling_loss", self.handling_loss) > MOST_LOSS:
            raise OutOfRange("handling_loss", self.handling_loss, least=ZERO, most=MOST_LOSS)
        busy = {baker.station for baker in self.bakers}
        for station in self.stations:
            if station not in busy:
                raise StationEmpty(station)
        for baker in self.bakers:
            if self.stations and baker.station not in self.stations:
                raise StationUnknown(baker.station, baker.name)

    @property
    def heads(self) -> int:
        """How many times dusting flour is used: once for each baker and each demonstration."""
        return sum(baker.dustings for baker in (*self.bakers, *self.demonstrations))

    @cached_property
    def bakers_g(self) -> Decimal:
        """All bakers' dough in grams."""
        return dough_g_of(self.bakers)

    @cached_property
    def demonstrations_g(self) -> Decimal:
        """The dough that is shown in class, in grams."""
        return dough_g_of(baker for baker in self.demonstrations if not baker.brought)

    @cached_property
    def brought_g(self) -> Decimal:
        """The dough that is brought ready-made, in grams."""
        return dough_g_of(baker for baker in self.demonstrations if baker.brought)

    @property
    def everybody_g(self) -> Decimal:
        """All dough in grams, without handling loss."""
        return self.bakers_g + self.demonstrations_g + self.brought_g
