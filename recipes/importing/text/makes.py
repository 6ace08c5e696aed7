"""What a recipe makes, in pieces: `Makes 12 rolls`, `2 loaves of 900 g`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.core.errors import BakingError
from recipes.core.units import Measures, to_grams
from recipes.importing import doubts
from recipes.importing.doubts import Doubt
from recipes.importing.text.numbers import Number, read_amount, read_range
from recipes.importing.text.tokens import Token, line_start
from recipes.importing.text.words import VAGUE_NUMBERS

MOST_PIECES = 999
LONGEST_PIECE_NAME = 30
LEAST_PIECE_G, MOST_PIECE_G = Decimal(1), Decimal(20000)

_STARTS = {"makes", "make", "yield", "yields", "serves", "serving", "servings", "quantity", "for"}
_PEOPLE = {"serving", "servings", "serve", "serves", "portion", "portions", "people", "person",
           "persons", "slices", "slice", "guests"}  # fmt: skip
_DOZENS = {"doz", "dozen", "dozens"}
_SIZES = {"large", "small", "medium", "big", "about", "approx", "approximately", "around"}
_SINGULAR = {"loaves": "loaf", "knives": "knife", "halves": "half"}


@dataclass(frozen=True, slots=True)
class Makes:
    """Pieces, what one is called, and its grams of dough where they are told."""

    pieces: int | None = None
    piece_name: str = ""
    piece_g: Decimal | None = None
    doubts: tuple[Doubt, ...] = ()


def starts_yield(line: str) -> bool:
    """Whether a line begins as one that says what the recipe makes."""
    words = line_start(line)[1]
    if not words or words[0].low not in _STARTS:
        return False
    if words[0].low in ("makes", "yield", "yields", "serves"):
        return True
    return any(token.is_number for token in words[1:4]) and len(words) < 8


def read_makes(text: str) -> Makes:
    """The pieces that a text such as `12 rolls` promises; servings are none."""
    cleaned, tokens = line_start(text)
    at = next((i for i in range(len(tokens)) if read_range(tokens, i)), None)
    found = read_range(tokens, at) if at is not None else None
    unclear = Makes(doubts=(doubts.YieldUnclear(cleaned),) if cleaned else ())
    if found is None:
        return unclear
    low, high = _by_dozens(tokens, *found)
    name = _name(tokens, low.end)
    low_words = {token.low for token in tokens}
    people = _PEOPLE & (set(name.lower().split()) or low_words)
    whole = low.value == int(low.value) and 1 <= low.value <= MOST_PIECES
    if people or not whole or VAGUE_NUMBERS & low_words:
        return unclear
    told: tuple[Doubt, ...] = ()
    if high is not None:
        told = (doubts.YieldRange(int(low.value), int(min(high, Decimal(MOST_PIECES)))),)
    return Makes(int(low.value), name, _piece_g(tokens), told)


def _by_dozens(
    tokens: Sequence[Token], low: Number, high: Number | None
) -> tuple[Number, Decimal | None]:
    """The low number, ending where the name begins, and the high one; dozens are twelves."""
    end = high.end if high else low.end
    dozens = end < len(tokens) and tokens[end].low in _DOZENS
    times = 12 if dozens else 1
    low = replace(low, value=low.value * times, end=end + dozens)
    return low, high.value * times if high else None


def _name(tokens: Sequence[Token], start: int) -> str:
    """The words behind the number, in the singular."""
    words: list[str] = []
    for token in tokens[start:]:
        if token.low in _SIZES and not words:
            continue
        if not token.is_word or token.low in ("of", "at", "in", "with", "from", "each", "or"):
            break
        words.append(token.text)
    if words:
        words[-1] = _singular(words[-1])
    return " ".join(words)[:LONGEST_PIECE_NAME].strip()


def _singular(word: str) -> str:
    if word.lower() in _SINGULAR:
        return _SINGULAR[word.lower()]
    if word.lower().endswith("s") and not word.lower().endswith("ss") and len(word) > 3:
        return word[:-1]
    return word


def _piece_g(tokens: Sequence[Token]) -> Decimal | None:
    """The grams behind `of` or before `each`."""
    words = {token.low for token in tokens}
    if not words & {"of", "each"}:
        return None
    for i, token in enumerate(tokens):
        amount = read_amount(tokens, i) if token.is_number else None
        if amount and amount.unit and amount.unit.measures is Measures.MASS:
            try:
                grams = to_grams(amount.low, amount.unit)
            except BakingError:
                return None
            return grams if LEAST_PIECE_G <= grams <= MOST_PIECE_G else None
    return None
