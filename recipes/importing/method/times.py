"""Lengths of time in a sentence of the method, in minutes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal

from recipes.importing.doubts import Doubt
from recipes.importing.method import unsure
from recipes.importing.method.clock import DAY_MIN, clock_at
from recipes.importing.method.spoken import spoken
from recipes.importing.method.verbs import STEP_VERBS, TIMED_KINDS
from recipes.importing.text.numbers import Number, read_range, read_value
from recipes.importing.text.tokens import Token, text_of
from recipes.importing.text.words import word_set

OVERNIGHT_MIN = 720

_HOUR = Decimal(60)
_MINUTES = {
    **dict.fromkeys(word_set("min mins minute minutes"), Decimal(1)),
    **dict.fromkeys(word_set("h hr hrs hour hours hour's"), _HOUR),
    **dict.fromkeys(word_set("sec secs second seconds"), 1 / Decimal(60)),
    **dict.fromkeys(word_set("day days"), Decimal(1440)),
}
# Written without a space after the figure: 45m, 20'.
_MINUTE_SIGNS = {"m", "'"}
_MOST_NUMBER = Decimal(100_000)
_VAGUE = {"few", "several", "couple", "some"}
_NOT_A_LENGTH = {"every", "after", "within", "halfway", "last", "first", "each"}
_POINTS_IN_TIME = {"ahead", "into", "apart", "intervals", "interval"}
_FOLDS = word_set("fold folds folded folding turns stretch stretches")
_IN_A_LIST = {",", "and", "&", "then", "+", "/"}
_IN_ALL = {("in", "all"), ("in", "total"), ("total",), ("altogether",)}
_BEFORE_BARE = word_set("another further extra")
_AFTER_BARE = word_set("or at until in and then with without uncovered fold folding lid more")
_NOT_BEHIND_BARE = word_set("° % / : x")
_JOINING = word_set("+ , and then & about for on at low slow fast high first second speed")
_SPEEDS = word_set("slow slowly fast low medium high speed first second one two 1st 2nd")
_LIDS = word_set("without uncovered")
_SIGNS_BEHIND = word_set("° c f degrees degree deg % g kg ml cm x - / : min mins minutes h")
_UNTIL = word_set("from until till til")
_MOST_JOINED = Decimal(720)
_LARGEST_WORD, _MOST_BARE = 12, 180
_LONGEST_LIST = 24
_NEAR_FOLDS = 4


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


def _word(tokens: Sequence[Token], i: int) -> str:
    return tokens[i].low if 0 <= i < len(tokens) else ""


def times(tokens: Sequence[Token], since: int | None = None) -> Iterator[TimeSpan | NoLength]:
    """The times of a sentence in order; `since` is the minute of the day at which it begins."""
    i = last = 0
    while i < len(tokens):
        found = _byclock_at(tokens, i, since) or _at(tokens, i, last)
        if found:
            since = since if found.until is None else found.until
            last = found.end
            yield found
        i = found.end if found else i + 1


def _byclock_at(tokens: Sequence[Token], i: int, since: int | None) -> TimeSpan | NoLength | None:
    """`from 7:30 to 7:50`, and `until 8:15` when it is known since when."""
    if _word(tokens, i) not in _UNTIL or not (ends := clock_at(tokens, i + 1)):
        return None
    minute, end = ends
    if _word(tokens, i) == "from":
        later = clock_at(tokens, end + 1) if _word(tokens, end) in ("to", "until", "-") else None
        if later is None:
            return None
        since, (minute, end) = minute, later
    if since is None:
        doubt = unsure.TimeNotCounted(text_of(tokens[i:end]))
        return NoLength(i, end, doubt, until=minute)
    return TimeSpan(i, end, Decimal((minute - since) % DAY_MIN), until=minute)


def _at(tokens: Sequence[Token], i: int, last: int) -> TimeSpan | NoLength | None:
    if tokens[i].low == "overnight":
        vague = unsure.TimeVague(tokens[i].text, OVERNIGHT_MIN)
        return TimeSpan(i, i + 1, Decimal(OVERNIGHT_MIN), doubts=(vague,))
    if tokens[i].low == "hour's" and not (i and tokens[i - 1].is_word):
        return TimeSpan(i, i + 1, _HOUR)
    if tokens[i].low in _VAGUE and _word(tokens, i + 1) in _MINUTES:
        return NoLength(i, i + 2, unsure.TimeVague(text_of(tokens[i : i + 2]), None))
    span = _span(tokens, i)
    if span:
        return _counted(tokens, span)
    return _bare(tokens, i, last)


def _bare(tokens: Sequence[Token], i: int, last: int) -> TimeSpan | NoLength | None:
    """A number without a unit that can only be minutes: `rest 20`, `then 5 on second`, `5+4 min`.

    It is behind a verb that takes time, a time (which ends at token `last`) or `another`.
    """
    found = _numbers(tokens, i)
    if found is None or (found[0].spelled and found[0].value <= _LARGEST_WORD):
        return None
    low, high = found
    end = high.end if high else low.end
    value = high.value if high else low.value
    before, behind = _word(tokens, i - 1), _word(tokens, end)
    if not 2 <= low.value <= value <= _MOST_BARE or behind in _NOT_BEHIND_BARE:
        return None
    speed = behind in _SPEEDS or (_SPEEDS & {_word(tokens, end + 1)} and behind == "on")
    summed = behind == "+" and bool(_span(tokens, end + 1))
    joined = bool(last) and all(t.low in _JOINING for t in tokens[last:i])
    before_it = tokens[:i] if before == "for" else ()
    joined = joined or bool(last and behind in _LIDS)
    timed = i and (
        (behind == "more" and last)
        or (before == "for" and last)
        or (behind in _LIDS and joined)
        or any(_is_timed_verb(token.low) for token in (*before_it, *tokens[i - 1 : i]))
        or (before == "+" and joined)
        or summed
    )
    if speed and (joined or _is_timed_verb(before) or last):
        timed = True
    elif behind.isalpha() and behind not in _AFTER_BARE:
        return None
    if before in ("after", "first") and behind not in (",", "and", "+"):
        doubt = unsure.TimeNotCounted(text_of(tokens[i - 1 : end]))
        return NoLength(i, end, doubt, int(value))
    if not timed and before not in _BEFORE_BARE:
        return None
    vague = unsure.TimeVague(text_of(tokens[max(0, i - 1) : end]), int(value))
    return TimeSpan(i, end, value, doubts=(vague,))


def _is_timed_verb(word: str) -> bool:
    verb = STEP_VERBS.get(word)
    return verb is not None and verb.kind in TIMED_KINDS and (verb.waits or not verb.weak)


def _counted(tokens: Sequence[Token], span: TimeSpan) -> TimeSpan | NoLength:
    before, behind = _word(tokens, span.start - 1), _word(tokens, span.end)
    folds = _are_folds(tokens, span.start)
    rested = before == "after" and _is_timed_verb(behind)
    if folds or (before in _NOT_A_LENGTH and not rested) or behind in _POINTS_IN_TIME:
        text = text_of(tokens[span.start : span.end])
        point = span.minutes if before in ("after", "first") or behind == "into" else None
        doubt = unsure.TimeNotCounted(text)
        return NoLength(span.start, span.end, doubt, point, span.minutes, folds)
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


def _numbers(tokens: Sequence[Token], i: int) -> tuple[Number, Number | None] | None:
    if i >= len(tokens):
        return None
    over, _, under = tokens[i].text.partition("/")
    if len(over.strip()) == len(under.strip()) == 2 and int(over) < int(under):
        return Number(Decimal(over), i + 1), Number(Decimal(under), i + 1)
    low = spoken(tokens, i)
    found = (low, None) if low else read_range(tokens, i)
    if found and found[1] is None and _word(tokens, found[0].end) in ("-", "to", "or"):
        high = spoken(tokens, found[0].end + 1)
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
    at = span.end + (_word(tokens, span.end) in ("and", ",") and span.low <= _MOST_JOINED)
    found = spoken(tokens, at) or read_value(tokens, at)
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
    two_digits = tokens[i].text.isdigit() and len(tokens[i].text) == 2 and int(tokens[i].text) < 60
    return two_digits and _word(tokens, i + 1) not in _SIGNS_BEHIND
