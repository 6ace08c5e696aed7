"""Lengths of time with a unit: `1 hour 20 minutes`, `45-60 min`, `1:30 h`, in minutes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal

from recipes.importing.doubts import Doubt
from recipes.importing.method.spoken import spoken
from recipes.importing.text.numbers import Number, read_range, read_value
from recipes.importing.text.tokens import Token
from recipes.importing.text.words import word_set

HOUR_MIN = Decimal(60)
MINUTES_OF = {
    **dict.fromkeys(word_set("min mins minute minutes"), Decimal(1)),
    **dict.fromkeys(word_set("h hr hrs hour hours hour's"), HOUR_MIN),
    **dict.fromkeys(word_set("sec secs second seconds"), 1 / Decimal(60)),
    **dict.fromkeys(word_set("day days"), Decimal(1440)),
}
# Written without a space after the figure: 45m, 20'.
_MINUTE_SIGNS = {"m", "'"}
_MOST_NUMBER = Decimal(100_000)
_SIGNS_BEHIND = word_set("° c f degrees degree deg % g kg ml cm x - / : min mins minutes h")
_MOST_JOINED = Decimal(720)


@dataclass(frozen=True, slots=True)
class TimeSpan:
    """A time between two tokens, in minutes; `high` is the upper end of a range.

    `before` marks one in front of that word: it may be a point in time, not a length. `in_all`
    marks one that includes what went before, `until` the minute of the day at which it ends.
    """

    start: int
    end: int
    low: Decimal
    high: Decimal | None = None
    doubts: tuple[Doubt, ...] = ()
    before: bool = False
    in_all: bool = False
    until: int | None = None

    @property
    def minutes(self) -> int:
        """Whole minutes, rounded up; the longer end of a range, so that a class has time."""
        longer = self.low if self.high is None else self.high
        return int(longer.to_integral_value(ROUND_CEILING))


@dataclass(frozen=True, slots=True)
class NoLength:
    """A time between two tokens that is not a length, such as `after 15 minutes`.

    `point` is the minute that it names, if it is a moment, `length` its minutes; `of_folds` are
    times of folding.
    """

    start: int
    end: int
    doubt: Doubt
    point: int | None = None
    length: int | None = None
    of_folds: bool = False
    until: int | None = None


def word_at(tokens: Sequence[Token], i: int) -> str:
    return tokens[i].low if 0 <= i < len(tokens) else ""


def span_at(tokens: Sequence[Token], i: int) -> TimeSpan | None:
    """`1 hour 20 minutes`, `45-60 min`, `45 min to 1 hour`, `an hour and a half`."""
    span = _simple(tokens, i)
    if span is None:
        return None
    if word_at(tokens, span.end) in ("to", "-"):
        other = _simple(tokens, span.end + 1)
        if other and span.high is None and other.low > span.low:
            return replace(span, end=other.end, high=other.high or other.low)
    return span


def numbers_at(tokens: Sequence[Token], i: int) -> tuple[Number, Number | None] | None:
    if i >= len(tokens):
        return None
    over, _, under = tokens[i].text.partition("/")
    if len(over.strip()) == len(under.strip()) == 2 and int(over) < int(under):
        return Number(Decimal(over), i + 1), Number(Decimal(under), i + 1)
    low = spoken(tokens, i)
    found = (low, None) if low else read_range(tokens, i)
    if found and found[1] is None and word_at(tokens, found[0].end) in ("-", "to", "or"):
        high = spoken(tokens, found[0].end + 1)
        high = high or (read_value(tokens, found[0].end + 1) if low else None)
        if high and high.value > found[0].value:
            return found[0], high
    return found


def _simple(tokens: Sequence[Token], i: int) -> TimeSpan | None:
    found = numbers_at(tokens, i)
    if found is None or found[0].value > _MOST_NUMBER:
        return None
    low, high = found
    end = high.end if high else low.end
    if word_at(tokens, end) == ":" and high is None:
        return _with_colon(tokens, i, low)
    hyphen = word_at(tokens, end) == "-" and tokens[end].glued
    end += hyphen or word_at(tokens, end) in ("more", "additional", "extra", "further")
    if word_at(tokens, end) == "of" and word_at(tokens, end + 1) in ("a", "an"):
        end += 2
    clock = word_at(tokens, end)
    if clock[:1] == "h" and clock[1:].isdigit() and len(clock) == 3:
        return TimeSpan(i, end + 1, low.value * 60 + int(clock[1:]))
    unit = _unit(tokens, end)
    if unit is None or (high and high.value > _MOST_NUMBER):
        return None
    end += 1
    end += word_at(tokens, end) == "." and tokens[end].glued and end + 1 < len(tokens)
    if high:
        return TimeSpan(i, end, low.value * unit, high.value * unit)
    return _with_rest(tokens, TimeSpan(i, end, low.value * unit), unit)


def _unit(tokens: Sequence[Token], i: int) -> Decimal | None:
    word = word_at(tokens, i)
    if word in _MINUTE_SIGNS and tokens[i].glued and tokens[i - 1].is_number:
        return None if word_at(tokens, i + 1) == "'" else Decimal(1)
    return MINUTES_OF.get(word)


def _with_colon(tokens: Sequence[Token], i: int, hours: Number) -> TimeSpan | None:
    """`1:30 h`; without the unit it may be a time of day."""
    minutes = tokens[hours.end + 1] if hours.end + 1 < len(tokens) else None
    if minutes is None or not (minutes.text.isdigit() and len(minutes.text) == 2):
        return None
    if int(minutes.text) >= HOUR_MIN or MINUTES_OF.get(word_at(tokens, hours.end + 2)) != HOUR_MIN:
        return None
    return TimeSpan(i, hours.end + 3, hours.value * HOUR_MIN + int(minutes.text))


def _with_rest(tokens: Sequence[Token], span: TimeSpan, unit: Decimal) -> TimeSpan:
    """An hour with what follows it: `1 hour 20 minutes`, `an hour and a half`."""
    at = span.end + (word_at(tokens, span.end) in ("and", ",") and span.low <= _MOST_JOINED)
    found = spoken(tokens, at) or read_value(tokens, at)
    if found is None or found.value > _MOST_NUMBER:
        return span
    smaller = MINUTES_OF.get(word_at(tokens, found.end))
    if smaller is not None and smaller < unit:
        return replace(span, end=found.end + 1, low=span.low + found.value * smaller)
    if unit == HOUR_MIN and at == span.end and _are_minutes(tokens, at):
        return replace(span, end=at + 1, low=span.low + found.value)
    if found.spelled and found.value < 1 and word_at(tokens, span.end) == "and":
        return replace(span, end=found.end, low=span.low + found.value * unit)
    return span


def _are_minutes(tokens: Sequence[Token], i: int) -> bool:
    """Whether a number after an hour is its minutes: `2 h 30`, not `2 h 24 °C`."""
    two_digits = tokens[i].text.isdigit() and len(tokens[i].text) == 2 and int(tokens[i].text) < 60
    return two_digits and word_at(tokens, i + 1) not in _SIGNS_BEHIND
