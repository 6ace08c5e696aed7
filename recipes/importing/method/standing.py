"""The verbs of a sentence at this point of the recipe: a rise after shaping is a proof."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from recipes.core.choices import StepKind
from recipes.importing.method.heats import LEAST_BAKE_C
from recipes.importing.method.lengths import TimeSpan
from recipes.importing.method.sentences import Sentence
from recipes.importing.method.verbs import (
    IN_OVEN,
    PLACES,
    REFRIGERATORS,
    STEP_VERBS,
    Verb,
    counts_pieces,
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
_MACHINE = word_set("speed speeds mixer machine")
_SPEEDS = word_set("slow slowly fast low medium high 1st 2nd")
_UNTIMED = {StepKind.DIVIDE, StepKind.SCORE}
_LONGEST_MIXING_MIN = 30
_OF_DOUGH = {StepKind.MIX, StepKind.DIVIDE}
_ONLY_TIMED = word_set("go wait set lie keep forget")
_DOUGH_MIXED = word_set("""knead kneading kneaded mix mixing mixed dough flour flours everything all
    ingredients together combine frasage incorporate stir""")
_EATING = word_set("cut slice eat serve pack bag taste tear")
_RACKS = word_set("rack grid")
_TIMES = word_set("min mins minute minutes")
_FURTHEST_IN = 4
_TINS = word_set(
    "tin tins pan pans basket baskets banneton bannetons couche mould moulds forms tray"
)


@dataclass(frozen=True, slots=True)
class Standing:
    """How far the recipe has come before a sentence; `heated`: a hot oven awaits its bake."""

    mixed: bool = False
    shaped: bool = False
    risen: bool = False
    baked: bool = False
    heated: bool = False
    since: int | None = None

    def after(self, kind: StepKind | None, words: Sequence[str] = ()) -> Standing:
        """How far it has come after work of a kind, in these words."""
        told = {*words}
        of_dough = kind is not StepKind.MIX or not told or _DOUGH_MIXED & told or _TIMES & told
        begun = kind in (StepKind.MIX, StepKind.BULK, StepKind.DIVIDE) and of_dough
        tinned = self.mixed and kind is not StepKind.PREPARE and _in_tins(words)
        return replace(
            self,
            mixed=self.mixed or bool(begun),
            shaped=self.shaped or kind is StepKind.DIVIDE or tinned,
            risen=self.risen or kind is StepKind.BULK,
            baked=self.baked or kind is StepKind.BAKE,
            heated=self.heated and kind is not StepKind.BAKE,
        )


@dataclass(frozen=True, slots=True)
class Timed:
    """A verb at a token; `guessed` is its word if it only says that something waits."""

    at: int
    verb: Verb
    guessed: str = ""


def _in_tins(words: Sequence[str]) -> bool:
    """Whether dough is put into what it is baked in: `tip into the tray`."""
    return any(
        word in _TINS and {"in", "into", "to"} & set(words[max(0, i - _FURTHEST_IN) : i])
        for i, word in enumerate(words)
    )


def verbs_in(words: Sentence, standing: Standing) -> list[Timed]:
    """The verbs of a sentence; one that only waits is settled by its time and what came before."""
    candidates = [
        i
        for i, word in enumerate(words.low)
        if (word in STEP_VERBS and _may_be_verb(words, i))
        or word in PLACES
        or (word in _EATING | _RACKS and standing.baked)
        or (standing.mixed and counts_pieces(words.low, i))
    ]
    found: list[Timed] = []
    begun = standing
    for n, i in enumerate(candidates):
        places = REFRIGERATORS | _RACKS
        others = (j for j in candidates[n + 1 :] if words.low[j] not in places)
        following = next(others, len(words.low))
        if counts_pieces(words.low, i):
            if not standing.shaped and all(one.verb.kind is not StepKind.DIVIDE for one in found):
                found.append(Timed(i, STEP_VERBS["ball"], words.low[i + 1]))
            continue
        verb = _verb(words, i, following, found, standing)
        if verb and standing.baked and words.low[i] in _EATING:
            verb = Verb(StepKind.COOL, weak=True, waits=True)
        if verb is None or (standing.baked and verb.weak and verb.kind in _OF_DOUGH):
            continue
        timed: Timed | None = Timed(i, verb)
        lengths = words.lengths(i, following)
        racked = standing.baked or _RACKS & set(words.low)
        if verb.kind is StepKind.COOL and lengths and not racked:
            timed = Timed(i, Verb(StepKind.PREPARE, waits=True), words.quoted(i, lengths[0]))
        if verb.vague or (words.low[i] in _PLACED and words.lengths(i, following)):
            tinned = standing.mixed and _in_tins(words.low[:following])
            placed = replace(standing, shaped=standing.shaped or tinned)
            timed = _settled(words, Timed(i, verb), following, found, placed)
        if timed:
            found.append(timed)
            standing = standing.after(None if timed.verb.weak else timed.verb.kind)
    if all(one.verb.weak and not one.verb.waits for one in found):
        found = [*_at_speed(words), *found]
    if not found:
        return []
    return list(_in_order([*found, *_unclaimed(words, found, begun)]))


def _may_be_verb(words: Sentence, i: int) -> bool:
    """Whether a word is a verb at any point of a recipe; `cool` in `a cool room` is none."""
    return any(verb_at(words.low, i, mixed=True, shaped=shaped) for shaped in (False, True))


def _in_order(found: Sequence[Timed]) -> Iterator[Timed]:
    """The verbs in order; what was guessed to wait cools if it is behind a bake."""
    baked = False
    for one in sorted(found, key=lambda one: one.at):
        if baked and one.guessed and one.verb.kind is not StepKind.BAKE:
            one = replace(one, verb=replace(one.verb, kind=StepKind.COOL))
        baked |= one.verb.kind is StepKind.BAKE and not one.verb.weak
        yield one


def _at_speed(words: Sentence) -> list[Timed]:
    """`4 min on first speed`: the verb of mixing that a speed stands for."""
    told = set(words.low) if words.times else set()
    beside = {word for time in words.times for word in words.low[time.end : time.end + 3]}
    return [Timed(0, Verb(StepKind.MIX))] if told & _MACHINE or beside & _SPEEDS else []


def _unclaimed(words: Sentence, said: Sequence[Timed], begun: Standing) -> Iterator[Timed]:
    """What takes a time that no verb does: `an hour somewhere warm, then shape, 20 minutes`."""
    found = list(said)
    reached = 0
    for time in words.lengths(0, len(words.low)):
        own = words.segment[time.start]
        beside = [one for one in found if words.segment[one.at] == own]
        before = sorted((one for one in found if one.at < time.start), key=lambda one: one.at)
        standing = begun
        for one in before:
            standing = standing.after(None if one.verb.weak else one.verb.kind)
        least = max(reached, before[-1].at + 1 if before else 0)
        reached = time.end
        if time.before or any(_takes_time(one) for one in beside):
            continue
        if _may_wait(words, time, before):
            inside = (i for i in range(least, time.start) if words.segment[i] == own)
            at = next((i for i in inside if i not in words.separators), time.start)
            found.append(_wait(words, at, time, standing, before))
            yield found[-1]


def _wait(
    words: Sentence, at: int, time: TimeSpan, standing: Standing, before: Sequence[Timed]
) -> Timed:
    since = before[-1].at if before else 0
    own = words.segment[time.start]
    led = {words.segment[one.at] for one in before}
    hot = [heat for heat in words.settings if heat.celsius >= LEAST_BAKE_C]
    alone = [h for h in hot if since <= h.start < time.start and words.segment[h.start] not in led]
    if any(words.segment[heat.start] == own for heat in hot):
        return Timed(at, Verb(StepKind.BAKE, waits=True))
    if alone or (standing.heated and standing.shaped):
        return Timed(at, Verb(StepKind.BAKE, waits=True), words.quoted(at, time))
    fresh = not standing.mixed and not standing.baked
    kind = StepKind.PREPARE if fresh else waiting_kind("", time.minutes, standing)
    return Timed(at, Verb(kind, waits=True), words.quoted(at, time))


def _takes_time(one: Timed) -> bool:
    return one.verb.waits or not (one.verb.weak or one.verb.kind in _UNTIMED)


def _may_wait(words: Sentence, time: TimeSpan, before: Sequence[Timed]) -> bool:
    """Whether a time cannot be that of the last verb before it."""
    if not before:
        return time.minutes >= _SHORT_MIN
    said = (one for one in reversed(before) if _takes_time(one) or one.verb.kind in _UNTIMED)
    last = next(said, None)
    if last is None:
        return False
    if last.verb.kind is StepKind.MIX:
        return time.minutes > _LONGEST_MIXING_MIN
    return last.verb.kind in _UNTIMED


def _verb(
    words: Sentence, i: int, following: int, before: Sequence[Timed], standing: Standing
) -> Verb | None:
    place = put_into(words.low, i)
    if place is None and words.low[i] not in STEP_VERBS:
        if words.low[i] in PLACES:
            return None
        return Verb(StepKind.COOL, weak=True, waits=True)
    if place is IN_OVEN:
        led = any(words.segment[one.at] == words.segment[i] and not one.verb.weak for one in before)
        return place if words.lengths(i, following) and not led else None
    if place:
        beside = [one.verb for one in before if words.segment[one.at] == words.segment[i]]
        light = all(verb.weak and not verb.waits for verb in beside)
        dough = standing.mixed and not standing.baked
        return place if light and (dough or words.lengths(0, following)) else None
    back = range(i - 1, max(-1, i - 1 - _FURTHEST_SUBORDINATE), -1)
    same = [j for j in back if words.segment[j] == words.segment[i]]
    under = next((j for j in same if words.low[j] in _SUBORDINATORS), None)
    if under is not None and not words.is_filled(i, following) and not words.is_filled(under, i):
        return None
    proves = standing.risen and words.low[i].startswith("pro")
    return verb_at(words.low, i, mixed=standing.mixed, shaped=standing.shaped or proves)


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
    if not lengths and word in REFRIGERATORS:
        dough = standing.mixed and not standing.baked
        kind = StepKind.PROOF if standing.shaped else StepKind.BULK
        return replace(timed, verb=Verb(kind, waits=True)) if dough else None
    if not lengths:
        if word in _ONLY_TIMED:
            return None
        kind = StepKind.COOL if standing.baked else timed.verb.kind
        return replace(timed, verb=replace(timed.verb, kind=kind, waits=True))
    minutes = max(time.minutes for time in lengths)
    said = words.quoted(timed.at, lengths[0])
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
    if any(heat.celsius >= LEAST_BAKE_C and words.segment[heat.start] == words.segment[timed.at]
           for heat in words.settings):  # fmt: skip
        return Timed(timed.at, Verb(StepKind.BAKE, waits=True), said)
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
