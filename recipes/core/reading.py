"""Numbers as cooks type them, read exactly: `250`, `2,5`, `1 1/2`, `½`, `2 cups`, `1 h 20 min`.

Only the digits 0 to 9 are read, after full-width ones are converted; exponents, NaN and digits of
other scripts are refused rather than guessed.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import Decimal

from recipes.core.errors import BakingError
from recipes.core.units import parse_unit, to_celsius

MOST_DIGITS = 12

_FRACTION_SIGN = re.compile("[¼½¾⅐-⅞]")
_FULL_WIDTH = {wide: wide - 0xFEE0 for wide in range(0xFF0B, 0xFF1A)}  # + , - . / 0 to 9
_NUMBER = re.compile(
    r"""(?: (?P<whole>[0-9]+) \s+ )? (?P<over>[0-9]+) \s* / \s* (?P<under>[0-9]+)
      | (?P<plain>[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+))""",
    re.VERBOSE,
)
_WORD = re.compile(r"[^\W\d_][^\d]*|°[^\d]*")  # a letter or a degree sign first, no digits
_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2}(?:,[0-9]{3})+")
_DURATION = re.compile(
    r"(?:(?P<hours>[0-9]{1,3})\s*(?:h|hr|hrs|hours?))?\s*"
    r"(?:(?P<minutes>[0-9]{1,5})\s*(?:m|min|mins|minutes?)?)?",
    re.IGNORECASE,
)


@dataclass(eq=False)
class Unreadable(BakingError):
    """Text that is not an amount in the digits 0 to 9."""

    text: str


@dataclass(eq=False)
class AmbiguousNumber(BakingError):
    """Text such as `1,000`, which means a thousand to some people and one to others."""

    text: str
    readings: tuple[str, str]


@dataclass(eq=False)
class TooManyDigits(BakingError):
    """A number longer than any amount in a kitchen."""

    text: str


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number as typed and as read, and the words after it."""

    number: Decimal
    typed: str
    word: str


def _folded(text: str) -> str:
    """One spelling of spaces, fraction signs and full-width digits."""
    spelled = _FRACTION_SIGN.sub(lambda sign: f" {unicodedata.normalize('NFKC', sign[0])}", text)
    plain = spelled.translate(_FULL_WIDTH).replace("\N{FRACTION SLASH}", "/")
    return " ".join(plain.replace("\N{MINUS SIGN}", "-").split())


def _value(found: re.Match[str]) -> Decimal:
    typed = found[0]
    if sum(sign.isdigit() for sign in typed) > MOST_DIGITS:
        raise TooManyDigits(typed)
    if found["over"]:
        if int(found["under"]) == 0:
            raise Unreadable(typed)
        return int(found["whole"] or 0) + Decimal(found["over"]) / Decimal(found["under"])
    if _THOUSANDS.fullmatch(typed):
        raise AmbiguousNumber(typed, (typed.replace(",", ""), typed.replace(",", ".", 1)))
    return Decimal(typed.replace(",", "."))


def read_quantity(text: str) -> Quantity:
    """The number at the start of a text, and the words after it.

    Raises Unreadable, AmbiguousNumber or TooManyDigits.
    """
    folded = _folded(text)
    found = _NUMBER.match(folded)
    if not found or found[0] in ("+", "-"):
        raise Unreadable(text.strip())
    word = folded[found.end() :].strip()
    if word and not _WORD.fullmatch(word):
        raise Unreadable(text.strip())
    return Quantity(_value(found), found[0], word)


def read_number(text: str) -> Decimal:
    """A number and nothing else. Raises Unreadable, AmbiguousNumber or TooManyDigits."""
    quantity = read_quantity(text)
    if quantity.word:
        raise Unreadable(text.strip())
    return quantity.number


def read_whole(text: str) -> int:
    """A whole number and nothing else. Raises what `read_number` raises."""
    number = read_number(text)
    if number != number.to_integral_value():
        raise Unreadable(text.strip())
    return int(number)


def read_minutes(text: str) -> int:
    """A duration in minutes from `80`, `1 h 20 min` or `12 h`. Raises Unreadable."""
    found = _DURATION.fullmatch(_folded(text))
    if not found or not (found["hours"] or found["minutes"]):
        raise Unreadable(text.strip())
    return int(found["hours"] or 0) * 60 + int(found["minutes"] or 0)


def read_celsius(text: str) -> Decimal:
    """A temperature in degrees Celsius from `25`, `25 °C` or `77 F`.

    A bare number is Celsius. Raises what `read_number` does, UnknownUnit or WrongMeasure.
    """
    quantity = read_quantity(text)
    if not quantity.word:
        return quantity.number
    word = "".join(quantity.word.split())
    return to_celsius(quantity.number, parse_unit(word.upper() if word in ("c", "f") else word))
