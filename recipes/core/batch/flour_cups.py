"""What a volume of flour weighs, by how the cup was filled: one figure for papers and imports.

A cup of white flour spooned in and leveled holds 120 g (common practice, from memory). Dipped into
the bag, it holds more: SR28's cup of bread flour (NDB 20083), 137 g. Other flours have their row's
density when spooned, and the same share more when dipped.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.core.numbers import ONE
from recipes.core.units import Measures, convert, parse_unit

SPOONED_CUP_G = Decimal(120)
DIPPED_CUP_G = Decimal(137)
WHITE_FLOURS = frozenset({"bread-flour", "all-purpose-flour"})


@dataclass(frozen=True, slots=True)
class FlourDensity:
    """Grams in a milliliter of a flour, spooned into the cup or dipped up with it."""

    spooned: Decimal
    dipped: Decimal


def flour_density(key: str, density_g_per_ml: Decimal) -> FlourDensity:
    """Both densities of the flour with this key, whose row has the density given."""
    spooned = density_g_per_ml
    if key in WHITE_FLOURS:
        spooned = SPOONED_CUP_G / convert(ONE, parse_unit("US cup"), Measures.VOLUME)
    return FlourDensity(spooned, spooned * DIPPED_CUP_G / SPOONED_CUP_G)
