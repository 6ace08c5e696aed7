"""The hands-on and waiting minutes that a clause gives."""

from __future__ import annotations

from collections.abc import Sequence

from recipes.core.choices import RISING_KINDS, StepKind
from recipes.importing.doubts import Doubt
from recipes.importing.method import unsure
from recipes.importing.method.clauses import Clause
from recipes.importing.method.drafts import Spent
from recipes.importing.method.lengths import NoLength, TimeSpan
from recipes.importing.method.times import LESS
from recipes.importing.method.verbs import WAITING_KINDS
from recipes.importing.text.tokens import text_of

_LEAST_NIGHT_MIN = 300
# Nobody works this long on dough without a word that says so.
_LONGEST_WORK_MIN = 30


def spent_in(clause: Clause, kind: StepKind | None) -> tuple[list[Spent], list[Doubt]]:
    """Hands-on and waiting minutes: each time goes to the verb before it."""
    found: list[Spent] = []
    told: list[Doubt] = []
    last_end = -1
    preheats = kind is StepKind.PREPARE and any(t.low == "oven" for t in clause.tokens)
    folds: list[Doubt] = []
    for time in _without_overnight(clause.times):
        if isinstance(time, NoLength):
            first = clause.tokens[time.start - 1].low == "first"
            less = {t.low for t in clause.tokens[time.end : time.end + 1]} & LESS
            cools = kind is StepKind.COOL and not clause.heats and not less
            if cools and (length := time.length):
                found.append(Spent(length, waits=True))
                told.append(time.doubt)
            elif first and kind is StepKind.BAKE and time.point and len(clause.times) == 1:
                found.append(Spent(time.point, waits=True))
                told.append(time.doubt)
            else:
                (folds if time.of_folds else told).append(time.doubt)
            continue
        waits, weak = _waits(clause, time, kind)
        between = {t.low for t in clause.tokens[last_end : time.start]} if last_end >= 0 else set()
        other = bool({"or", "(", "up"} & between) or (bool(found) and waits and time.low < 1)
        early = time.before and (weak or not waits) and kind is not StepKind.COOL
        if other or preheats or early:
            told.append(unsure.TimeNotCounted(text_of(clause.tokens[time.start : time.end])))
            continue
        last_end = time.end
        told += time.doubts
        found.append(Spent(time.minutes, waits))
    return found, [*told, *([] if found and kind in RISING_KINDS else folds)]


def _waits(clause: Clause, time: TimeSpan, kind: StepKind | None) -> tuple[bool, bool]:
    """Whether a time is one of waiting, by the verb before it, and whether none says so."""
    before = (one.verb for one in reversed(clause.verbs) if one.at < time.start)
    verb = next((verb for verb in before if verb.waits or not verb.weak), None)
    behind = (one.verb for one in clause.verbs if one.at >= time.end)
    verb = verb or next((one for one in behind if one.waits), None)
    if verb is None:
        unnamed = not clause.verbs and time.minutes >= _LONGEST_WORK_MIN
        return kind in WAITING_KINDS or unnamed, True
    return verb.waits, verb.weak


def _without_overnight(found: Sequence[TimeSpan | NoLength]) -> Sequence[TimeSpan | NoLength]:
    """The times without an `overnight` that the sentence also gives in hours."""
    spans = [item for item in found if isinstance(item, TimeSpan)]
    given = [span for span in spans if not _is_vague(span) and span.minutes >= _LEAST_NIGHT_MIN]
    if len(spans) != len(given) + 1 or len(given) != 1:
        return found
    return [item for item in found if isinstance(item, NoLength) or not _is_vague(item)]


def _is_vague(span: TimeSpan) -> bool:
    return any(isinstance(doubt, unsure.TimeVague) for doubt in span.doubts)
