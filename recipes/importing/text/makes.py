"""What a recipe makes, in pieces: `Makes 12 rolls`, `2 loaves of 900 g`, `13 at 285 g`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.core.units import Measures
from recipes.importing import doubts
from recipes.importing.doubts import Doubt
from recipes.importing.text.numbers import Number, read_amount, read_range
from recipes.importing.text.piece_mass import CONTAINERS, mass_before, piece_mass
from recipes.importing.text.tokens import Token, line_start, tokenize
from recipes.importing.text.words import VAGUE_NUMBERS, word_set

MOST_PIECES = 999
LONGEST_PIECE_NAME = 30

_SAYS = {"makes", "yield", "yields", "serves", "gives"}
_STARTS = _SAYS | {"make", "serving", "servings", "quantity", "for"}
_PEOPLE = {"serving", "servings", "serve", "serves", "portion", "portions", "people", "person",
           "persons", "slices", "slice", "guests", "about"} - {"about"}  # fmt: skip
_DOZENS = {"doz", "dozen", "dozens"}
_SIZES = {"large", "small", "medium", "big", "about", "approx", "approximately", "around", "nice",
          "good", "decent", "x"}  # fmt: skip
_SINGULAR = {"loaves": "loaf", "knives": "knife", "halves": "half"}
PIECES = word_set(
    """loaf loaves roll rolls bun buns baguette baguettes boule boules batard batards bâtard
    bâtards piece pieces pc pcs ball balls braid braids plait plaits twist twists knot knots ring
    rings ciabatta ciabattas focaccia focaccias pizza pizzas bagel bagels pretzel pretzels tin
    tins stick sticks round rounds flatbread flatbreads pitta pittas pita pitas naan naans snail
    snails brioche brioches cob cobs bloomer bloomers bap baps baton batons slipper slippers
    doughnut doughnuts donut donuts wreath wreaths bread breads cake cakes
    trays tray discs disc brote brot brötchen stück pains pièces pitas"""
)
_FIGURES = {"figures", "amounts", "quantities", "weights", "numbers"}
_AT_A_TIME = ["at", "a", "time"]
_MOST_NAME_WORDS = 4
_MOST_BETWEEN = 5
LONGEST_SENTENCE = 400


@dataclass(frozen=True, slots=True)
class Makes:
    """Pieces, what one is called, and its grams of dough if given."""

    pieces: int | None = None
    piece_name: str = ""
    piece_g: Decimal | None = None
    doubts: tuple[Doubt, ...] = ()


def starts_yield(line: str) -> bool:
    """Whether a line begins as one that says what the recipe makes."""
    words = line_start(line)[1]
    if not words or words[0].low not in _STARTS:
        return False
    if words[0].low in _SAYS:
        return True
    if words[0].low == "for" and words[1:2] and not _starts_number(words, 1):
        return False
    return any(_starts_number(words, i) for i in range(1, min(4, len(words)))) and len(words) < 12


def _starts_number(tokens: Sequence[Token], i: int) -> bool:
    return tokens[i].is_number or (tokens[i].low not in ("a", "an") and bool(_count(tokens, i)))


def read_makes(text: str) -> Makes:
    """The pieces that a text such as `12 rolls` promises; servings do not count."""
    cleaned, tokens = line_start(text)
    at = next((i for i in range(len(tokens)) if read_range(tokens, i)), None)
    found = read_range(tokens, at) if at is not None else None
    unclear = Makes(doubts=(doubts.YieldUnclear(cleaned),) if cleaned else ())
    if found is None:
        return unclear
    low, high = _by_dozens(tokens, *found)
    name = _name(tokens, low.end)
    low_words = {token.low for token in tokens[: low.end + _MOST_BETWEEN]}
    serves = tokens[0].low in _PEOPLE and not _piece_name(tokens, low.end)
    people = serves or _PEOPLE & (set(name.lower().split()) or low_words)
    whole = low.value == int(low.value) and 1 <= low.value <= MOST_PIECES
    if people or not whole or VAGUE_NUMBERS & low_words:
        return unclear
    told: tuple[Doubt, ...] = ()
    if high is not None:
        told = (doubts.YieldRange(int(low.value), int(min(high, Decimal(MOST_PIECES)))),)
    return Makes(int(low.value), name, piece_mass(tokens, low.end), told)


def stated_makes(text: str) -> Makes | None:
    """What a sentence or a line says that the recipe makes, wherever in it; None for nothing.

    A count of bread must be named or weighed: `makes one 2 lb tin`, `12 rolls of 72 g`, `5 x 340`.
    """
    if len(text) > LONGEST_SENTENCE:
        return None
    tokens = tokenize(text)
    found = list(_stated(tokens))
    return max(found, key=lambda makes: makes.piece_g is not None, default=None)


def _stated(tokens: Sequence[Token]) -> Iterator[Makes]:
    for i in range(len(tokens)):
        count = _count(tokens, i)
        if count is None or (i and tokens[i - 1].is_number):
            continue
        said = any(token.low in _SAYS or token.low == "make" for token in tokens[max(0, i - 2) : i])
        if [token.low for token in tokens[count.end : count.end + 3]] == _AT_A_TIME:
            count = replace(count, end=count.end + 3)
        name = _piece_name(tokens, count.end)
        piece_g = piece_mass(tokens, count.end) or (mass_before(tokens, i) if name else None)
        said = said or (bool(name) and _is_for(tokens, i))
        times = bool(piece_g) and tokens[count.end].low in ("x", "@", "at")
        bare = times and not _names(tokens, count.end + 1)
        set_apart = i > 0 and tokens[i - 1].text in "-(," and _closes(tokens, count.end)
        times_of = i > 1 and tokens[i - 1].low == "x" and tokens[i - 2].low in PIECES
        ends = count.end == len(tokens) or tokens[count.end].text in ").,;"
        if (
            (name and (said or piece_g))
            or (said and (piece_g or ends))
            or bare
            or (name and set_apart)
            or (times_of and ends)
        ):
            yield Makes(int(count.value), name, piece_g)


def _is_for(tokens: Sequence[Token], i: int) -> bool:
    """Whether a count is what all of it is for: `enough for 10 rolls`, not `figures for one`."""
    before = [token.low for token in tokens[max(0, i - 2) : i]]
    return before[-1:] == ["for"] and _FIGURES.isdisjoint(before)


def _names(tokens: Sequence[Token], i: int) -> bool:
    """Whether a word for something weighed follows an amount: `2 x 7 g sachets`."""
    amount = read_amount(tokens, i)
    end = amount.end if amount else i + 1
    return end < len(tokens) and tokens[end].is_word and tokens[end].low not in ("each", "dough")


def _closes(tokens: Sequence[Token], start: int) -> bool:
    """Whether a line or a bracket ends after a piece's name: `Spirals - 12 pieces`."""
    at = start
    while at < len(tokens) and tokens[at].is_word:
        at += 1
    return at == len(tokens) or tokens[at].text == ")"


def counted_pieces(text: str) -> Makes | None:
    """Pieces that a line without any verb counts: `One large loaf`, `2 loaves at 563 g`."""
    tokens = line_start(text)[1]
    short = bool(tokens) and len(tokens) <= _MOST_BETWEEN * 3 and tokens[-1].text not in ".!?"
    count = _count(tokens, 0) if short and tokens[0].low not in ("a", "an") else None
    name = _piece_name(tokens, count.end) if count else ""
    if count is None or not name:
        return None
    return Makes(int(count.value), name, piece_mass(tokens, count.end))


def _count(tokens: Sequence[Token], i: int) -> Number | None:
    """A whole number of pieces, without a unit behind it."""
    found = read_range(tokens, i)
    if found is None or found[1] is not None:
        return None
    number = _by_dozens(tokens, *found)[0]
    amount = read_amount(tokens, i)
    times = number.end < len(tokens) and tokens[number.end].low == "x"
    measured = amount and amount.unit and amount.unit.measures is not Measures.COUNT and not times
    whole = number.value == int(number.value) and 1 <= number.value <= MOST_PIECES
    return number if whole and not measured else None


def _piece_name(tokens: Sequence[Token], start: int) -> str:
    """The name of a piece of bread after its count; a tin's size is not a name."""
    at = start
    for _ in range(3):
        while at < len(tokens) and (tokens[at].low in _SIZES or tokens[at].text == "-"):
            at += 1
        amount = read_amount(tokens, at) if at < len(tokens) and tokens[at].is_number else None
        if not amount or not amount.unit or amount.end >= len(tokens):
            break
        at = amount.end
        if tokens[at].low not in CONTAINERS | {"loaf"}:
            return ""
    for n in range(at, min(at + _MOST_NAME_WORDS, len(tokens))):
        if not tokens[n].is_word:
            break
        if tokens[n].low in PIECES:
            return _named([token.text for token in tokens[at : n + 1]])
    return ""


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
    return _named(words) or _piece_name(tokens, start)


def _named(words: list[str]) -> str:
    if words:
        words[-1] = _singular(words[-1])
    return " ".join(words)[:LONGEST_PIECE_NAME].strip()


def _singular(word: str) -> str:
    if word.lower() in _SINGULAR:
        return _SINGULAR[word.lower()]
    if word.lower().endswith("s") and not word.lower().endswith("ss") and len(word) > 3:
        return word[:-1]
    return word
