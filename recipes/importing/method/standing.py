"""The verbs of a sentence at this point of the recipe: a rise after shaping is a proof."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from recipes.core.choices import StepKind
from recipes.importing.method.sentences import Sentence
from recipes.importing.method.verbs import (
    IN_OVEN,
    REFRIGERATORS,
    STEP_VERBS,
    Verb,
    put_into,
    verb_at,
)
from recipes.importing.text.words import word_set

_SUBORDINATORS = word_set("until till til before when once if after unless")
_RISEN = word_set("doubled double risen puffy size")
_FURTHEST_SUBORDINATE = 5
_SHORT_MIN, _LEAST_RISE_MIN, _LEAST_COLD_RISE_MIN = 20, 45, 240
_RESTS = word_set("rest resting relax")
COLD = word_set("chill refrigerate") | REFRIGERATORS
_PLACED = word_set("put place pop")
_SPEEDS = word_set("speed speeds mixer")
_OF_DOUGH = {StepKind.MIX, StepKind.DIVIDE}
_ONLY_TIMED = word_set("go wait set")


@dataclass(frozen=True, slots=True)
class Standing:
    """How far the recipe has come before a sentence; `heated`: a hot oven awaits its bake."""

    mixed: bool = False
    shaped: bool = False
    baked: bool = False
    heated: bool = False

    def after(self, kind: StepKind | None) -> Standing:
        return Standing(
            mixed=self.mixed or kind in (StepKind.MIX, StepKind.BULK, StepKind.DIVIDE),
            shaped=self.shaped or kind is StepKind.DIVIDE,
            baked=self.baked or kind is StepKind.BAKE,
            heated=self.heated and kind is not StepKind.BAKE,
        )


@dataclass(frozen=True, slots=True)
class Timed:
    """A verb at a token; `guessed` is its word if it only says that something waits."""

    at: int
    verb: Verb
    guessed: str = ""


def verbs_in(words: Sentence, standing: Standing) -> list[Timed]:
    """The verbs of a sentence; one that only waits is settled by its time and what came before."""
    candidates = [
        i
        for i, word in enumerate(words.low)
        if word in STEP_VERBS or word == "oven" or word in REFRIGERATORS
    ]
    found: list[Timed] = []
    begun = standing
    for n, i in enumerate(candidates):
        others = (j for j in candidates[n + 1 :] if words.low[j] not in REFRIGERATORS)
        following = next(others, len(words.low))
        verb = _verb(words, i, following, found, standing)
        if verb is None or (standing.baked and verb.weak and verb.kind in _OF_DOUGH):
            continue
        timed: Timed | None = Timed(i, verb)
        if verb.vague or (words.low[i] in _PLACED and words.lengths(i, following)):
            timed = _settled(words, Timed(i, verb), following, found, standing)
        if timed:
            found.append(timed)
            standing = standing.after(None if timed.verb.weak else timed.verb.kind)
    waits = _before_any_verb(words, found, begun)
    if waits:
        return [waits, *found]
    if not found and words.low and _SPEEDS & set(words.low):
        return [Timed(0, Verb(StepKind.MIX))]
    return found


def _before_any_verb(words: Sentence, found: list[Timed], standing: Standing) -> Timed | None:
    """`An hour somewhere warm, then shape`: what waits before any verb is said."""
    early = words.lengths(0, found[0].at) if found else []
    if not early or words.segment[early[0].start] == words.segment[found[0].at]:
        return None
    minutes = early[0].minutes
    if minutes < _SHORT_MIN:
        return None
    before = not standing.mixed and not standing.baked
    kind = StepKind.PREPARE if before else waiting_kind("", minutes, standing)
    return Timed(0, Verb(kind, waits=True), words.quoted(0, early[0]))


def _verb(
    words: Sentence, i: int, following: int, before: Sequence[Timed], standing: Standing
) -> Verb | None:
    place = put_into(words.low, i)
    if place is None and words.low[i] not in STEP_VERBS:
        return None
    if place is IN_OVEN:
        led = any(words.segment[one.at] == words.segment[i] and not one.verb.weak for one in before)
        return place if words.lengths(i, following) and not led else None
    if place:
        beside = [one.verb for one in before if words.segment[one.at] == words.segment[i]]
        light = all(verb.weak and not verb.waits for verb in beside)
        return place if light and words.lengths(0, following) else None
    back = range(i - 1, max(-1, i - 1 - _FURTHEST_SUBORDINATE), -1)
    same = [j for j in back if words.segment[j] == words.segment[i]]
    if any(words.low[j] in _SUBORDINATORS for j in same) and not words.is_filled(i, following):
        return None
    return verb_at(words.low, i, mixed=standing.mixed, shaped=standing.shaped)


def _settled(
    words: Sentence, timed: Timed, following: int, before: list[Timed], standing: Standing
) -> Timed | None:
    """What a verb that only waits stands for; None if another verb says it better."""
    word = words.low[timed.at]
    lengths = words.lengths_of(timed.at, before[-1].at if before else -1, following)
    if not lengths and word in COLD:
        lengths = [t for t in words.lengths(0, timed.at) if t.minutes >= _LEAST_COLD_RISE_MIN]
    if following < len(words.low) and words.low[following - 1] == "to":
        return None
    if not lengths:
        if word in _ONLY_TIMED or word in REFRIGERATORS:
            return None
        return replace(timed, verb=replace(timed.verb, waits=True))
    minutes = max(time.minutes for time in lengths)
    said = words.quoted(timed.at, lengths[-1])
    yeast = "yeast" in words.low and not {"flour", "dough"} & set(words.low)
    fresh = not standing.mixed or (yeast and not standing.shaped and minutes < _LEAST_RISE_MIN)
    if fresh and word not in _RESTS and not standing.baked:
        before[:] = [
            replace(one, verb=replace(one.verb, kind=StepKind.PREPARE))
            if one.verb.kind is StepKind.MIX and yeast
            else one
            for one in before
        ]
        sure = yeast or minutes < _LEAST_RISE_MIN
        return Timed(timed.at, Verb(StepKind.PREPARE, waits=True), "" if sure else said)
    kind = waiting_kind(word, minutes, standing)
    short = minutes < _SHORT_MIN and kind is StepKind.REST and word not in _RESTS
    sure = word in _RESTS or bool(_RISEN & set(words.low))
    sure = sure or (word not in _PLACED and (short or kind is StepKind.COOL))
    return Timed(timed.at, Verb(kind, weak=short, waits=True), "" if sure else said)


def waiting_kind(word: str, minutes: int, standing: Standing) -> StepKind:
    """What dough that stands for some minutes is doing at this point of the recipe."""
    if standing.baked:
        return StepKind.COOL
    least = _SHORT_MIN if standing.shaped else _LEAST_RISE_MIN
    least = 0 if word == "go" else least
    if word in _RESTS or minutes < (_LEAST_COLD_RISE_MIN if word in COLD else least):
        return StepKind.REST
    return StepKind.PROOF if standing.shaped else StepKind.BULK
