"""Form fields for the sizes of things: lengths in cm or inches, and what a vessel holds."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from recipes.core.numbers import ONE
from recipes.core.reading import read_quantity
from recipes.core.units import Measures, convert, parse_unit
from recipes.forms.fields import FigureField
from wording.figures import plain

CM, INCH = "cm", "in"
MM_PER_CM = Decimal(10)
HUNDREDTH = Decimal("0.01")
LEAST_CM, MOST_CM = 1, 1000
MOST_ML = 100_000


def read_cm(text: str, bare: str = CM) -> Decimal:
    """Centimeters, to the hundredth, from `23`, `9 in`, `9"` or `230 mm`.

    A bare number is in the unit `bare`. Raises as `read_quantity`, UnknownUnit or WrongMeasure.
    """
    quantity = read_quantity(text.replace('"', " in").replace("″", " in"))
    unit = parse_unit(quantity.word or bare)
    length_mm = convert(quantity.number, unit, Measures.LENGTH)
    return (length_mm / MM_PER_CM).quantize(HUNDREDTH, ROUND_HALF_UP)


def read_ml(text: str) -> Decimal:
    """Whole milliliters from `1500`, `1.5 l` or `6 cups`. Raises as `read_cm`."""
    quantity = read_quantity(text)
    unit = parse_unit(quantity.word or "ml")
    return convert(quantity.number, unit, Measures.VOLUME).quantize(ONE, ROUND_HALF_UP)


class SizeField(FigureField):
    """A length in cm, typed in cm or with its unit; `bare` is the unit of bare numbers."""

    inputmode = "text"

    def __init__(self, *, bare: str = CM, **kwargs: Any) -> None:
        super().__init__(least=LEAST_CM, most=MOST_CM, places=2, unit=CM, **kwargs)
        self.bare = bare

    def to_python(self, value: object) -> Decimal | int | None:
        text = "" if value is None else str(value).strip()
        is_bare = bool(text) and not any(sign.isalpha() or sign in '"″' for sign in text)
        return super().to_python(f"{text} {self.bare}" if is_bare else text)

    read = staticmethod(read_cm)


class MillimetersField(SizeField):
    """A length that is kept in whole millimeters and typed and shown in cm."""

    def prepare_value(self, value: object) -> object:
        return plain(Decimal(value) / MM_PER_CM) if isinstance(value, int) else value

    def to_python(self, value: object) -> int | None:
        length_cm = super().to_python(value)
        if length_cm is None:
            return None
        return int((length_cm * MM_PER_CM).quantize(ONE, ROUND_HALF_UP))


class CapacityField(FigureField):
    """What a vessel holds in whole milliliters, typed in ml or as `1.5 l` or `6 cups`."""

    inputmode = "text"
    read = staticmethod(read_ml)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(least=1, most=MOST_ML, unit="ml", **kwargs)

    def to_python(self, value: object) -> int | None:
        held_ml = super().to_python(value)
        return None if held_ml is None else int(held_ml)
