"""Amounts on ingredient lines: numbers, fractions, ranges and the unit behind them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.core.numbers import ZERO
from recipes.core.reading import AmbiguousNumber, TooManyDigits, Unreadable, read_number
from recipes.core.units import Measures, Unit, parse_unit
from recipes.importing import doubts
from recipes.importing.doubts import Doubt
from recipes.importing.text.tokens import Token
from recipes.importing.text.words import (
    ARTICLES,
    BEFORE_UNIT,
    CONTAINERS,
    COUPLE,
    EACH,
    FRACTION_WORDS,
    LEAST_DEGREES,
    LETTERS,
    LONGEST_UNIT,
    NUMBER_WORDS,
    ONE_OF,
    ROUGH,
    UNIT_SLIPS,
    UNIT_WORDS,
    one_letter_less,
)

_DEGREES = {"c": parse_unit("°C"), "f": parse_unit("°F")}
_USABLE = (Measures.MASS, Measures.VOLUME, Measures.COUNT)
_IN_LARGE = {"g", "ml"}
_MOST_UNDER = 64
_LEAST_MISTYPED = 7
_LITTLE = {"little", "bit", "few"}
_BEFORE_COUNTS = {"of", "plus", "and", "about"}


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount between two tokens, with `more` to be added to it. `word` is the container that
    was counted, or the letter taken for a unit; `rough` are words around it for the note.
    """

    low: Decimal
    start: int
    end: int
    high: Decimal | None = None
    unit: Unit | None = None
    word: str = ""
    rough: tuple[str, ...] = ()
    percent: bool = False
    doubts: tuple[Doubt, ...] = ()
    more: tuple[Amount, ...] = ()

    @property
    def usable(self) -> bool:
        """Whether it can say how much of an ingredient to take."""
        return not self.percent and (self.unit is None or self.unit.measures in _USABLE)


@dataclass(frozen=True, slots=True)
class Number:
    """A number that ends before token `end`; `spelled` if it is written in words."""

    value: Decimal
    end: int
    doubts: tuple[Doubt, ...] = ()
    spelled: bool = False


def _at(tokens: Sequence[Token], i: int) -> str:
    """The token at `i` in small letters; empty beyond the end."""
    return tokens[i].low if 0 <= i < len(tokens) else ""


def _is_fraction(tokens: Sequence[Token], i: int) -> bool:
    """Whether a proper fraction stands at `i`."""
    if not 0 <= i < len(tokens) or not tokens[i].is_number or "/" not in tokens[i].text:
        return False
    over, under = tokens[i].text.split("/")
    return over.strip().isdigit() and len(over) < 4 and int(over) < int(under)


def _digits(tokens: Sequence[Token], i: int) -> Number | None:
    """A number in digits: `2`, `2.5`, `1 1/2`, `1-1/2`, `1 and 1/2`."""
    text = tokens[i].text
    whole = text.isdigit()
    behind = i + 2 if _at(tokens, i + 1) in ("-", "and", "&") else i + 1
    if whole and _is_fraction(tokens, behind):
        return _valued(f"{text} {tokens[behind].text}", behind + 1)
    if whole and _at(tokens, i + 1) == "and":
        part = _spelled_part(tokens, i + 2)
        if part:
            return replace(part, value=Decimal(text[:12]) + part.value)
    if "/" in text and int(text.split("/")[1][:12]) > _MOST_UNDER:
        return None
    return _valued(text, i + 1)


def _valued(text: str, end: int) -> Number | None:
    try:
        return Number(read_number(text.replace(" /", "/").replace("/ ", "/")), end)
    except AmbiguousNumber as two:
        value, other = map(Decimal, two.readings)
        return Number(value, end, (doubts.TwoReadings(text, value, other),))
    except (TooManyDigits, Unreadable):
        return None


def _spelled_part(tokens: Sequence[Token], i: int) -> Number | None:
    """A part in words: `half`, `one half`, `half a`, `quarter of a`."""
    start = i + 1 if _at(tokens, i) in ARTICLES | {"one"} else i
    part = FRACTION_WORDS.get(_at(tokens, start))
    if part is None:
        return None
    end = start + 1
    end += _at(tokens, end) == "of"
    end += _at(tokens, end) in ARTICLES
    return Number(part, end, spelled=True)


def _spelled(tokens: Sequence[Token], i: int) -> Number | None:
    """A number in words: `two`, `a`, `one and a half`, `three quarters`."""
    part = _spelled_part(tokens, i)
    if part:
        return part
    word = _at(tokens, i)
    value = Decimal(1) if word in ARTICLES else NUMBER_WORDS.get(word)
    if value is None:
        return None
    if _at(tokens, i + 1) == COUPLE:
        end = i + 2 + (_at(tokens, i + 2) == "of")
        return Number(Decimal(2), end, (doubts.RoughAmount(COUPLE),), spelled=True)
    times = _spelled_part(tokens, i + 1) if word not in ARTICLES else None
    if times:
        return replace(times, value=value * times.value)
    part = _spelled_part(tokens, i + 2) if _at(tokens, i + 1) == "and" else None
    if part:
        return replace(part, value=value + part.value)
    return Number(value, i + 1, spelled=True)


def read_value(tokens: Sequence[Token], i: int) -> Number | None:
    """The number that starts at token `i`, in digits or words, or None."""
    if not 0 <= i < len(tokens):
        return None
    if tokens[i].is_number:
        return _digits(tokens, i)
    return _spelled(tokens, i) if tokens[i].is_word else None


def read_range(tokens: Sequence[Token], i: int) -> tuple[Number, Number | None] | None:
    """A number, and the upper end of a range: `2-3`, `2 to 3`, `2 or 3`, `between 2 and 3`."""
    between = _at(tokens, i) == "between"
    low = read_value(tokens, i + between)
    if low is None:
        return None
    if _at(tokens, low.end) in (("and",) if between else ("-", "to", "or")):
        high = read_value(tokens, low.end + 1)
        if high and high.value > low.value and high.spelled == low.spelled:
            return low, high
    return low, None


@dataclass(frozen=True, slots=True)
class _UnitRead:
    unit: Unit | None
    end: int
    word: str = ""
    rough: tuple[str, ...] = ()
    doubts: tuple[Doubt, ...] = ()


def _skip_dots(tokens: Sequence[Token], i: int) -> int:
    return i + 1 if _at(tokens, i) == "." and tokens[i].glued else i


def _unit_phrase(tokens: Sequence[Token], i: int) -> tuple[Unit, int] | None:
    """The longest unit name that starts at `i`; dots after its words are ignored."""
    words: list[str] = []
    found = None
    while len(words) < LONGEST_UNIT and 0 <= i < len(tokens) and tokens[i].is_word:
        words.append(tokens[i].low)
        i = _skip_dots(tokens, i + 1)
        unit = UNIT_WORDS.get(tuple(words))
        if unit:
            found = unit, i
    return found


def _letter(tokens: Sequence[Token], i: int, value: Decimal) -> _UnitRead | None:
    """A lone letter as a unit, always with a doubt unless it is a temperature."""
    if not 0 <= i < len(tokens):
        return None
    sign = tokens[i].text == "°"
    letter = tokens[i + sign].text if i + sign < len(tokens) else ""
    if letter.lower() in _DEGREES and (sign or (letter.isupper() and value >= LEAST_DEGREES)):
        return _UnitRead(_DEGREES[letter.lower()], i + 1 + sign)
    if letter not in LETTERS:
        return None
    unit, other = LETTERS[letter]
    doubt = doubts.LetterUnit(letter, unit.name, other)
    return _UnitRead(unit, _skip_dots(tokens, i + 1), letter, doubts=(doubt,))


def _mistyped(tokens: Sequence[Token], i: int) -> _UnitRead:
    """A long unit word with one slip in it, when something else follows; else no unit."""
    word = _at(tokens, i)
    if len(word) >= _LEAST_MISTYPED and i + 1 < len(tokens) and tokens[i].is_word:
        for less in sorted(one_letter_less(word)):
            if less in UNIT_SLIPS:
                unit = UNIT_SLIPS[less]
                doubt = doubts.MistypedUnit(tokens[i].text, unit.name)
                return _UnitRead(unit, i + 1, doubts=(doubt,))
    return _UnitRead(None, i)


def _unit(tokens: Sequence[Token], i: int, value: Decimal) -> _UnitRead | None:
    """The unit or container at `i`, past a hyphen and words such as `heaping`."""
    i += _at(tokens, i) == "-" and i + 1 < len(tokens) and tokens[i].glued and tokens[i + 1].is_word
    rough: list[str] = []
    while _at(tokens, i) in BEFORE_UNIT:
        rough.append(tokens[i].text)
        i += 1
    found = _unit_phrase(tokens, i)
    if found:
        read = _UnitRead(found[0], found[1])
    elif _at(tokens, i) in CONTAINERS:
        read = _UnitRead(EACH, _skip_dots(tokens, i + 1), tokens[i].low)
    else:
        read = _letter(tokens, i, value) or _mistyped(tokens, i)
    if read.unit is None:
        return None
    uncertain = tuple(doubts.RoughAmount(word) for word in rough if word.lower() in ROUGH)
    return replace(read, rough=tuple(rough), doubts=read.doubts + uncertain)


def read_amount(tokens: Sequence[Token], i: int) -> Amount | None:
    """The amount that starts at token `i`, or None.

    Numbers in words count only before a unit or container, unless `one` to `twelve`.
    """
    found = read_range(tokens, i)
    if found is None:
        return _one_of(tokens, i)
    low, high = found
    end = high.end if high else low.end
    if _at(tokens, end) == "x":
        return _multiple(tokens, i, low, end)
    if _at(tokens, end) in ("%", "percent"):
        return Amount(low.value, i, end + 1, percent=True)
    unit = _unit(tokens, end, low.value)
    if unit is None and (low.value <= ZERO or (low.spelled and not _counts(tokens, i, low))):
        return None
    return _amount(i, low, high, unit or _UnitRead(None, end))


def _amount(i: int, low: Number, high: Number | None, unit: _UnitRead) -> Amount:
    read = [*low.doubts, *(high.doubts if high else ())]
    value = low.value
    if low.doubts and unit.unit and unit.unit.name not in _IN_LARGE:
        two = low.doubts[0]
        if isinstance(two, doubts.TwoReadings):
            value = two.other
            read[0] = doubts.TwoReadings(two.text, two.other, two.taken)
    if high:
        read.append(doubts.RangeRead(value, high.value))
    upper = high.value if high else None
    return Amount(
        value, i, unit.end, upper, unit.unit, unit.word, unit.rough, doubts=(*read, *unit.doubts)
    )


def _counts(tokens: Sequence[Token], i: int, number: Number) -> bool:
    """Whether a number in words may count things: `two eggs`, `an egg`, not `half eggs`."""
    first = i == 0 or not tokens[i - 1].is_word or _at(tokens, i - 1) in _BEFORE_COUNTS
    if _at(tokens, i) in ARTICLES:
        return first and number.end == i + 1 and _at(tokens, i + 1) not in _LITTLE
    return first and _at(tokens, i) in NUMBER_WORDS


def _one_of(tokens: Sequence[Token], i: int) -> Amount | None:
    """`pinch of salt`: one of a word that stands without a number at the start of a phrase."""
    if _at(tokens, i) not in ONE_OF or (i > 0 and tokens[i - 1].is_word):
        return None
    unit = _unit(tokens, i, Decimal(1))
    return Amount(Decimal(1), i, unit.end, unit=unit.unit, word=unit.word) if unit else None


def _multiple(tokens: Sequence[Token], i: int, times: Number, x: int) -> Amount | None:
    """`2 x 7 g`: a multiple of an amount."""
    one = read_amount(tokens, x + 1) if _at(tokens, x + 2) != "x" else None
    if one is None or one.unit is None or not tokens[x + 1].is_number:
        return None
    high = one.high * times.value if one.high is not None else None
    return replace(one, low=times.value * one.low, high=high, start=i)
