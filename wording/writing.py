"""How a kitchen writes: its scale of temperature, its clock, its sheets, and ounces if wanted.

Grams come first everywhere. Ovens are set in the steps of their dials: 25 °F, and 5 °C.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Protocol

from recipes.core.choices import TemperatureOf
from recipes.core.units import parse_unit, to_fahrenheit, to_grams
from wording import heat
from wording.figures import HUNDREDTH, NBSP, ONE, rounded

DIAL_F, DIAL_C = Decimal(25), Decimal(5)
# Nothing in a class but an oven is set this hot.
OVEN_FROM_C = Decimal(120)
OUNCES_A_POUND, POUNDS_FROM_OZ = 16, 32

# A temperature or a range as our own sentences write them.
_PAIR = re.compile(r"(−?[\d.]+(?: (?:to|and) −?[\d.]+)?)([ \xa0])°C \(([^()]*)[ \xa0]°F\)")


class Heated(Protocol):
    """A step or a row with a temperature, and what has it, as the choice or in words."""

    @property
    def temperature_c(self) -> Decimal | None: ...

    @property
    def temperature_of(self) -> TemperatureOf | str | None: ...


@dataclass(frozen=True, slots=True)
class Writing:
    """A kitchen's way of writing.

    `sheet` is the name of a paper size, `eu_list_first` which list of allergens leads.
    """

    fahrenheit_first: bool = False
    twelve_hours: bool = False
    sheet: str = "a4"
    ounces: bool = False
    eu_list_first: bool = False

    # Temperatures

    def degrees(self, celsius: Decimal) -> str:
        """A temperature on both scales: `25 °C (77 °F)`, or `77 °F (25 °C)`.

        An oven's is what its dial is set to: `230 °C (450 °F)`, or `450 °F (230 °C)`.
        """
        in_c, in_f = _scales(celsius)
        return f"{in_f} ({in_c})" if self.fahrenheit_first else f"{in_c} ({in_f})"

    def one_scale(self, celsius: Decimal) -> str:
        """The same only on the leading scale, where there is little room: `25 °C`."""
        return _scales(celsius)[self.fahrenheit_first]

    def difference(self, celsius: Decimal) -> str:
        """A difference of temperatures on both scales: `11 °C (20 °F)`, or `20 °F (11 °C)`."""
        return heat.difference(celsius, fahrenheit_first=self.fahrenheit_first)

    def heat_of(self, item: Heated) -> str:
        """A temperature and what has it: `dough at 25 °C (77 °F)`; empty for neither."""
        of = item.temperature_of
        words = of.label if isinstance(of, TemperatureOf) else of or ""
        return heat.degrees_of(item.temperature_c, words, self.degrees)

    def in_stages(self, stages: Iterable[heat.BakeStage]) -> str:
        """`20 min at 250 °C (475 °F), then 22 min at 230 °C (450 °F)`."""
        return heat.in_stages(stages, self.degrees)

    def in_order(self, text: str) -> str:
        """A sentence of ours, written with °C first, with this kitchen's scale first."""
        return _PAIR.sub(r"\3\2°F (\1\2°C)", text) if self.fahrenheit_first else text

    @property
    def scale(self) -> str:
        """The scale that leads, for a figure that is filled in by hand."""
        return "°F" if self.fahrenheit_first else "°C"

    @property
    def scales(self) -> str:
        """Both scales, for a column that is filled in by hand."""
        return "°F or °C" if self.fahrenheit_first else "°C or °F"

    # Masses

    def beside(self, grams: Decimal) -> str:
        """The ounces beside grams: `9.14 oz`, `7 lb 10.16 oz`; empty where none are wanted."""
        if not self.ounces:
            return ""
        in_oz = (grams / to_grams(ONE, parse_unit("oz"))).quantize(HUNDREDTH, ROUND_HALF_UP)
        if in_oz < POUNDS_FROM_OZ:
            return f"{in_oz}{NBSP}oz"
        pounds, rest = divmod(in_oz, OUNCES_A_POUND)
        return f"{pounds:.0f}{NBSP}lb{NBSP}{rest}{NBSP}oz"


def _scales(celsius: Decimal) -> tuple[str, str]:
    """A temperature in °C and in °F, an oven's at the nearest marks of its dial."""
    fahrenheit = to_fahrenheit(celsius)
    if celsius >= OVEN_FROM_C:
        celsius, fahrenheit = _nearest(celsius, DIAL_C), _nearest(fahrenheit, DIAL_F)
    return heat.plain_degrees(celsius), f"{rounded(ONE, fahrenheit)}{NBSP}°F"


def _nearest(value: Decimal, step: Decimal) -> Decimal:
    return (value / step).quantize(ONE, ROUND_HALF_UP) * step


PLAIN = Writing()
