"""When a recipe's bread is done, and what changes high up."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.core.heat.altitude import AltitudeAdvice, CoreTarget, altitude_advice, core_target
from recipes.core.heat.core_temperature import Core, core_for
from recipes.core.heat.doneness import CORE_RANGES, BreadKind, CoreRange
from recipes.core.rise.kitchen import core_at
from recipes.models import Revision


@dataclass(frozen=True, slots=True)
class Doneness:
    """Core temperatures in °C: the recipe's own, the published, and both at an altitude.

    `own_capped_c` is the recipe's own, lowered where it cannot be reached; else None.
    """

    own_c: Decimal | None
    published: CoreRange | None
    height_m: Decimal | None
    advice: AltitudeAdvice | None
    target: CoreTarget | None
    own_capped_c: Decimal | None

    @property
    def place(self) -> str:
        """Whether the recipe's own is `in`, `below` or `above` the published range; else empty."""
        if self.own_c is None or self.published is None:
            return ""
        if self.own_c < self.published.least_c:
            return "below"
        most_c = self.published.most_c
        return "above" if most_c is not None and self.own_c > most_c else "in"


def doneness(revision: Revision, height_m: Decimal | None) -> Doneness:
    """What is known about a revision's doneness; `height_m` is None if nobody asked."""
    own_c, kind = revision.core_temperature_c, revision.bread_kind
    published = CORE_RANGES[BreadKind(kind)] if kind else None
    if height_m is None:
        return Doneness(own_c, published, None, None, None, None)
    own = None if own_c is None else core_at(own_c, height_m)
    return Doneness(
        own_c,
        published,
        height_m,
        altitude_advice(height_m),
        core_target(published, height_m) if published else None,
        own.aim_c if own and own.capped else None,
    )


def core_of(revision: Revision, altitude_m: int) -> Core | None:
    """The one value for all pages and papers of a kitchen; None if nothing is known."""
    kind = BreadKind(revision.bread_kind) if revision.bread_kind else None
    return core_for(revision.core_temperature_c, kind, Decimal(altitude_m))
