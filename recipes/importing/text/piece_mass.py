"""What one piece of a yield weighs: `of 70 g`, `at about 840 g`, `80 g each`, `x 900`."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from recipes.core.errors import BakingError
from recipes.core.numbers import ZERO
from recipes.core.units import Measures, to_grams
from recipes.importing.amounts.measures import is_compound, together
from recipes.importing.text.numbers import Amount, read_amount
from recipes.importing.text.tokens import Token
from recipes.importing.text.words import METRIC, word_set
from recipes.importing.values import LEAST_PIECE_G, MOST_PIECE_G

_WITH_MASS = {"of", "at", "@", "x", "each", "weighing", "scaled", "a", "je", "zu", "à", "de"}
CONTAINERS = {"tin", "tins", "pan", "pans"}
_SIZED = word_set(
    "tray trays tin tins pan pans sheet sheets cm mm in inch inches mold mould teglia"
)
_LEAST_BARE_G = 20
_EACH = {"each", "apiece"}
_MOST_BETWEEN = 9
_LAST_MASS = 6


def piece_mass(tokens: Sequence[Token], start: int) -> Decimal | None:
    """The grams of one piece behind its count: `of 70 g`, `at about 840 g`, `80 g each`.

    A bare number after `x` is grams. A tin's size is not a dough mass.
    """
    joined = False
    for i in range(start, min(start + _MOST_BETWEEN, len(tokens))):
        if tokens[i].text in ".;|":
            return None
        joined = joined or tokens[i].low in _WITH_MASS or tokens[i].text == "/"
        joined = joined or (tokens[i].text == "," and len(tokens) - i <= _LAST_MASS)
        if not tokens[i].is_number:
            continue
        amount = read_amount(tokens, i)
        if amount is None or amount.high is not None:
            return None
        if amount.unit is None and tokens[i - 1].low in ("x", "@"):
            return None if _is_size(tokens, amount) else _fit(amount.low)
        behind = tokens[amount.end].low if amount.end < len(tokens) else ""
        if behind in CONTAINERS or not _is_mass(amount):
            return None
        if joined or _EACH & {token.low for token in tokens[amount.end : amount.end + 4]}:
            return _grams(_metric(tokens, amount))
        return None
    return None


def mass_before(tokens: Sequence[Token], start: int) -> Decimal | None:
    """The grams of one piece before its count: `850 g, 4 pieces`."""
    amount = read_amount(tokens, start - 3) if start > 2 and tokens[start - 1].text == "," else None
    return _grams(amount) if amount and amount.end == start - 1 and _is_mass(amount) else None


def _is_size(tokens: Sequence[Token], amount: Amount) -> bool:
    """Whether numbers on both sides of an `x` measure a tin or a tray."""
    near = {token.low for token in tokens[max(0, amount.start - 6) : amount.end + 2]}
    return amount.low < _LEAST_BARE_G or not near.isdisjoint(_SIZED)


def _is_mass(amount: Amount) -> bool:
    return amount.unit is not None and amount.unit.measures is Measures.MASS


def _metric(tokens: Sequence[Token], amount: Amount) -> Amount:
    """The same mass in grams, if a bracket or a slash after it repeats it."""
    at = amount.end
    if amount.unit and amount.unit.name not in METRIC and at < len(tokens) - 1:
        again = read_amount(tokens, at + 1) if tokens[at].text in "(/" else None
        if again and _is_mass(again) and again.unit and again.unit.name in METRIC:
            return again
        more = read_amount(tokens, at)
        return together(amount, more) if more and is_compound(amount, more) else amount
    return amount


def _grams(amount: Amount) -> Decimal | None:
    if amount.unit is None:
        return None
    try:
        more = sum((_grams(part) or ZERO for part in amount.more), ZERO)
        return _fit(to_grams(amount.low, amount.unit) + more)
    except BakingError:
        return None


def _fit(grams: Decimal) -> Decimal | None:
    return grams if LEAST_PIECE_G <= grams <= MOST_PIECE_G else None
