"""Temperatures, and what changes with the altitude of a kitchen."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal
from typing import Protocol

from recipes.core.heat.altitude import Advice
from recipes.core.heat.water import difference_f
from recipes.core.units import to_fahrenheit
from wording.durations import minutes
from wording.figures import NBSP, ONE, TENTH, rounded, short


def plain_degrees(celsius: Decimal) -> str:
    """A temperature only in °C, for a table or a chart: `25 °C`."""
    return f"{short(TENTH, celsius)}{NBSP}°C"


def degrees(celsius: Decimal, *, fahrenheit_first: bool = False) -> str:
    """A temperature on both scales: `25 °C (77 °F)`, or `77 °F (25 °C)`."""
    in_c = plain_degrees(celsius)
    in_f = f"{rounded(ONE, to_fahrenheit(celsius))}{NBSP}°F"
    return f"{in_f} ({in_c})" if fahrenheit_first else f"{in_c} ({in_f})"


def degrees_of(celsius: Decimal | None, of: str, shown: Callable[[Decimal], str] = degrees) -> str:
    """A step's temperature and what has it: `dough at 25 °C (77 °F)`; empty for neither."""
    if celsius is None:
        return f"{of.lower()}, temperature not stated" if of else ""
    if not of:
        return f"at {shown(celsius)}, not stated of what"
    return f"{of.lower()} at {shown(celsius)}"


class BakeStage(Protocol):
    """A part of a bake."""

    @property
    def minutes(self) -> int: ...

    @property
    def temperature_c(self) -> Decimal | None: ...


def in_stages(stages: Iterable[BakeStage], shown: Callable[[Decimal], str]) -> str:
    """`20 min at 250 °C (475 °F), then 22 min at 230 °C (450 °F)`."""
    return ", then ".join(
        f"{minutes(stage.minutes)} at "
        + (
            "a heat that is not stated"
            if stage.temperature_c is None
            else shown(stage.temperature_c)
        )
        for stage in stages
    )


def difference(celsius: Decimal, *, fahrenheit_first: bool = False) -> str:
    """A difference of temperatures on both scales: `11 °C (20 °F)`, or `20 °F (11 °C)`."""
    in_c, in_f = plain_degrees(celsius), f"{short(ONE, difference_f(celsius))}{NBSP}°F"
    return f"{in_f} ({in_c})" if fahrenheit_first else f"{in_c} ({in_f})"


def change(advice: Advice) -> str:
    """A published change: `25 to 33 % less`, `25 to 50 % more`."""
    least, most = sorted((abs(advice.least_percent), abs(advice.most_percent)))
    word = "less" if advice.least_percent < 0 else "more"
    return f"{short(ONE, least)} to {short(ONE, most)}{NBSP}% {word}"
