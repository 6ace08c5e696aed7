"""Times and temperatures in a clause that may not be its step's: each becomes a doubt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from recipes.core.choices import StepKind
from recipes.importing.doubts import Doubt
from recipes.importing.method import unsure
from recipes.importing.method.clauses import Clause
from recipes.importing.method.clock import clock_at
from recipes.importing.method.drafts import Draft, Spent
from recipes.importing.method.heats import LEAST_BAKE_C
from recipes.importing.method.lengths import TimeSpan
from recipes.importing.method.sentences import SEPARATORS
from recipes.importing.method.standing import Timed
from recipes.importing.method.verbs import WAITING_KINDS
from recipes.importing.text.numbers import read_amount
from recipes.importing.text.tokens import Token, text_of
from recipes.importing.text.words import word_set

_APART = SEPARATORS - {"("}
_FURTHEST = 12
_MOST_QUOTED = 8
_TAKES_NO_TIME = {StepKind.DIVIDE, StepKind.SCORE}
_WORKED = word_set("work fold")
_LONGEST_GOING_ON_MIN = 20
# Words that may lead from a verb to its time across a comma: `knead, by hand, for 10 minutes`.
_LEADING = word_set(
    """for about around approximately approx roughly some at least up until till in on by with
    without under over after of a an the another once again more further only just full good well
    total altogether slow slowly fast low high medium speed first second third covered uncovered
    lid steam foil loosely gently lightly usually or to from it this them ca c turning rotating
    each per every before while when as wrapped sealed ideally preferably maybe perhaps nearly
    almost something like"""
)
_MADE_READY = word_set(
    """soak soaked soaking soaks froth frothy froths foam foamy bloom ripen ripens ripe mature
    yeast starter levain leaven poolish biga sponge sour preferment culture soaker scald boil
    boiled simmer toast melt cook cooking tangzhong roux activate preheat preheated oven"""
)
_SIGNS = {"x", "+", "/", "%", ":", "=", "°"}
_NOT_AFTER = word_set(
    """into in step speed speeds number no gear mark page day type part makes make divide scale
    score cut x + / : = ( every each weigh # folds fold turns turn"""
)
_FOLDS = word_set("fold folds folded folding turns")
_GOING_ON = word_set("more and then at with without lid until or again uncovered")


def doubts_of_times(
    clause: Clause, kind: StepKind | None, spent: Sequence[Spent], last: Draft | None
) -> Iterator[Doubt]:
    """Doubts about minutes that no nearby known verb assigns to the clause's kind."""
    if not spent:
        return
    lengths = [time for time in clause.times if isinstance(time, TimeSpan)]
    for time in lengths:
        led = _is_claimed(clause, time) if clause.verbs else _goes_on(clause, time, last)
        ready = kind is not StepKind.PREPARE or _is_made_ready(clause, time)
        if kind in _TAKES_NO_TIME or not (led and ready):
            yield unsure.TimeOfWhat(_quoted(clause, time))


def _is_made_ready(clause: Clause, time: TimeSpan) -> bool:
    """Whether words beside a time, or those that lead to it, name what is made ahead."""
    start = _segment_start(clause, time.start)
    if _is_led(clause, start, time):
        start = _segment_start(clause, max(0, start - 1))
    near = clause.tokens[start : _segment_end(clause, time.end)]
    return any(token.low in _MADE_READY for token in near)


def _goes_on(clause: Clause, time: TimeSpan, last: Draft | None) -> bool:
    """Whether a time without a verb can only be that of the step before it."""
    if (
        last is None
        or last.spent
        or not last.named
        or not _is_led(clause, _segment_start(clause, time.start), time)
    ):
        return False
    mixes = last.kind is StepKind.MIX and time.minutes <= _LONGEST_GOING_ON_MIN
    return mixes or last.kind in WAITING_KINDS


def _is_claimed(clause: Clause, time: TimeSpan) -> bool:
    """Whether a known verb, or only words that lead to one, is between the same commas."""
    start = _segment_start(clause, time.start)
    if _is_in_oven(clause, start, _segment_end(clause, time.end)):
        return False
    near = (one for one in clause.verbs if start <= one.at < _segment_end(clause, time.end))
    if clause.further or any(_takes_time(clause, one) for one in near):
        return True
    before = any(one.at < start and _takes_time(clause, one) for one in clause.verbs)
    return before and _is_led(clause, start, time) and not _is_other_work(clause, start)


def _is_in_oven(clause: Clause, start: int, end: int) -> bool:
    """Whether a time that no bake takes stands beside an oven's temperature."""
    hot = [heat for heat in clause.heats if heat.celsius >= LEAST_BAKE_C]
    beside = any(start <= heat.start < end for heat in hot)
    return beside and clause.kind not in (StepKind.BAKE, StepKind.PREPARE)


def _is_other_work(clause: Clause, end: int) -> bool:
    """Whether the words before a comma may be work with an unknown verb."""
    while end > 0 and _is_apart(clause.tokens[end - 1]):
        end -= 1
    start = _segment_start(clause, end)
    within = [one for one in clause.verbs if start <= one.at < end]
    if end == 0 or within:
        return bool(within) and not any(_takes_time(clause, one) for one in within)
    words = [token.low for token in clause.tokens[start:end] if token.is_word]
    return bool(words) and words[0] not in _LEADING and not words[0].endswith(("ing", "ed", "ly"))


def _is_led(clause: Clause, start: int, time: TimeSpan) -> bool:
    """Whether the words around a time name no work of their own."""
    words = [token.low for token in clause.tokens[start : time.start] if token.is_word]
    behind = clause.tokens[time.end : time.end + 1]
    told = words[:1] + [token.low for token in behind if token.is_word]
    return all(word in _LEADING for word in told)


def _takes_time(clause: Clause, verb: Timed) -> bool:
    held = verb.verb
    return held.waits or not held.weak or clause.tokens[verb.at].low in _WORKED


def _segment_start(clause: Clause, at: int) -> int:
    least = max(0, at - _FURTHEST)
    inside = {i for heat in clause.heats for i in range(heat.start, heat.end)}
    while at > least and (not _is_apart(clause.tokens[at - 1]) or at - 1 in inside):
        at -= 1
    return at


def _is_apart(token: Token) -> bool:
    return token.low in _APART or (token.low == "-" and not token.glued)


def _segment_end(clause: Clause, at: int) -> int:
    most = min(len(clause.tokens), at + _FURTHEST)
    return next((i for i in range(at, most) if _is_apart(clause.tokens[i])), most)


def _quoted(clause: Clause, time: TimeSpan) -> str:
    start = max(_segment_start(clause, time.start), time.start - _MOST_QUOTED)
    return text_of(clause.tokens[start : time.end])


def doubts_of_numbers(clause: Clause) -> Iterator[Doubt]:
    """Doubts about numbers that are not a time, temperature, amount or count."""
    taken = {i for one in (*clause.times, *clause.heats) for i in range(one.start, one.end)}
    folds = [i for i, token in enumerate(clause.tokens) if token.low in _FOLDS]
    taken |= {i for at in folds for i in range(at, at + _FURTHEST)}
    for i, token in enumerate(clause.tokens):
        if token.is_number and i not in taken and (clock := _clock_at(clause.tokens, i)):
            taken |= {*range(i, clock)}
            yield unsure.NumberNotRead(text_of(clause.tokens[max(0, i - 1) : clock]))
        elif token.is_number and i not in taken and _is_bare(clause.tokens, i):
            yield unsure.NumberNotRead(text_of(clause.tokens[max(0, i - 1) : i + 1]))


def _clock_at(tokens: Sequence[Token], i: int) -> int | None:
    """The token behind a time of day such as `07:45`; `1:2` is a ratio."""
    found = clock_at(tokens, i)
    return found[1] if found and ":" in text_of(tokens[i : found[1]]) else None


def _is_bare(tokens: Sequence[Token], i: int) -> bool:
    before = tokens[i - 1].low if i else ""
    behind = tokens[i + 1].low if i + 1 < len(tokens) else ""
    if before in _NOT_AFTER or behind in _SIGNS or not i:
        return False
    amount = read_amount(tokens, i)
    if amount and amount.unit and amount.end > i + 1:
        return False
    if before == "-" and i > 1 and tokens[i - 2].is_number:
        before = ""
    return not behind.isalpha() or behind in _GOING_ON
