"""The method as steps: what kind each is, how long it takes and how hot it is."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from recipes.core.choices import RISING_KINDS, WORKED_KINDS, StepKind, TemperatureOf
from recipes.core.written import WrittenStep
from recipes.importing import doubts
from recipes.importing.doubts import Doubt
from recipes.importing.method.manner import NAMED_WAYS, temperature_of, ways_said, worked_as
from recipes.importing.method.times import COLDEST_C, HOTTEST_C, Heat, TimeSpan, temperatures, times
from recipes.importing.method.verbs import CORE_WORDS, STEP_VERBS, WAITING_KINDS, Verb, verb_at
from recipes.importing.text.tokens import Token, line_text, text_of, tokenize
from recipes.importing.values import Place

LONGEST_STEP = 600
MOST_HANDS_ON_MIN = 1440
MOST_WAITING_MIN = 10080
_LEAST_NIGHT_MIN = 300

_SENTENCE_END = re.compile(r"[.!?][\"')]?\s+(?=[^\W\d_]|[0-9(\"'])")
_ABBREVIATIONS = {"approx", "e.g", "i.e", "eg", "ie", "no", "ca", "approximately", "vs", "fl"}
_OFTEN_ABBREVIATED = {"min", "mins", "hr", "hrs", "tbsp", "tsp", "oz", "deg", "lb", "in"}


# Each time a sentence joins a step, these are told again.
_TOLD_ANEW = (doubts.MoreTemperatures, doubts.TemperatureOfWhat, doubts.WorkedTwoWays)

_Degrees = tuple[Decimal, TemperatureOf | None]


@dataclass
class Method:
    """The steps read so far, and the temperatures that concern the whole recipe.

    Beside each step stand its `doubts`, in `ways` what its words say of how it is worked, and in
    `places` where it stands in the source.
    """

    steps: list[WrittenStep] = field(default_factory=list)
    doubts: list[tuple[Doubt, ...]] = field(default_factory=list)
    ways: list[frozenset[str]] = field(default_factory=list)
    places: list[Place | None] = field(default_factory=list)
    dough_temperature_c: Decimal | None = None
    core_temperature_c: Decimal | None = None
    shaped: bool = False


@dataclass(frozen=True, slots=True)
class _Sentence:
    """One sentence: its kind by its verbs, None when none tells, and what it holds.

    A heat is degrees Celsius and what they are of.
    """

    text: str
    kind: StepKind | None
    hands_on_min: int
    waiting_min: int
    heats: tuple[_Degrees, ...]
    ways: frozenset[str]
    doubts: tuple[Doubt, ...]


def sentences(text: str) -> Iterator[str]:
    """The sentences of a cleaned text; abbreviations do not end one."""
    start = 0
    for found in _SENTENCE_END.finditer(text):
        word = text[max(start, found.start() - 15) : found.start()].rpartition(" ")[2].lower()
        capital = text[found.end()].isupper()
        if word in _ABBREVIATIONS or (word in _OFTEN_ABBREVIATED and not capital):
            continue
        yield text[start : found.end()].strip()
        start = found.end()
    if text[start:].strip():
        yield text[start:].strip()


def pieces_of(text: str, most: int = LONGEST_STEP) -> Iterator[str]:
    """A text cut between words into pieces of at most `most` characters; nothing is lost."""
    while len(text) > most:
        at = text.rfind(" ", 1, most + 1)
        at = at if at > 0 else most
        yield text[:at].strip()
        text = text[at:].strip()
    if text:
        yield text


def placed(method: Method, place: Place) -> bool:
    """Say that the steps without a place stand there; False when all have one."""
    new = len(method.steps) - len(method.places)
    method.places += [place] * new
    return new > 0


def read_paragraph(method: Method, text: str) -> None:
    """Add the steps of one paragraph: a new one wherever another kind of work begins."""
    begun = len(method.steps)
    for sentence in sentences(line_text(text)):
        for n, piece in enumerate(pieces_of(sentence)):
            read = _sentence(piece, method)
            last = method.steps[-1] if len(method.steps) > begun else None
            _add(method, read, joins=bool(last and n == 0 and _belongs(last, read)))
            method.shaped = method.shaped or read.kind is StepKind.DIVIDE


def read_step(method: Method, text: str) -> None:
    """Add a text that its source calls one step; only one that is too long is divided."""
    begun = len(method.steps)
    for sentence in sentences(line_text(text)):
        for piece in pieces_of(sentence):
            read = _sentence(piece, method)
            last = method.steps[-1] if len(method.steps) > begun else None
            fits = bool(last and len(last.text) + len(piece) < LONGEST_STEP)
            _add(method, read, joins=fits)
            method.shaped = method.shaped or read.kind is StepKind.DIVIDE


def _belongs(step: WrittenStep, read: _Sentence) -> bool:
    if len(step.text) + len(read.text) >= LONGEST_STEP:
        return False
    return read.kind in (None, step.kind)


def _add(method: Method, read: _Sentence, *, joins: bool) -> None:
    """Put a sentence into the last step, or into one of its own."""
    if not joins:
        method.steps.append(WrittenStep(read.kind or StepKind.PREPARE, ""))
        method.doubts.append(())
        method.ways.append(frozenset())
    method.ways[-1] |= read.ways
    step = method.steps[-1]
    heats = read.heats
    if step.temperature_c is not None:
        heats = ((step.temperature_c, step.temperature_of), *heats)
    method.doubts[-1] = _doubts(method, read, heats)
    method.steps[-1] = _joined(step, read, heats[0] if heats else None, method.ways[-1])


def _joined(
    step: WrittenStep, read: _Sentence, heat: _Degrees | None, ways: frozenset[str]
) -> WrittenStep:
    """A step with one more sentence; times add up, the first temperature stays."""
    hands_on, waiting = step.hands_on_min + read.hands_on_min, step.waiting_min + read.waiting_min
    celsius, of = heat or (None, None)
    if celsius is not None and of is None and step.kind is StepKind.BAKE:
        of = TemperatureOf.OVEN
    return replace(
        step,
        text=f"{step.text} {read.text}".strip(),
        hands_on_min=hands_on if hands_on <= MOST_HANDS_ON_MIN else step.hands_on_min,
        waiting_min=waiting if waiting <= MOST_WAITING_MIN else step.waiting_min,
        temperature_c=celsius,
        temperature_of=of,
        worked=worked_as(step.kind, ways),
    )


def _doubts(method: Method, read: _Sentence, heats: tuple[_Degrees, ...]) -> tuple[Doubt, ...]:
    """What is unsure of the last step with one more sentence in it."""
    step, before, ways = method.steps[-1], method.doubts[-1], method.ways[-1]
    told = [doubt for doubt in before if not isinstance(doubt, _TOLD_ANEW)]
    earlier = [doubt.celsius for doubt in before if isinstance(doubt, doubts.MoreTemperatures)]
    further = tuple(heat for some in earlier for heat in some)
    further += tuple(celsius for celsius, _ in heats[1:])
    told += read.doubts
    if further:
        told.append(doubts.MoreTemperatures(further))
    if heats and heats[0][1] is None and step.kind in RISING_KINDS:
        told.append(doubts.TemperatureOfWhat())
    if step.kind in WORKED_KINDS and len(ways & NAMED_WAYS) > 1:
        told.append(doubts.WorkedTwoWays())
    for minutes, most in (
        (step.hands_on_min + read.hands_on_min, MOST_HANDS_ON_MIN),
        (step.waiting_min + read.waiting_min, MOST_WAITING_MIN),
    ):
        if minutes > most:
            told.append(doubts.TimeTooLong(minutes))
    return tuple(told)


def _sentence(text: str, method: Method) -> _Sentence:
    tokens = tokenize(text)
    verbs = _verbs(tokens, method)
    kind = _kind(verbs)
    hands_on, waiting, unsure = _minutes(tokens, verbs, kind)
    heats, told = _heats(tokens, kind, method)
    return _Sentence(text, kind, hands_on, waiting, heats, ways_said(tokens), (*unsure, *told))


def _verbs(tokens: Sequence[Token], method: Method) -> list[tuple[int, Verb]]:
    """The verbs of a sentence with their positions; `shaped` turns a rise into a proof."""
    found: list[tuple[int, Verb]] = []
    shaped = method.shaped
    words = [token.low for token in tokens]
    for i, token in enumerate(tokens):
        if token.low in STEP_VERBS:
            verb = verb_at(words, i, shaped=shaped)
            if verb:
                found.append((i, verb))
                shaped = shaped or verb.kind is StepKind.DIVIDE
    return found


def _kind(verbs: Sequence[tuple[int, Verb]]) -> StepKind | None:
    """The kind of the first verb that says much, else of the first that says anything."""
    strong = (verb.kind for _, verb in verbs if not verb.weak)
    return next(strong, verbs[0][1].kind if verbs else None)


def _minutes(
    tokens: Sequence[Token], verbs: Sequence[tuple[int, Verb]], kind: StepKind | None
) -> tuple[int, int, list[Doubt]]:
    """Hands-on and waiting minutes: each time goes to the verb before it."""
    hands_on = waiting = 0
    told: list[Doubt] = []
    last_end = -1
    for time in _without_overnight(list(times(tokens))):
        if isinstance(time, Doubt):
            told.append(time)
            continue
        verb = _timed(verbs, time.start)
        other = last_end >= 0 and any(t.low == "or" for t in tokens[last_end : time.start])
        if other or (time.before and not (verb and verb.waits and not verb.weak)):
            told.append(doubts.TimeNotCounted(text_of(tokens[time.start : time.end])))
            continue
        last_end = time.end
        told += time.doubts
        waits = verb.waits if verb else kind in WAITING_KINDS
        hands_on += 0 if waits else time.minutes
        waiting += time.minutes if waits else 0
    return hands_on, waiting, told


def _without_overnight(found: list[TimeSpan | Doubt]) -> list[TimeSpan | Doubt]:
    """The times without an `overnight` that the sentence also gives in hours."""
    spans = [item for item in found if isinstance(item, TimeSpan)]
    given = [span for span in spans if not _is_vague(span) and span.minutes >= _LEAST_NIGHT_MIN]
    if len(spans) != len(given) + 1 or len(given) != 1:
        return found
    return [item for item in found if isinstance(item, Doubt) or not _is_vague(item)]


def _is_vague(span: TimeSpan) -> bool:
    return any(isinstance(doubt, doubts.TimeVague) for doubt in span.doubts)


def _timed(verbs: Sequence[tuple[int, Verb]], start: int) -> Verb | None:
    """The verb that a time belongs to: the last one before it that can take time."""
    before = (verb for at, verb in reversed(verbs) if at < start)
    return next((verb for verb in before if verb.waits or not verb.weak), None)


def _heats(
    tokens: Sequence[Token], kind: StepKind | None, method: Method
) -> tuple[tuple[_Degrees, ...], list[Doubt]]:
    """Temperatures of the step; those of the core or the whole dough go to the recipe."""
    words = {token.low for token in tokens}
    heats: list[_Degrees] = []
    told: list[Doubt] = []
    for temperature in temperatures(tokens):
        if isinstance(temperature, Doubt):
            told.append(temperature)
        elif not COLDEST_C <= temperature.celsius <= HOTTEST_C:
            told.append(doubts.TemperatureOutOfRange(temperature.celsius))
        elif not _is_recipes_own(tokens, temperature, words, method):
            told += temperature.doubts
            heats.append((temperature.celsius, temperature_of(tokens, temperature, kind)))
    return tuple(heats), told


def _is_recipes_own(
    tokens: Sequence[Token], heat: Heat, words: Iterable[str], method: Method
) -> bool:
    """Whether a temperature is that of the core or of the mixed dough, and keep it then."""
    near = {token.low for token in tokens[max(0, heat.start - 8) : heat.end + 6]}
    if near & CORE_WORDS and heat.celsius <= 110:
        method.core_temperature_c = method.core_temperature_c or heat.celsius
        return True
    if {"dough", "temperature"} <= near and heat.celsius <= 40:
        method.dough_temperature_c = method.dough_temperature_c or heat.celsius
        return True
    return False
