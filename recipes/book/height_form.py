"""The height of a kitchen, typed in meters or feet."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal

from django import forms

from recipes.core.heat.altitude import HIGHEST_M, LOWEST_M, meters
from recipes.core.numbers import ONE
from recipes.core.reading import Unreadable, read_quantity
from recipes.forms.fields import FigureField

METERS = ("", "m", "meter", "meters")
FEET = ("ft", "foot", "feet")


def read_height(text: str) -> Decimal:
    """Whole meters from `1600`, `1600 m` or `5200 ft`. Raises as `read_quantity`."""
    quantity = read_quantity(text.replace("'", " ft").replace("′", " ft"))
    word = quantity.word.lower()
    if word in METERS:
        height_m = quantity.number
    elif word in FEET:
        height_m = meters(quantity.number)
    else:
        raise Unreadable(text.strip())
    return height_m.quantize(ONE, ROUND_HALF_UP)


class HeightField(FigureField):
    """A height above the sea in meters."""

    inputmode = "text"
    read = staticmethod(read_height)


class HeightForm(forms.Form):
    """Asks how high a kitchen lies; empty is not asked."""

    height = HeightField(
        least=LOWEST_M, most=HIGHEST_M, unit="m", required=False, label="Height of the kitchen"
    )

    def __init__(self, asked: Mapping[str, str]) -> None:
        super().__init__({"height": asked.get("height", "")}, auto_id="done_%s")

    @property
    def height_m(self) -> Decimal | None:
        """Meters above the sea, None where nothing or nonsense was asked."""
        return self.cleaned_data.get("height") if self.is_valid() else None
