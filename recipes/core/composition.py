"""What an ingredient consists of, for heat balance and nutrition estimates."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Composition:
    """Grams in 100 g, sodium in milligrams and energy in kilocalories; None where unknown.

    `carbohydrate_g` is by difference and so includes `fiber_g`, as in SR28.
    """

    water_g: Decimal | None = None
    protein_g: Decimal | None = None
    fat_g: Decimal | None = None
    carbohydrate_g: Decimal | None = None
    fiber_g: Decimal | None = None
    ash_g: Decimal | None = None
    sodium_mg: Decimal | None = None
    energy_kcal: Decimal | None = None
