"""When a recipe's bread is done, and what changes high up."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.baking.altitude import (
    CORE_MARGIN_C,
    AltitudeAdvice,
    CoreTarget,
    altitude_advice,
    core_target,
)
from recipes.baking.doneness import CORE_RANGES, BreadKind, CoreRange
from recipes.models import Revision


@dataclass(frozen=True, slots=True)
class Doneness:
    """Core temperatures in °C: the recipe's own, the published, and what a height leaves of both.

    `own_capped_c` is what the recipe's own becomes where it cannot be reached, else None.
    """

    own_c: Decimal | None
    published: CoreRange | None
    height_m: Decimal | None
    advice: AltitudeAdvice | None
    target: CoreTarget | None
    own_capped_c: Decimal | None

    @property
    def place(self) -> str:
        """Where the recipe's own lies: `in`, `below` or `above` the published range, or nothing."""
        if self.own_c is None or self.published is None:
            return ""
        if self.own_c < self.published.least_c:
            return "below"
        most_c = self.published.most_c
        return "above" if most_c is not None and self.own_c > most_c else "in"


def doneness(revision: Revision, height_m: Decimal | None) -> Doneness:
    """What is known of a revision's doneness; `height_m` is None where nobody asked."""
    own_c, kind = revision.core_temperature_c, revision.bread_kind
    published = CORE_RANGES[BreadKind(kind)] if kind else None
    if height_m is None:
        return Doneness(own_c, published, None, None, None, None)
    advice = altitude_advice(height_m)
    cap_c = advice.boiling_c - CORE_MARGIN_C
    return Doneness(
        own_c,
        published,
        height_m,
        advice,
        core_target(published, height_m) if published else None,
        cap_c if own_c is not None and own_c > cap_c else None,
    )
