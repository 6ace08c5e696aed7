"""Form fields for figures: text in, exact numbers out, errors in words for people."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django import forms

from recipes.core.errors import BakingError, UnknownUnit
from recipes.core.numbers import ONE
from recipes.core.reading import read_celsius, read_minutes, read_number, read_quantity, read_whole
from recipes.core.units import Measures, convert, parse_unit
from recipes.forms.words import in_words
from wording.figures import plain
from wording.sizes import FOOT_M


@dataclass(frozen=True, slots=True)
class Option:
    """One of a few buttons to choose from."""

    key: str
    label: str
    chosen: bool


class FigureField(forms.Field):
    """A number from `least` to `most`, inclusive, with up to `places` decimals."""

    read: Callable[[str], Decimal | int] = staticmethod(read_number)
    inputmode = "decimal"

    def __init__(
        self,
        *,
        least: Decimal | int,
        most: Decimal | int,
        places: int = 0,
        unit: str = "",
        **kwargs: Any,
    ) -> None:
        self.least, self.most, self.places, self.unit = least, most, places, unit
        super().__init__(**kwargs)

    def widget_attrs(self, widget: forms.Widget) -> dict[str, str]:
        return {"inputmode": self.inputmode, "autocomplete": "off", "maxlength": "40"}

    def prepare_value(self, value: object) -> object:
        return plain(value) if isinstance(value, Decimal) else value

    def to_python(self, value: object) -> Decimal | int | None:
        if value in self.empty_values or not str(value).strip():
            return None
        try:
            number = type(self).read(str(value))
        except BakingError as error:
            raise forms.ValidationError(in_words(error), code="unreadable") from error
        return self._in_range(number)

    def _in_range(self, number: Decimal | int) -> Decimal | int:
        unit = f" {self.unit}" if self.unit else ""
        if number < self.least:
            raise forms.ValidationError(f"Enter {self.least}{unit} or more.", code="least")
        if number > self.most:
            raise forms.ValidationError(f"Enter {self.most}{unit} or less.", code="most")
        if (
            isinstance(number, Decimal)
            and -int(number.normalize().as_tuple().exponent) > self.places
        ):
            places = f"{self.places} decimal place{'' if self.places == 1 else 's'}"
            raise forms.ValidationError(f"Enter at most {places}.", code="places")
        return number


class WholeField(FigureField):
    """A whole number, such as pieces."""

    read = staticmethod(read_whole)
    inputmode = "numeric"


class MinutesField(FigureField):
    """A duration in minutes, typed as `80` or `1 h 20 min`; empty is None."""

    read = staticmethod(read_minutes)
    inputmode = "text"

    def prepare_value(self, value: object) -> object:
        return "" if value == 0 else value

    def clean(self, value: object) -> int:
        return super().clean(value) or 0


class CelsiusField(FigureField):
    """A temperature, typed in °C or as `77 F`; kept in °C to the tenth."""

    inputmode = "text"

    @staticmethod
    def read(text: str) -> Decimal:
        return read_celsius(text).quantize(Decimal("0.1"))


class HeightField(FigureField):
    """A height above the sea in whole meters, typed as `1600` or `5250 ft`."""

    inputmode = "text"

    @staticmethod
    def read(text: str) -> Decimal:
        quantity = read_quantity(text.replace("′", " ft").replace("'", " ft"))
        if (meters := METERS.get(quantity.word.lower().rstrip("."))) is None:
            raise UnknownUnit(quantity.word)
        return (quantity.number * meters).quantize(ONE, ROUND_HALF_UP)


class RowTextarea(forms.Textarea):
    """Two lines at first; the browser lets it grow."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__({"rows": 2, **(attrs or {})})


METERS = {
    **dict.fromkeys(("", "m", "meter", "meters", "metre", "metres"), Decimal(1)),
    **dict.fromkeys(("ft", "foot", "feet"), FOOT_M),
}

CM, INCH = "cm", "in"
MM_PER_CM = Decimal(10)
HUNDREDTH = Decimal("0.01")
LEAST_CM, MOST_CM = 1, 1000
MOST_ML = 100_000


def read_cm(text: str, bare: str = CM) -> Decimal:
    """Centimeters, to the hundredth, from `23`, `9 in`, `9"` or `230 mm`.

    A bare number is in the unit `bare`. Raises like `read_quantity`, UnknownUnit or WrongMeasure.
    """
    quantity = read_quantity(text.replace('"', " in").replace("″", " in"))
    unit = parse_unit(quantity.word or bare)
    length_mm = convert(quantity.number, unit, Measures.LENGTH)
    return (length_mm / MM_PER_CM).quantize(HUNDREDTH, ROUND_HALF_UP)


def read_ml(text: str) -> Decimal:
    """Whole milliliters from `1500`, `1.5 l` or `6 cups`. Raises what `read_cm` raises."""
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
    """A length that is stored in whole millimeters, and typed and shown in cm."""

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
