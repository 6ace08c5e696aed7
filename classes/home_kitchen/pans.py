"""A pan at home: what it is like, how many there are, and the JSON that is kept of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any, Self

from django.db import models

from recipes.core.errors import BakingError
from recipes.core.pans.sizes import Pan, PanShape

LEAST_CM, MOST_CM = 1, 100
MOST_PANS = 12
SIZES = ("length", "width", "depth")


class Tin(models.TextChoices):
    NONE = "", "As in class, in no pan of mine"
    LOAF = PanShape.LOAF.value, "Loaf pan"
    ROUND = PanShape.ROUND.value, "Round pan"
    RECTANGULAR = PanShape.RECTANGULAR.value, "Rectangular pan or tray"


class PanDough(models.TextChoices):
    AS_IN_CLASS = "class", "Pieces as heavy as in class"
    TO_FILL = "pan", "As much as suits the pan"


@dataclass(frozen=True, slots=True)
class HomePan:
    """So many equal pans by their inside measures, and how much dough goes into them."""

    pan: Pan
    count: int = 1
    dough: str = PanDough.AS_IN_CLASS

    @classmethod
    def of(cls, kept: object) -> Self | None:
        """The pan that was kept; None for what makes no sense."""
        if not isinstance(kept, Mapping) or kept.get("shape") not in Tin.values[1:]:
            return None
        length, width, depth = (_size(kept.get(f"{name}_cm")) for name in SIZES)
        count, dough = kept.get("count"), kept.get("dough")
        if length is None:
            return None
        if type(count) is not int or not 1 <= count <= MOST_PANS or dough not in PanDough.values:
            return None
        try:
            return cls(Pan.in_cm(PanShape(kept["shape"]), length, width, depth), count, dough)
        except BakingError:
            return None

    def kept(self) -> dict[str, Any]:
        """What is kept of it: sizes as text, so that they stay exact."""
        pan = self.pan
        sizes = (pan.length_cm, pan.width_cm, pan.depth_cm)
        return {
            "shape": pan.shape.value,
            "count": self.count,
            "dough": str(self.dough),
            **{
                f"{name}_cm": None if size is None else str(size)
                for name, size in zip(SIZES, sizes, strict=True)
            },
        }

    @property
    def fills_the_pan(self) -> bool:
        return self.dough == PanDough.TO_FILL


def _size(kept: object) -> Decimal | None:
    try:
        size = Decimal(kept) if isinstance(kept, str) else None
    except InvalidOperation:
        return None
    is_size = size is not None and size.is_finite() and LEAST_CM <= size <= MOST_CM
    return size if is_size else None
