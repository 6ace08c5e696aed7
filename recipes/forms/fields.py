"""Form fields for figures: text in, exact numbers out, worded for people."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms

from recipes.core.errors import BakingError
from recipes.core.reading import read_celsius, read_minutes, read_number, read_whole
from recipes.forms.words import in_words
from wording.figures import plain


@dataclass(frozen=True, slots=True)
class Option:
    """One of a few buttons to choose from."""

    key: str
    label: str
    chosen: bool


class FigureField(forms.Field):
    """A number from `least` to `most` with up to `places` decimals, both ends included."""

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
    """A duration in minutes, typed as `80` or `1 h 20 min`; empty is none."""

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


class RowTextarea(forms.Textarea):
    """Two lines to begin with; the browser lets it grow."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__({"rows": 2, **(attrs or {})})
