"""How long a dough ferments at a temperature, by named rules.

A rule gives a rate; only the ratio of two rates means anything. The rules agree within about 12 %
from 20 to 27 °C and differ more outside 15 to 32 °C, so the rule is always named and every answer
outside its range has a warning. Times are minutes, temperatures Celsius.

Sources: doubling in 17 °F (an oven maker's article on bread); ten percent a degree (a trade
article); cardinal temperature model of 1993 with the optimum and maximum of baker's yeast (Appl.
Environ. Microbiol. 2011;77:2292-2302), its minimum from memory.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from recipes.core.errors import NoGrowth, OutOfRange
from recipes.core.numbers import HUNDRED, ONE, ZERO, exact, positive

STATED_FROM_C = Decimal(15)
STATED_TO_C = Decimal(32)

# Yeast rests below 34 °F (home-baking educators' sheet) and does not grow above 45.4 °C (2011).
RESTS_BELOW_C = Decimal("1.1")
STOPS_ABOVE_C = Decimal("45.4")

# Where both rules of thumb are 1; any temperature would do.
_ANCHOR_C = Decimal(24)
_LN_2 = Decimal(2).ln()


def between(field: str, value: object, least: Decimal, most: Decimal) -> Decimal:
    """`value` as a Decimal within limits. Raises NotDecimal or OutOfRange."""
    number = exact(field, value)
    if not least <= number <= most:
        raise OutOfRange(field, number, least=least, most=most)
    return number


@dataclass(frozen=True, slots=True)
class OutsideRange:
    """A warning: the rule was used from `coldest_c` to `warmest_c`, beyond its range."""

    rule: str
    from_c: Decimal
    to_c: Decimal
    coldest_c: Decimal
    warmest_c: Decimal


@dataclass(frozen=True, slots=True)
class RiseEstimate:
    """A time in minutes, and its warning if there is one."""

    minutes: Decimal
    warning: OutsideRange | None = None


@dataclass(frozen=True, kw_only=True)
class Rule(ABC):
    """A rate against temperature, good from `from_c` to `to_c`, zero where nothing grows."""

    key: str
    name: str
    source: str
    from_c: Decimal = STATED_FROM_C
    to_c: Decimal = STATED_TO_C
    grows_from_c: Decimal = RESTS_BELOW_C
    grows_to_c: Decimal = STOPS_ABOVE_C

    def rate(self, temperature_c: Decimal) -> Decimal:
        """Relative speed at a temperature; zero at the limits of growth and beyond."""
        degrees = exact("temperature_c", temperature_c)
        if not self.grows_from_c < degrees < self.grows_to_c:
            return ZERO
        return self._rate(degrees)

    @abstractmethod
    def _rate(self, degrees: Decimal) -> Decimal:
        """The rate within the limits of growth."""

    def warning(self, *temperatures_c: Decimal) -> OutsideRange | None:
        """A warning if any of the temperatures is outside the range."""
        coldest, warmest = min(temperatures_c), max(temperatures_c)
        if self.from_c <= coldest and warmest <= self.to_c:
            return None
        return OutsideRange(self.name, self.from_c, self.to_c, coldest, warmest)


@dataclass(frozen=True, kw_only=True)
class Doubling(Rule):
    """The rate doubles with every fixed number of degrees."""

    every_c: Decimal = Decimal("9.4")
    key: str = "doubling"
    name: str = "doubling rule"
    source: str = "an oven maker's article on bread: doubles in 17 °F, editable"

    def __post_init__(self) -> None:
        between("every_c", self.every_c, ONE, HUNDRED)

    def _rate(self, degrees: Decimal) -> Decimal:
        return ((degrees - _ANCHOR_C) / self.every_c * _LN_2).exp()


@dataclass(frozen=True, kw_only=True)
class PercentPerDegree(Rule):
    """The rate grows by a percentage with every degree."""

    percent: Decimal = Decimal(10)
    key: str = "percent-a-degree"
    name: str = "ten percent a degree"
    source: str = "a trade article: 1 °C changes the time by about 10 %, editable"

    def __post_init__(self) -> None:
        between("percent", self.percent, Decimal("0.1"), HUNDRED)

    def _rate(self, degrees: Decimal) -> Decimal:
        return ((degrees - _ANCHOR_C) * self._ln_factor).exp()

    @cached_property
    def _ln_factor(self) -> Decimal:
        return (ONE + self.percent / HUNDRED).ln()


@dataclass(frozen=True, kw_only=True)
class CardinalTemperatures(Rule):
    """The cardinal temperature model: zero at two temperatures, 1 at the best one between."""

    grows_from_c: Decimal = Decimal("2.8")
    best_c: Decimal = Decimal("32.3")
    grows_to_c: Decimal = STOPS_ABOVE_C
    key: str = "cardinal"
    name: str = "cardinal temperature model"
    source: str = (
        "model of 1993; optimum 32.3 and maximum 45.4 °C: Appl. Environ. Microbiol. "
        "2011;77:2292-2302; minimum 2.8 °C from memory"
    )

    def __post_init__(self) -> None:
        """Raises OutOfRange unless the best is nearer to the highest than to the lowest.

        Nearer to the lowest, the model's denominator passes through zero below the best.
        """
        middle = (self.grows_from_c + self.grows_to_c) / 2
        between("grows_to_c", self.grows_to_c, self.grows_from_c + ONE, HUNDRED)
        between("best_c", self.best_c, middle, self.grows_to_c - Decimal("0.1"))

    def _rate(self, degrees: Decimal) -> Decimal:
        least, best, most = self.grows_from_c, self.best_c, self.grows_to_c
        over = (degrees - most) * (degrees - least) ** 2
        under = (best - least) * (
            (best - least) * (degrees - best) - (best - most) * (best + least - 2 * degrees)
        )
        return over / under


DOUBLING = Doubling()
TEN_PERCENT = PercentPerDegree()
CARDINAL = CardinalTemperatures()
RULES: tuple[Rule, ...] = (DOUBLING, TEN_PERCENT, CARDINAL)


@dataclass(frozen=True)
class Fermentation:
    """What a recipe asks for: `minutes` at a steady `temperature_c`, converted by a rule.

    Raises NoGrowth if, by the rule, nothing grows at that temperature.
    """

    minutes: Decimal
    temperature_c: Decimal
    rule: Rule = DOUBLING

    def __post_init__(self) -> None:
        positive("minutes", self.minutes)
        if self.rule.rate(self.temperature_c) == ZERO:
            raise NoGrowth(self.rule.name, self.temperature_c)

    def speed(self, temperature_c: Decimal) -> Decimal:
        """The share of the whole fermentation done in a minute at a temperature."""
        return self.rule.rate(temperature_c) / self._rate_minutes

    @cached_property
    def _rate_minutes(self) -> Decimal:
        return self.rule.rate(self.temperature_c) * self.minutes


def time_at(fermentation: Fermentation, temperature_c: Decimal) -> RiseEstimate:
    """The same fermentation at another steady temperature. Raises NoGrowth if nothing grows there.

    80 min at 25 °C are 134 min at 18 °C by the doubling rule.
    """
    rule = fermentation.rule
    rate = rule.rate(temperature_c)
    if rate == ZERO:
        raise NoGrowth(rule.name, temperature_c)
    minutes = fermentation.minutes * rule.rate(fermentation.temperature_c) / rate
    return RiseEstimate(minutes, rule.warning(fermentation.temperature_c, temperature_c))
