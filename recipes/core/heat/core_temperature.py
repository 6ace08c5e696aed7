"""How hot the middle of a bread must get at an altitude: one value for every page and paper."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.core.heat.altitude import core_target
from recipes.core.heat.doneness import CORE_RANGES, BreadKind
from recipes.core.rise.kitchen import core_at


@dataclass(frozen=True, slots=True)
class Core:
    """How hot the middle must get at an altitude, in °C: at least `least_c`, at most `most_c`.

    `capped`: water boils at `boiling_c` there, too low for the wanted temperature. `published`: it
    is the published range, since the recipe has none of its own.
    """

    least_c: Decimal
    most_c: Decimal | None
    boiling_c: Decimal
    capped: bool
    published: bool = False


def core_for(own_c: Decimal | None, kind: BreadKind | None, height_m: Decimal) -> Core | None:
    """The recipe's own temperature, else its kind's published range; None without either."""
    if own_c is not None:
        own = core_at(own_c, height_m)
        return Core(own.aim_c, None, own.boiling_c, own.capped)
    if kind is None:
        return None
    usual = core_target(CORE_RANGES[kind], height_m)
    return Core(usual.least_c, usual.most_c, usual.boiling_c, usual.capped, published=True)
