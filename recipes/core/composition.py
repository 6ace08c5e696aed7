"""What an ingredient consists of, for heat balance and nutrition estimates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from decimal import Decimal

from recipes.core.numbers import ZERO


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


def _of(*figures: str) -> Composition:
    return Composition(*map(Decimal, figures))


# As in SR28, and therefore in the shared table of ingredients.
TAP_WATER = _of("99.90", "0", "0", "0", "0", "0.10", "4", "0")


def mixed(parts: Sequence[tuple[Composition, Decimal]]) -> Composition:
    """The composition of a mixture, given grams of each part; None unless every part's is known."""
    total_g = sum((mass_g for _, mass_g in parts), ZERO)

    def mean(name: str) -> Decimal | None:
        known = [(getattr(food, name), mass_g) for food, mass_g in parts]
        if not parts or any(value is None for value, _ in known):
            return None
        return sum((value * mass_g for value, mass_g in known), ZERO) / total_g

    return Composition(*(mean(field.name) for field in fields(Composition)))
