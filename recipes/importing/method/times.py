"""Lengths of time in a sentence of the method, in minutes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal

from recipes.importing.doubts import Doubt
from recipes.importing.method import unsure
from recipes.importing.text.numbers import Number, read_range, read_value
from recipes.importing.text.tokens import Token, text_of
from recipes.importing.text.words import word_set

OVERNIGHT_MIN = 720

_HOUR = Decimal(60)
_MINUTES = {
    **dict.fromkeys(word_set("min mins minute minutes"), Decimal(1)),
    **dict.fromkeys(word_set("h hr hrs hour hours"), _HOUR),
    **dict.fromkeys(word_set("sec secs second seconds"), 1 / Decimal(60)),
    **dict.fromkeys(word_set("day days"), Decimal(1440)),
}
# Written without a space after the figure: 45m, 20'.
_MINUTE_SIGNS = {"m", "'"}
_SPELLED = {
    "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18,
    "nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60,
    "seventy": 70, "eighty": 80, "ninety": 90,
}  # fmt: skip
_MOST_NUMBER = Decimal(100_000)
_VAGUE = {"few", "several", "couple", "some"}
_NOT_A_LENGTH = {"every", "after", "within", "halfway", "last", "first", "each"}
_POINTS_IN_TIME = {"ahead", "into", "apart", "intervals", "interval"}
_FOLDS = word_set("fold folds folded folding turns stretch stretches")
_IN_A_LIST = {",", "and", "&", "then", "+", "/"}
_IN_ALL = {("in", "all"), ("in", "total"), ("total",), ("altogether",)}
_BEFORE_BARE = word_set("another further extra after")
_AFTER_BARE = word_set("or at until in and then with without uncovered")
_MOST_BARE = 120
_LONGEST_LIST = 24
_NEAR_FOLDS = 4


@dataclass(frozen=True, slots=True)
class TimeSpan:
    """A time between two tokens, in minutes; `high` is the upper end of a range.

    `before` marks one in front of that word: it may be a point in time, not a length. `in_all`
    marks one that includes what went before.
    """

    start: int
    end: int
    low: Decimal
    high: Decimal | None = None
    doubts: tuple[Doubt, ...] = ()
    before: bool = False
    in_all: bool = False

    @property
    def minutes(self) -> int:
        """Whole minutes, rounded up; the longer end of a range, so that a class has time."""
        longer = self.low if self.high is None else self.high
        return int(longer.to_integral_value(ROUND_CEILING))


@dataclass(frozen=True, slots=True)
class NoLength:
    """A time between two tokens that is not a length, such as `after 15 minutes`.

    `point` is the minute that it names, if it is a moment; `of_folds` are times of folding.
    """

    start: int
    end: int
    doubt: Doubt
    point: int | None = None
    of_folds: bool = False


def _word(tokens: Sequence[Token], i: int) -> str:
    return tokens[i].low if 0 <= i < len(tokens) else ""


def times(tokens: Sequence[Token]) -> Iterator[TimeSpan | NoLength]:
    """The times of a sentence in order."""
    i = 0
    while i < len(tokens):
        found = _at(tokens, i)
        if found:
            yield found
        i = found.end if found else i + 1


def _at(tokens: Sequence[Token], i: int) -> TimeSpan | NoLength | None:
    if tokens[i].low == "overnight":
        vague = unsure.TimeVague(tokens[i].text, OVERNIGHT_MIN)
        return TimeSpan(i, i + 1, Decimal(OVERNIGHT_MIN), doubts=(vague,))
    if tokens[i].low in _VAGUE and _word(tokens, i + 1) in _MINUTES:
        return NoLength(i, i + 2, unsure.TimeVague(text_of(tokens[i : i + 2]), None))
    span = _span(tokens, i)
    if span:
        return _counted(tokens, span)
    return _bare(tokens, i) if tokens[i].low in _BEFORE_BARE else None


def _bare(tokens: Sequence[Token], i: int) -> TimeSpan | NoLength | None:
    """`another 20` and `after 20`, taken as minutes if no other word follows."""
    found = read_range(tokens, i + 1) if i + 1 < len(tokens) else None
    if found is None:
        return None
    low, high = found
    end = high.end if high else low.end
    behind = _word(tokens, end)
    if low.value < 2 or low.value > _MOST_BARE or (behind.isalpha() and behind not in _AFTER_BARE):
        return None
    if behind in ("°", "%", "/", ":", ","):
        return None
    value = high.value if high else low.value
    if tokens[i].low == "after":
        doubt = unsure.TimeNotCounted(text_of(tokens[i + 1 : end]))
        return NoLength(i + 1, end, doubt, int(value))
    vague = unsure.TimeVague(text_of(tokens[i:end]), int(value))
    return TimeSpan(i + 1, end, value, doubts=(vague,))


def _counted(tokens: Sequence[Token], span: TimeSpan) -> TimeSpan | NoLength:
    before, behind = _word(tokens, span.start - 1), _word(tokens, span.end)
    folds = _are_folds(tokens, span.start)
    if folds or before in _NOT_A_LENGTH or behind in _POINTS_IN_TIME:
        text = text_of(tokens[span.start : span.end])
        point = span.minutes if before in ("after", "first") or behind == "into" else None
        doubt = unsure.TimeNotCounted(text)
        return NoLength(span.start, span.end, doubt, point, folds)
    ends = {tuple(t.low for t in tokens[span.end : span.end + n]) for n in (1, 2)}
    span = replace(span, before=behind == "before", in_all=bool(ends & _IN_ALL))
    if span.high is None:
        return span
    low, high = (int(n.to_integral_value(ROUND_CEILING)) for n in (span.low, span.high))
    told = (*span.doubts, unsure.TimeRange(low, high, span.minutes))
    return replace(span, doubts=told)


def _are_folds(tokens: Sequence[Token], start: int) -> bool:
    """Whether a time ends a list of moments to fold: `folds at 45, 90 and 135 min`."""
    at, least = start - 1, max(0, start - _LONGEST_LIST)
    while at >= least and (
        tokens[at].is_number or tokens[at].low in _IN_A_LIST or tokens[at].low in _MINUTES
    ):
        at -= 1
    if _word(tokens, at) not in ("at", "after", "every"):
        return False
    return any(token.low in _FOLDS for token in tokens[max(0, at - _NEAR_FOLDS) : at])


def _span(tokens: Sequence[Token], i: int) -> TimeSpan | None:
    """`1 hour 20 minutes`, `45-60 min`, `45 min to 1 hour`, `an hour and a half`."""
    span = _simple(tokens, i)
    if span is None:
        return None
    if _word(tokens, span.end) in ("to", "-"):
        other = _simple(tokens, span.end + 1)
        if other and span.high is None and other.low > span.low:
            return replace(span, end=other.end, high=other.high or other.low)
    return span


def _tens(tokens: Sequence[Token], i: int) -> Number | None:
    """Numbers in words beyond twelve: `fifteen`, `forty`, `forty-five`."""
    value = _SPELLED.get(_word(tokens, i))
    if value is None:
        return None
    ones = read_value(tokens, i + 1 + (_word(tokens, i + 1) == "-"))
    if value >= 20 and ones and ones.spelled and 1 <= ones.value < 10 and ones.end <= i + 3:
        return Number(value + ones.value, ones.end, spelled=True)
    return Number(Decimal(value), i + 1, spelled=True)


def _numbers(tokens: Sequence[Token], i: int) -> tuple[Number, Number | None] | None:
    if i >= len(tokens):
        return None
    over, _, under = tokens[i].text.partition("/")
    if len(over.strip()) == len(under.strip()) == 2 and int(over) < int(under):
        return Number(Decimal(over), i + 1), Number(Decimal(under), i + 1)
    low = _tens(tokens, i)
    found = (low, None) if low else read_range(tokens, i)
    if found and found[1] is None and _word(tokens, found[0].end) in ("-", "to", "or"):
        high = _tens(tokens, found[0].end + 1)
        high = high or (read_value(tokens, found[0].end + 1) if low else None)
        if high and high.value > found[0].value:
            return found[0], high
    return found


def _simple(tokens: Sequence[Token], i: int) -> TimeSpan | None:
    found = _numbers(tokens, i)
    if found is None or found[0].value > _MOST_NUMBER:
        return None
    low, high = found
    end = high.end if high else low.end
    if _word(tokens, end) == ":" and high is None:
        return _with_colon(tokens, i, low)
    end += _word(tokens, end) in ("-", "more", "additional", "extra", "further")
    if _word(tokens, end) == "of" and _word(tokens, end + 1) in ("a", "an"):
        end += 2
    clock = _word(tokens, end)
    if clock[:1] == "h" and clock[1:].isdigit() and len(clock) == 3:
        return TimeSpan(i, end + 1, low.value * 60 + int(clock[1:]))
    unit = _unit(tokens, end)
    if unit is None or (high and high.value > _MOST_NUMBER):
        return None
    end += 1
    end += _word(tokens, end) == "." and tokens[end].glued and end + 1 < len(tokens)
    if high:
        return TimeSpan(i, end, low.value * unit, high.value * unit)
    return _with_rest(tokens, TimeSpan(i, end, low.value * unit), unit)


def _unit(tokens: Sequence[Token], i: int) -> Decimal | None:
    word = _word(tokens, i)
    if word in _MINUTE_SIGNS and tokens[i].glued and tokens[i - 1].is_number:
        return None if _word(tokens, i + 1) == "'" else Decimal(1)
    return _MINUTES.get(word)


def _with_colon(tokens: Sequence[Token], i: int, hours: Number) -> TimeSpan | None:
    """`1:30 h`; without the unit it may be a time of day."""
    minutes = tokens[hours.end + 1] if hours.end + 1 < len(tokens) else None
    if minutes is None or not (minutes.text.isdigit() and len(minutes.text) == 2):
        return None
    if int(minutes.text) >= _HOUR or _MINUTES.get(_word(tokens, hours.end + 2)) != _HOUR:
        return None
    return TimeSpan(i, hours.end + 3, hours.value * _HOUR + int(minutes.text))


def _with_rest(tokens: Sequence[Token], span: TimeSpan, unit: Decimal) -> TimeSpan:
    """An hour with what follows it: `1 hour 20 minutes`, `an hour and a half`."""
    at = span.end + (_word(tokens, span.end) in ("and", ","))
    found = _tens(tokens, at) or read_value(tokens, at)
    if found is None or found.value > _MOST_NUMBER:
        return span
    smaller = _MINUTES.get(_word(tokens, found.end))
    if smaller is not None and smaller < unit:
        return replace(span, end=found.end + 1, low=span.low + found.value * smaller)
    if unit == _HOUR and at == span.end and _are_minutes(tokens, at):
        return replace(span, end=at + 1, low=span.low + found.value)
    if found.spelled and found.value < 1 and _word(tokens, span.end) == "and":
        return replace(span, end=found.end, low=span.low + found.value * unit)
    return span


def _are_minutes(tokens: Sequence[Token], i: int) -> bool:
    """Whether a number after an hour is its minutes: `2 h 30`, not `2 h 24 °C`."""
    behind = _word(tokens, i + 1)
    two_digits = tokens[i].text.isdigit() and len(tokens[i].text) == 2 and int(tokens[i].text) < 60
    return two_digits and behind in ("", "at", ",", ".", "and", "with", "in", "until", ";", ")")
