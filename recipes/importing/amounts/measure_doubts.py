"""What an import is unsure of about measures; pages put it into words."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.importing.doubts import Doubt


@dataclass(frozen=True, slots=True)
class NotMeasured(Doubt):
    """An amount by feel, such as a pinch, which has no grams; `word` is what was counted."""

    word: str


@dataclass(frozen=True, slots=True)
class MeasureAssumed(Doubt):
    """A measure that countries fill differently; `holds` is the assumed size, in ml or g."""

    unit: str
    holds: Decimal


@dataclass(frozen=True, slots=True)
class TakenLikeWater(Doubt):
    """A volume of a liquid whose density is not known, weighed as if it were water."""

    unit: str


@dataclass(frozen=True, slots=True)
class FlourByVolume(Doubt):
    """A volume of flour, whose grams depend on how the cup was filled."""

    spooned_g: Decimal
    dipped_g: Decimal


@dataclass(frozen=True, slots=True)
class AmountAside(Doubt):
    """A note with an amount of its own, such as `plus 25 g for dusting`, that is not counted."""

    text: str
