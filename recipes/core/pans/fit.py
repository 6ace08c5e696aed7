"""Whether a dough suits a pan, how much the pan takes, and how high the dough is in it.

The recipe's own pan comes first: its load should be kept. Without one, a loaf pan is judged by
published loads, which differ from bread to bread; for other pans nothing is published.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from recipes.core.heat.doneness import BreadKind
from recipes.core.numbers import ONE
from recipes.core.pans.plan import Filling, has_volume, usual_load_by
from recipes.core.pans.sizes import PUBLISHED_LOADS, DoughLoad, LoadBy, Pan, PanShape, bowl_for

# Assumed: with this much more or less than in the recipe's own pan it is still the same bread.
OWN_SPREAD = Decimal("0.25")
USUAL = "pan bread"
WHOLE_GRAIN = "whole grain"


class Suits(StrEnum):
    """Whether there is the right amount of dough in a pan."""

    TOO_LITTLE = "too little"
    WELL = "well"
    TOO_MUCH = "too much"


@dataclass(frozen=True, slots=True)
class GoodLoad:
    """The loads that suit a pan, from least to most, and the one to aim at.

    `is_own` marks the load of the recipe's own pan, as against a published one.
    """

    least: Decimal
    aim: Decimal
    most: Decimal
    by: LoadBy
    is_own: bool

    def suits(self, load: DoughLoad) -> Suits:
        """Whether a load is within the range; it must be counted the same way."""
        if load.grams < self.least:
            return Suits.TOO_LITTLE
        return Suits.TOO_MUCH if load.grams > self.most else Suits.WELL

    def dough_g(self, pan: Pan) -> Decimal:
        """The dough in grams that a pan takes at the load to aim at. Raises NoDepth."""
        return DoughLoad(self.aim, self.by).dough_g(pan)


def good_load(pan: Pan, own: Filling | None, kind: str) -> GoodLoad | None:
    """The loads that suit a pan for a bread of a kind; None if none is known.

    Loaf pans and other pans are not compared with each other: the bread in them differs.
    """
    is_loaf = pan.shape is PanShape.LOAF
    if own and (own.pan.shape is PanShape.LOAF) == is_loaf:
        by = usual_load_by(pan, own.pan)
        aim = own.load(by).grams
        return GoodLoad(aim * (ONE - OWN_SPREAD), aim, aim * (ONE + OWN_SPREAD), by, is_own=True)
    if is_loaf and has_volume(pan):
        return _published(kind)
    return None


def _published(kind: str) -> GoodLoad:
    """The published loads of pan bread, or of whole grain bread, which is denser."""
    is_dense = kind == BreadKind.DENSE
    own = [load for load in PUBLISHED_LOADS if (load.bread == WHOLE_GRAIN) == is_dense]
    usual = next((load for load in own if load.bread == USUAL), own[0])
    return GoodLoad(
        min(load.least for load in own),
        (usual.least + usual.most) / 2,
        max(load.most for load in own),
        LoadBy.VOLUME,
        is_own=False,
    )


@dataclass(frozen=True, slots=True)
class LoadLevel:
    """How high a dough is in a pan of `depth_cm`, when shaped and when it has doubled."""

    shaped_cm: Decimal
    doubled_cm: Decimal
    depth_cm: Decimal


def level_in(filling: Filling) -> LoadLevel | None:
    """The heights of a dough that covers the pan's floor; None without a depth."""
    pan = filling.pan
    if pan.depth_cm is None:
        return None
    floor_cm2 = pan.volume_cm3 / pan.depth_cm
    dough = bowl_for(filling.dough_g)
    return LoadLevel(dough.dough_ml / floor_cm2, dough.risen_ml / floor_cm2, pan.depth_cm)
