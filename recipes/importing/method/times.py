"""The times of a sentence of the method: which are lengths, in minutes, and which are moments."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import ROUND_CEILING, Decimal

from recipes.importing.method import unsure
from recipes.importing.method.clock import DAY_MIN, clock_at
from recipes.importing.method.lengths import (
    HOUR_MIN,
    MINUTES_OF,
    NoLength,
    TimeSpan,
    numbers_at,
    span_at,
    word_at,
)
from recipes.importing.method.verbs import STEP_VERBS, TIMED_KINDS
from recipes.importing.text.tokens import Token, text_of
from recipes.importing.text.words import word_set

OVERNIGHT_MIN = 720

_VAGUE = {"few", "several", "couple", "some"}
_NOT_A_LENGTH = {"every", "after", "within", "halfway", "last", "first", "each"}
LESS = word_set("less fewer shorter")
_POINTS_IN_TIME = word_set("ahead into apart intervals interval") | LESS
_FOLDS = word_set("fold folds folded folding turns stretch stretches")
_IN_A_LIST = {",", "and", "&", "then", "+", "/"}
_IN_ALL = {("in", "all"), ("in", "total"), ("total",), ("altogether",)}
_BEFORE_BARE = word_set("another further extra")
_AFTER_BARE = word_set("or at until in and then with without uncovered fold folding lid more")
_NOT_BEHIND_BARE = word_set("° % / : x")
_JOINING = word_set("+ , and then & about for on at low slow fast high first second speed")
_SPEEDS = word_set("slow slowly fast low medium high speed first second one two 1st 2nd")
_LIDS = word_set("without uncovered")
_UNTIL = word_set("from until till til")
_LARGEST_WORD, _MOST_BARE = 12, 180
_LONGEST_LIST = 24
_NEAR_FOLDS = 4


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
    if word_at(tokens, i) not in _UNTIL or not (ends := clock_at(tokens, i + 1)):
        return None
    minute, end = ends
    if word_at(tokens, i) == "from":
        later = clock_at(tokens, end + 1) if word_at(tokens, end) in ("to", "until", "-") else None
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
        return TimeSpan(i, i + 1, HOUR_MIN)
    if tokens[i].low in _VAGUE and word_at(tokens, i + 1) in MINUTES_OF:
        return NoLength(i, i + 2, unsure.TimeVague(text_of(tokens[i : i + 2]), None))
    span = span_at(tokens, i)
    if span:
        return _counted(tokens, span)
    return _bare(tokens, i, last)


def _bare(tokens: Sequence[Token], i: int, last: int) -> TimeSpan | NoLength | None:
    """A number without a unit that can only be minutes: `rest 20`, `then 5 on second`, `5+4 min`.

    It is behind a verb that takes time, a time (which ends at token `last`) or `another`.
    """
    found = numbers_at(tokens, i)
    if found is None or (found[0].spelled and found[0].value <= _LARGEST_WORD):
        return None
    low, high = found
    end = high.end if high else low.end
    value = high.value if high else low.value
    before, behind = word_at(tokens, i - 1), word_at(tokens, end)
    if not 2 <= low.value <= value <= _MOST_BARE or behind in _NOT_BEHIND_BARE:
        return None
    speed = behind in _SPEEDS or (_SPEEDS & {word_at(tokens, end + 1)} and behind == "on")
    summed = behind == "+" and bool(span_at(tokens, end + 1))
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
    before, behind = word_at(tokens, span.start - 1), word_at(tokens, span.end)
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
        tokens[at].is_number or tokens[at].low in _IN_A_LIST or tokens[at].low in MINUTES_OF
    ):
        at -= 1
    if word_at(tokens, at) not in ("at", "after", "every"):
        return False
    return any(token.low in _FOLDS for token in tokens[max(0, at - _NEAR_FOLDS) : at])
