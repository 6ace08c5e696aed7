"""A step while its sentences are still being read: what they add up to, and its doubts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from itertools import takewhile

from recipes.core.choices import RISING_KINDS, WORKED_KINDS, StepKind, TemperatureOf
from recipes.core.written import WrittenStep
from recipes.importing.doubts import Doubt
from recipes.importing.method import unsure
from recipes.importing.method.heats import LEAST_BAKE_C, LEAST_OVEN_C
from recipes.importing.method.manner import NAMED_WAYS, worked_as

MOST_HANDS_ON_MIN = 1440
MOST_WAITING_MIN = 10080
_ALWAYS_WAITS = {StepKind.BULK, StepKind.PROOF, StepKind.REST}
_LEAST_AHEAD_MIN = 240
_LONG_WORK_MIN = 40
_FOLDS = {"fold", "fold,", "fold.", "folding", "folds"}
_LONGEST_HEADING, _LEAST_METHOD = 3, 2
_MOST_QUOTED = 6
_INTO_PIECES = {"into", "each", "up", "pieces", "tin", "tins", "balls", "rolls"}
_LEAST_RISE_MIN, _LEAST_PROOF_MIN, _LONGEST_REST_MIN = 20, 15, 40

Degrees = tuple[Decimal, TemperatureOf | None]
Built = tuple[WrittenStep, tuple[Doubt, ...]]


@dataclass(frozen=True, slots=True)
class Spent:
    """Minutes that a sentence gives, and whether the dough waits or hands are busy."""

    minutes: int
    waits: bool


@dataclass
class Draft:
    """A step of some sentences; `named` if a verb says its kind, `begins` by the clock.

    `sheeted` if dough is rolled out flat in it and no verb divides or shapes.
    `oven` is the oven's setting in it, until a bake takes that.
    """

    kind: StepKind
    texts: list[str] = field(default_factory=list)
    spent: list[Spent] = field(default_factory=list)
    heats: list[Degrees] = field(default_factory=list)
    ways: frozenset[str] = frozenset()
    doubts: list[Doubt] = field(default_factory=list)
    length: int = 0
    named: bool = False
    sheeted: bool = False
    within_mix: bool = False
    begins: int | None = None
    oven: tuple[Decimal, tuple[Doubt, ...]] | None = None

    @property
    def only_heats(self) -> bool:
        """Whether it only heats the oven."""
        return self.kind is StepKind.PREPARE and self.oven is not None and len(self.texts) == 1

    @property
    def is_heading(self) -> bool:
        """Whether it is only a name of work, such as `Final proof`, whose time may follow."""
        short = self.named and len(self.texts) == 1 and len(self.text.split()) <= _LONGEST_HEADING
        plain = not self.text.endswith((".", "!")) and not any(sign.isdigit() for sign in self.text)
        return short and plain and not self.spent and not self.heats

    @property
    def is_guessed(self) -> bool:
        return any(isinstance(doubt, unsure.KindGuessed) for doubt in self.doubts)

    @property
    def text(self) -> str:
        return " ".join(self.texts)

    def minutes(self, *, waits: bool) -> int:
        return sum(one.minutes for one in self.spent if one.waits is waits)

    def built(self) -> Built:
        """The step, and the doubts about it."""
        hands_on, waiting = self.minutes(waits=False), self.minutes(waits=True)
        heats = self._said()
        celsius, of = heats[0] if heats else (None, None)
        if celsius is not None and of is None and self.kind is StepKind.BAKE:
            of = TemperatureOf.OVEN
        step = WrittenStep(
            self.kind,
            self.text,
            hands_on if hands_on <= MOST_HANDS_ON_MIN else 0,
            waiting if waiting <= MOST_WAITING_MIN else 0,
            celsius,
            of,
            worked_as(self.kind, self.ways),
        )
        return step, tuple(dict.fromkeys([*self.doubts, *self._doubts(step, hands_on, waiting)]))

    def _is_vague(self) -> bool:
        """Whether no verb says the kind of a step that a class waits for or works in."""
        if self.kind is StepKind.DIVIDE:
            words = set(self.text.lower().replace(",", " ").split())
            return not (_INTO_PIECES & words or any(word.isdigit() for word in words))
        return bool(self.spent) or self.kind in (StepKind.SCORE, StepKind.BAKE)

    def _said(self) -> list[Degrees]:
        """The temperatures of the step, with that of an oven which no bake took."""
        oven = self.oven if self.kind is StepKind.PREPARE else None
        return [*self.heats, *([(oven[0], TemperatureOf.OVEN)] if oven else [])]

    def _doubts(self, step: WrittenStep, hands_on: int, waiting: int) -> list[Doubt]:
        told: list[Doubt] = []
        if self.oven:
            told += self.oven[1]
            if self.kind is not StepKind.PREPARE:
                told.append(unsure.MoreTemperatures((self.oven[0],)))
        if hands_on and waiting:
            told.append(unsure.WorkAndWait(hands_on, waiting))
        if _is_unusual(step):
            told.append(unsure.UnusualHeat(step.temperature_c or Decimal(0)))
        if further := tuple(celsius for celsius, _ in self._said()[1:]):
            told.append(unsure.MoreTemperatures(further))
        if step.temperature_c is not None and not step.temperature_of and step.kind in RISING_KINDS:
            told.append(unsure.TemperatureOfWhat())
        if step.kind in WORKED_KINDS and len(self.ways & NAMED_WAYS) > 1:
            told.append(unsure.WorkedTwoWays())
        for waits, total, most in (
            (False, hands_on, MOST_HANDS_ON_MIN),
            (True, waiting, MOST_WAITING_MIN),
        ):
            added = tuple(one.minutes for one in self.spent if one.waits is waits)
            if total > most:
                told.append(unsure.TimeTooLong(total))
            if len(added) > 1:
                told.append(unsure.TimesAdded(added))
        if not self.named and not self.is_guessed and self._is_vague():
            told.append(unsure.KindGuessed(" ".join(self.text.split()[:_MOST_QUOTED])))
        if hands_on >= _LONG_WORK_MIN:
            told.append(unsure.LongWork(hands_on))
        waits = self.kind is StepKind.BAKE or (self.named and self.kind in _ALWAYS_WAITS)
        if waits and not self.spent:
            told.append(unsure.NoTime())
        if step.kind is StepKind.BAKE and step.temperature_c is None:
            told.append(unsure.NoOvenTemperature())
        return told


def _is_unusual(step: WrittenStep) -> bool:
    celsius = step.temperature_c
    if celsius is None or step.kind is StepKind.PREPARE:
        return False
    return celsius < LEAST_BAKE_C if step.kind is StepKind.BAKE else celsius >= LEAST_OVEN_C


def settled(drafts: Sequence[Draft]) -> list[Draft]:
    """The steps, corrected in the light of the whole method.

    What stands for hours before the dough is mixed is a preferment, made ahead. A dough that only
    rests before it is divided is rising.
    """
    last_mix = max(
        (n for n, one in enumerate(drafts) if one.kind is StepKind.MIX and one.named), default=-1
    )
    ahead = max((n for n in range(last_mix) if _ripens(drafts, n)), default=-1)
    rising = _with_rise([_made_ahead(one) for one in drafts[: ahead + 1]] + [*drafts[ahead + 1 :]])
    return _unshaped(_unproved(_with_proof(_sheeted(rising))))


def _sheeted(drafts: list[Draft]) -> list[Draft]:
    """The steps; dough only rolled out, to be folded, cut or shaped, is made ready for that."""
    for n, one in enumerate(drafts):
        behind = takewhile(lambda other: not other.minutes(waits=True), drafts[n + 1 :])
        cut = any(other.kind is StepKind.DIVIDE and not other.sheeted for other in behind)
        turned = bool(_FOLDS & set(one.text.split()))
        if one.kind is StepKind.DIVIDE and one.sheeted and (cut or turned):
            drafts[n] = replace(one, kind=StepKind.PREPARE)
    return drafts


def _with_proof(drafts: list[Draft]) -> list[Draft]:
    """The steps; of the waits that were guessed, the last before a bake is the proof.

    One between two shapings is a rest.
    """
    kinds = [one.kind for one in drafts]
    for n, one in enumerate(drafts):
        if kinds[n] not in (StepKind.REST, StepKind.PROOF) or not one.is_guessed:
            continue
        behind = list(takewhile(lambda kind: kind is not StepKind.BAKE, kinds[n + 1 :]))
        baked = len(behind) < len(kinds) - n - 1
        shaped = StepKind.DIVIDE in kinds[:n]
        if StepKind.DIVIDE in behind and one.minutes(waits=True) <= _LONGEST_REST_MIN:
            drafts[n] = replace(one, kind=StepKind.REST)
        elif shaped and baked and not {StepKind.DIVIDE, *RISING_KINDS} & set(behind):
            least = one.minutes(waits=True) >= _LEAST_PROOF_MIN
            drafts[n] = replace(one, kind=StepKind.PROOF) if least else one
    return drafts


def _unshaped(drafts: list[Draft]) -> list[Draft]:
    """The steps, with a doubt on the last rise, else the bake or the end, if none shapes dough."""
    kinds = [one.kind for one in drafts]
    rises = [n for n, kind in enumerate(kinds) if kind in RISING_KINDS]
    if StepKind.DIVIDE in kinds or len(kinds) <= _LEAST_METHOD:
        return drafts
    last = kinds.index(StepKind.BAKE) if StepKind.BAKE in kinds else -1
    at = rises[-1] if rises else last
    drafts[at] = replace(drafts[at], doubts=[*drafts[at].doubts, unsure.NoShaping()])
    return drafts


def _unproved(drafts: list[Draft]) -> list[Draft]:
    """The steps; a rise called the second is a bulk rise if the dough is shaped only after it."""
    kinds = [one.kind for one in drafts]
    first = kinds.index(StepKind.DIVIDE) if StepKind.DIVIDE in kinds else 0
    for n, one in enumerate(drafts[:first]):
        if one.kind is StepKind.PROOF:
            told = [*one.doubts, unsure.KindGuessed(" ".join(one.text.split()[:_MOST_QUOTED]))]
            drafts[n] = replace(one, kind=StepKind.BULK, doubts=told)
    return drafts


def _made_ahead(draft: Draft) -> Draft:
    if draft.kind is StepKind.PREPARE:
        return draft
    minutes = draft.minutes(waits=True) or draft.minutes(waits=False)
    told = [unsure.AheadAssumed(minutes)] if draft.spent else []
    return replace(draft, kind=StepKind.PREPARE, doubts=[*draft.doubts, *told])


def _ripens(drafts: Sequence[Draft], n: int) -> bool:
    one = drafts[n]
    waits = one.kind in (StepKind.BULK, StepKind.REST, StepKind.PREPARE)
    before = {draft.kind for draft in drafts[:n]}
    own_dough = before & {StepKind.DIVIDE, StepKind.PROOF, StepKind.BAKE}
    return waits and not own_dough and one.minutes(waits=True) >= _LEAST_AHEAD_MIN


def _with_rise(drafts: list[Draft]) -> list[Draft]:
    shaped = next((n for n, one in enumerate(drafts) if one.kind is StepKind.DIVIDE), 0)
    for n, one in enumerate(drafts[:shaped]):
        if one.kind is StepKind.REST and not one.within_mix and _FOLDS & set(one.text.split()):
            told = [*one.doubts, unsure.KindGuessed("fold")]
            drafts[n] = replace(one, kind=StepKind.BULK, doubts=told)
    kinds = [one.kind for one in drafts]
    if StepKind.BULK in kinds or StepKind.DIVIDE not in kinds:
        return drafts
    first = kinds.index(StepKind.DIVIDE)
    rests = [
        n
        for n in range(first)
        if kinds[n] is StepKind.REST
        and drafts[n].minutes(waits=True) >= _LEAST_RISE_MIN
        and not drafts[n].heats
    ]
    if not rests or StepKind.MIX in kinds[rests[-1] : first] or drafts[rests[-1]].within_mix:
        return drafts
    told = [*drafts[rests[-1]].doubts, unsure.KindGuessed("rest")]
    drafts[rests[-1]] = replace(drafts[rests[-1]], kind=StepKind.BULK, doubts=told)
    return drafts
