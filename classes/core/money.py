"""Money: a whole number of a currency's smallest units, such as cents, and the currency.

Amounts of two currencies are never added, compared or divided by each other: no exchange rate is
known here. Whatever shows or exports money uses this module.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from types import MappingProxyType

from recipes.core.errors import BakingError, NotWhole, OutOfRange
from recipes.core.numbers import whole
from recipes.core.reading import Unreadable, read_quantity

_BY_PLACES = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    2: (
        "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD "
        "CAD CDF CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP "
        "GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK "
        "LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO "
        "NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS "
        "SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST "
        "XAD XCD XCG YER ZAR ZMW ZWG"
    ),
    3: "BHD IQD JOD KWD LYD OMR TND",
    4: "CLF UYW",
}

PLACES = MappingProxyType(
    {code: places for places, codes in _BY_PLACES.items() for code in codes.split()}
)


@dataclass(eq=False)
class UnknownCurrency(BakingError):
    """A code that is not a currency with known decimal places."""

    code: str


def places_of(code: str) -> int:
    """The decimal places of a currency by its code. Raises UnknownCurrency."""
    try:
        return PLACES[code]
    except KeyError:
        raise UnknownCurrency(code) from None


# The most that may be typed: even in the least valuable currency some hundred kilograms of flour.
# Sums over a class stay far below what a column can store.
MOST_MINOR = 10**11
MOST_SUM_MINOR = 10**18
_CODE = re.compile(
    r"(?:(?P<before>[A-Za-z]{3})(?![A-Za-z]))?\s*(?P<figures>.*?)\s*"
    r"(?:(?<![A-Za-z])(?P<after>[A-Za-z]{3}))?"
)


@dataclass(eq=False)
class TwoCurrencies(BakingError):
    """A sum or a comparison of two currencies."""

    first: str
    second: str


@dataclass(eq=False)
class TooFine(BakingError):
    """An amount with more decimal places than its currency has."""

    text: str
    currency: str
    places: int


@dataclass(eq=False)
class TooMuch(BakingError):
    """An amount larger than anything charged here."""

    text: str
    most: Money


@dataclass(eq=False)
class OtherCurrency(BakingError):
    """An amount typed in a currency that is not accepted here."""

    typed: str
    wanted: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in minor units; below zero is owed or given back.

    Raises NotWhole, OutOfRange, UnknownCurrency, and TwoCurrencies if they are mixed.
    """

    amount_minor: int
    currency: str

    def __post_init__(self) -> None:
        places_of(self.currency)
        if type(self.amount_minor) is not int:
            raise NotWhole("amount_minor", self.amount_minor)
        if abs(self.amount_minor) > MOST_SUM_MINOR:
            raise OutOfRange("amount_minor", Decimal(self.amount_minor))

    @property
    def places(self) -> int:
        """The decimal places that the currency is written with."""
        return places_of(self.currency)

    @property
    def plain(self) -> str:
        """The amount in plain digits for a form or a file: `38.00`, `180`, `-1.500`."""
        sign = "-" if self.amount_minor < 0 else ""
        major, minor = divmod(abs(self.amount_minor), 10**self.places)
        return f"{sign}{major}.{minor:0{self.places}d}" if self.places else f"{sign}{major}"

    def __str__(self) -> str:
        """As people read it: `38.00 EUR`, with a true minus sign if negative."""
        return f"{self.plain} {self.currency}".replace("-", "\N{MINUS SIGN}")

    def __add__(self, other: Money) -> Money:
        return self._with(self.amount_minor + self._minor_of(other))

    def __sub__(self, other: Money) -> Money:
        return self._with(self.amount_minor - self._minor_of(other))

    def __neg__(self) -> Money:
        return self._with(-self.amount_minor)

    def __mul__(self, times: int) -> Money:
        return self._with(self.amount_minor * whole("times", times))

    def __lt__(self, other: Money) -> bool:
        return self.amount_minor < self._minor_of(other)

    def __le__(self, other: Money) -> bool:
        return self.amount_minor <= self._minor_of(other)

    def __gt__(self, other: Money) -> bool:
        return self.amount_minor > self._minor_of(other)

    def __ge__(self, other: Money) -> bool:
        return self.amount_minor >= self._minor_of(other)

    @property
    def is_something(self) -> bool:
        """Whether it is not zero. Zero Money is not false: a price of zero is a price."""
        return self.amount_minor != 0

    @property
    def is_negative(self) -> bool:
        return self.amount_minor < 0

    def at_least_nothing(self) -> Money:
        """The amount, or zero if it is negative."""
        return self._with(max(0, self.amount_minor))

    def shared(self, parts: int) -> Money:
        """One of a number of equal parts, to the nearest minor unit, halves away from zero."""
        part = Decimal(self.amount_minor) / whole("parts", parts, least=1)
        return self._with(int(part.quantize(Decimal(1), ROUND_HALF_UP)))

    def times_needed(self, price: Money) -> int:
        """How many times a positive price is needed to reach at least this amount."""
        each = whole("price", self._minor_of(price), least=1)
        return max(0, -(-self.amount_minor // each))

    def covered_by(self, parts: int) -> Money:
        """The smallest amount that, multiplied by a number, reaches at least this one."""
        return self._with(-(-self.amount_minor // whole("parts", parts, least=1)))

    def _with(self, amount_minor: int) -> Money:
        return replace(self, amount_minor=amount_minor)

    def _minor_of(self, other: Money) -> int:
        if other.currency != self.currency:
            raise TwoCurrencies(self.currency, other.currency)
        return other.amount_minor


def nothing(currency: str) -> Money:
    """No money, in a currency."""
    return Money(0, currency)


def total(amounts: Iterable[Money], currency: str) -> Money:
    """The sum of amounts of one currency. Raises TwoCurrencies."""
    return sum(amounts, start=nothing(currency))


def rounded(amount_minor: Decimal, currency: str) -> Money:
    """An exact amount of minor units to the nearest whole one, halves away from zero."""
    return Money(int(amount_minor.quantize(Decimal(1), ROUND_HALF_UP)), currency)


@dataclass(frozen=True, slots=True)
class Estimate:
    """What is known of an amount, and the names of things without a price that belong to it.

    The true amount is at least `known`, or with `at_most` (what is left over) at most that.
    """

    known: Money
    missing: tuple[str, ...] = ()
    at_most: bool = False

    @property
    def is_exact(self) -> bool:
        return not self.missing

    @property
    def says_nothing(self) -> bool:
        """Whether nothing at all is known, so that it could only say "at least 0"."""
        return bool(self.missing) and not self.at_most and not self.known.is_something

    def __str__(self) -> str:
        """`5.95 EUR`, `at least 5.95 EUR` or `cannot say`."""
        if self.is_exact:
            return str(self.known)
        if self.says_nothing:
            return "cannot say"
        return f"at {'most' if self.at_most else 'least'} {self.known}"


def read_money(text: str, currency: str, *, also: Iterable[str] = ()) -> Money:
    """An amount as people type it: `180`, `1.80`, `1,80`, `1.80 EUR` or `EUR 1.80`.

    Without a code it is in `currency`; a code must be that one or one of `also`. Only as many
    decimals as the currency has may be typed, and none is dropped: `1.800` in euros may well mean a
    thousand and is refused. Raises Unreadable, AmbiguousNumber, TooManyDigits, OtherCurrency,
    TooFine or TooMuch.
    """
    code, figures = _code_and_figures(text)
    wanted = (currency, *also)
    if code and code not in wanted:
        raise OtherCurrency(code, wanted)
    currency = code or currency
    quantity = read_quantity(figures)
    if quantity.word or "/" in quantity.typed:
        raise Unreadable(text.strip())
    places = places_of(currency)
    if _decimals(quantity.typed) > places:
        raise TooFine(quantity.typed, currency, places)
    most = Money(MOST_MINOR, currency)
    if abs(quantity.number) > Decimal(most.plain):
        raise TooMuch(quantity.typed, most)
    return Money(int(quantity.number.scaleb(places)), currency)


def _code_and_figures(text: str) -> tuple[str, str]:
    found = _CODE.fullmatch(text.strip())
    if not found or not found["figures"] or (found["before"] and found["after"]):
        raise Unreadable(text.strip())
    return (found["before"] or found["after"] or "").upper(), found["figures"]


def _decimals(typed: str) -> int:
    """How many digits follow the point or comma."""
    return len(typed.replace(",", ".").partition(".")[2])
