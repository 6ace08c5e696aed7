"""A sentence of the method cut at its verbs, so that each piece is one kind of work.

`Knead 8 minutes, then cover and let rise for 1 hour` is a piece of mixing and one of rising; a
bake that goes on at another temperature is one piece for each temperature.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from recipes.core.choices import RISING_KINDS, StepKind
from recipes.importing.method.heats import LEAST_OVEN_C, Heat
from recipes.importing.method.lengths import NoLength, TimeSpan
from recipes.importing.method.sentences import Sentence
from recipes.importing.method.stages import Stage, spans_of, stages
from recipes.importing.method.standing import COLD, Standing, Timed, verbs_in
from recipes.importing.method.verbs import KNOCKING_BACK, Verb
from recipes.importing.text.tokens import Token
from recipes.importing.text.words import word_set

_LEADING = word_set(", ; and & then | + - ) . :")
_TRAILING = word_set(", ; and & then | + - (")
_COVERING = word_set("cover wrap return transfer let allow set remove take move tip")


@dataclass(frozen=True, slots=True)
class Clause:
    """A piece of a sentence: its kind, None if unknown, and its contents.

    One that is `further` continues the bake before it at another temperature.
    """

    text: str
    tokens: Sequence[Token]
    kind: StepKind | None
    verbs: Sequence[Timed]
    times: Sequence[TimeSpan | NoLength]
    heats: Sequence[Heat]
    further: bool = False


def clauses(text: str, standing: Standing) -> Iterator[Clause]:
    """The pieces of a sentence in order; only commas and `and` between them are dropped."""
    words = Sentence(text, standing.since)
    verbs = verbs_in(words, standing)
    cuts = [0, *_cuts(words, verbs), len(words.tokens)]
    for start, end in pairwise(cuts):
        own = [one for one in verbs if start <= one.at < end]
        kind = _kind(own)
        staged = list(_stages(words, start, end, kind, standing))
        kind = StepKind.BAKE if len(staged) > 1 else kind
        for n, (stage, last) in enumerate(staged):
            clause = _clause(words, stage, last, kind, own)
            if clause.text:
                yield replace(clause, further=n > 0)


def _clause(
    words: Sentence, stage: Stage, end: int, kind: StepKind | None, verbs: Sequence[Timed]
) -> Clause:
    first, last = stage.start, end
    while first < last and stage.start > 0 and words.low[first] in _LEADING:
        first += 1
    while last > first and end < len(words.low) and words.low[last - 1] in _TRAILING:
        last -= 1
    if first >= last:
        return Clause("", (), None, (), (), ())
    text = words.text[words.tokens[first].start : words.tokens[last - 1].end]
    if stage.start > 0:
        text = text[:1].upper() + text[1:]
    if end < len(words.low) and text[-1] not in ".!?:":
        text += "."
    start = stage.start
    return Clause(
        text,
        words.tokens[start:end],
        kind,
        [replace(one, at=one.at - start) for one in verbs if start <= one.at < end],
        [replace(one, start=one.start - start, end=one.end - start) for one in stage.times],
        [replace(one, start=one.start - start, end=one.end - start) for one in stage.heats],
    )


def _kind(verbs: Sequence[Timed]) -> StepKind | None:
    """The kind of the first strong verb, else of the first verb."""
    strong = (one.verb.kind for one in verbs if not one.verb.weak)
    shaped = any(one.verb.kind is StepKind.DIVIDE for one in verbs)
    weak = [one.verb for one in verbs if not (shaped and _knocks_back(one.verb))]
    return next(strong, weak[0].kind if weak else None)


def _knocks_back(verb: Verb) -> bool:
    """Whether air is knocked out of dough, which is not a step by itself."""
    return verb.kind in RISING_KINDS and verb.weak and not verb.waits


# --- where to cut -----------------------------------------------------------------------------


def _cuts(words: Sentence, verbs: Sequence[Timed]) -> list[int]:
    """The tokens at which another kind of work begins."""
    found: list[int] = []
    current: StepKind | None = None
    begun = 0
    for n, one in enumerate(verbs):
        following = verbs[n + 1].at if n + 1 < len(verbs) else len(words.low)
        last = verbs[n - 1].at if n else -1
        timed = bool(words.lengths_of(one.at, last, following))
        if one.verb.weak and not timed and one.verb.kind is not StepKind.DIVIDE:
            continue
        colder = one.verb.kind in RISING_KINDS and words.low[one.at] in COLD
        spent = timed and bool(words.lengths(begun, one.at))
        rises = one.verb.kind in RISING_KINDS
        knocked = rises and bool(KNOCKING_BACK & set(words.low[begun : one.at]))
        again = spent and (colder or knocked or one.verb.kind is StepKind.MIX)
        if current is not None and (again or one.verb.kind is not current):
            at = _boundary(words, verbs[n - 1].at + 1, one.at)
            if at is None:
                continue
            found.append(at)
            begun = at
        current = one.verb.kind
    return found


def _boundary(words: Sentence, least: int, verb: int) -> int | None:
    """The comma or `and` before a verb, with what covers the dough before it rises."""
    own = words.segment[verb] if words.segment[least - 1] != words.segment[verb] else -1
    taken = (end for start, end in words.spans if start < verb and words.segment[start] != own)
    first, least = least, max([least, *taken])
    groups: list[list[int]] = []
    for i in words.separators:
        if least <= i < verb:
            if groups and groups[-1][-1] == i - 1:
                groups[-1].append(i)
            else:
                groups.append([i])
    if not groups:
        apart = least > first or words.is_filled(least - 1, verb) or least < verb - 1
        return least if apart else None
    while len(groups) > 1 and words.low[groups[-2][-1] + 1] in _COVERING:
        groups.pop()
    return groups[-1][0]


def _stages(
    words: Sentence, start: int, end: int, kind: StepKind | None, standing: Standing
) -> Iterator[tuple[Stage, int]]:
    """A piece as it is, or a bake cut where it continues for another time or temperature."""
    if kind in (StepKind.BAKE, None) and any(h.celsius >= LEAST_OVEN_C for h in words.settings):
        heated = standing.heated or standing.baked
        return spans_of(words, stages(words, start, end, heated=heated), end)
    return spans_of(words, [_whole(words, start, end)], end)


def _whole(words: Sentence, start: int, end: int) -> Stage:
    times = [time for time in words.times if start <= time.start < end]
    return Stage(start, times, [heat for heat in words.settings if start <= heat.start < end])
