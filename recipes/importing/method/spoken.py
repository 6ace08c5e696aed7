"""Numbers in words beyond twelve: `fifteen`, `forty-five`, `two hundred and twenty`."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from recipes.importing.text.numbers import Number
from recipes.importing.text.tokens import Token

_ONES = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_TEENS = ("ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen",
          "eighteen", "nineteen")  # fmt: skip
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_BELOW_TEN = {word: n for n, word in enumerate(_ONES, 1)}
_BELOW_TWENTY = _BELOW_TEN | {word: n for n, word in enumerate(_TEENS, 10)}
_IN_TENS = {word: n for n, word in zip(range(20, 100, 10), _TENS, strict=True)}
_LEAST = 13


def _word(tokens: Sequence[Token], i: int) -> str:
    return tokens[i].low if 0 <= i < len(tokens) else ""


def spoken(tokens: Sequence[Token], i: int) -> Number | None:
    """The number in words that starts at token `i`; smaller ones are read elsewhere."""
    hundreds, at = 0, i
    if _word(tokens, i) in _BELOW_TEN and _word(tokens, i + 1) == "hundred":
        hundreds, at = 100 * _BELOW_TEN[_word(tokens, i)], i + 2
    joined = bool(hundreds) and _word(tokens, at) == "and"
    rest, end = _below_hundred(tokens, at + joined)
    total = hundreds + rest
    if total < _LEAST:
        return None
    return Number(Decimal(total), end if rest else at, spelled=True)


def _below_hundred(tokens: Sequence[Token], i: int) -> tuple[int, int]:
    word = _word(tokens, i)
    if word not in _IN_TENS:
        return _BELOW_TWENTY.get(word, 0), i + 1
    at = i + 1 + (_word(tokens, i + 1) == "-")
    ones = _BELOW_TEN.get(_word(tokens, at), 0)
    return _IN_TENS[word] + ones, at + 1 if ones else i + 1
