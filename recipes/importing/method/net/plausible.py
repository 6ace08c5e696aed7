"""Finished steps that are unusual in time or order: each becomes a doubt.

The bounds are wide, from common practice: what lies outside of them is more often misread than
meant.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from recipes.core.choices import RISING_KINDS, StepKind
from recipes.importing.doubts import Doubt
from recipes.importing.method import unsure
from recipes.importing.method.drafts import Draft
from recipes.importing.text.tokens import tokenize
from recipes.importing.text.words import word_set

_DAY_MIN = 1440
_USUAL_WAIT_MIN = {
    StepKind.BULK: (15, _DAY_MIN * 3),
    StepKind.PROOF: (10, _DAY_MIN * 2),
    StepKind.REST: (2, 180),
    StepKind.BAKE: (2, 240),
    StepKind.COOL: (2, _DAY_MIN),
}
_LONGEST_WARM_RISE_MIN, _WARM_C = 1080, Decimal(15)
_HOTTEST_RISE_C = Decimal(45)
_WAITS = RISING_KINDS | {StepKind.REST, StepKind.PREPARE}
_COLD = word_set("fridge refrigerator refrigerate chill retard retarder cold cool cellar")
_WORKED = word_set("fold folds folded folding knock punch turn turns stretch deflate degas")
# Two steps are a note, not a method that can be out of order.
_LEAST_STEPS = 2
_AGAIN = word_set("second other another next remaining rest batch batches turn over flip")


def plausible(drafts: Sequence[Draft]) -> list[Draft]:
    """The steps, with doubts on those that are unusual in time, temperature or order."""
    found = []
    for n, one in enumerate(drafts):
        told = [*_of_figures(one), *_of_order(drafts, n), *_of_missing(drafts, n)]
        found.append(replace(one, doubts=[*one.doubts, *told]) if told else one)
    return found


def _of_figures(one: Draft) -> Iterator[Doubt]:
    waits = one.minutes(waits=True)
    least, most = _USUAL_WAIT_MIN.get(one.kind, (0, waits))
    degrees = one.heats[0][0] if one.heats else None
    warm = degrees is None or degrees >= _WARM_C
    if one.kind in RISING_KINDS and warm and not _COLD & _words(one):
        most = _LONGEST_WARM_RISE_MIN
    if waits and not least <= waits <= most:
        yield unsure.UnusualTime(waits)
    if one.kind in RISING_KINDS and degrees is not None and degrees > _HOTTEST_RISE_C:
        yield unsure.UnusualHeat(degrees)


def _of_order(drafts: Sequence[Draft], n: int) -> Iterator[Doubt]:
    """A doubt about a step that is unusual behind or before the others."""
    one, kinds = drafts[n], [draft.kind for draft in drafts]
    before, behind = kinds[:n], kinds[n + 1 :]
    last = before[-1] if before else None
    cold = bool(_COLD & _words(one)) or (n and bool(_COLD & _words(drafts[n - 1])))
    if one.kind is StepKind.BAKE:
        odd = len(kinds) > _LEAST_STEPS and not _WAITS & {*before}
        odd |= last is StepKind.COOL and not _AGAIN & _words(one)
    elif one.kind is StepKind.DIVIDE:
        odd = last in (StepKind.DIVIDE, StepKind.PROOF) or StepKind.BAKE in before
    elif one.kind in RISING_KINDS:
        worked = bool(_WORKED & (_words(one) | (_words(drafts[n - 1]) if n else set())))
        odd = StepKind.BAKE in before or (last is one.kind and not (worked or cold))
    elif one.kind is StepKind.SCORE:
        odd = StepKind.BAKE not in behind or StepKind.BAKE in before
    elif one.kind is StepKind.COOL:
        odd = StepKind.BAKE not in before
    else:
        odd = one.kind is StepKind.REST and _is_last_wait(kinds, n)
    if odd:
        yield unsure.UnusualOrder()


def _is_last_wait(kinds: Sequence[StepKind], n: int) -> bool:
    """Whether shaped dough only rests before it is baked."""
    behind = kinds[n + 1 :]
    upto = behind[: behind.index(StepKind.BAKE)] if StepKind.BAKE in behind else None
    return (
        upto is not None
        and StepKind.DIVIDE in kinds[:n]
        and not {*upto} & {*RISING_KINDS, StepKind.DIVIDE}
    )


def _of_missing(drafts: Sequence[Draft], n: int) -> Iterator[Doubt]:
    """Doubts on the first and last step if no step mixes or bakes, and on a rest if none divides.

    Risen dough rests only because it was divided.
    """
    one, kinds = drafts[n], {draft.kind for draft in drafts}
    if n == 0 and len(drafts) > 1 and StepKind.MIX not in kinds:
        yield unsure.NoStepOf(StepKind.MIX.value)
    if n == len(drafts) - 1 and (n or one.kind is StepKind.PREPARE) and StepKind.BAKE not in kinds:
        yield unsure.NoStepOf(StepKind.BAKE.value)
    undivided = StepKind.DIVIDE not in [draft.kind for draft in drafts[:n]]
    if n and one.kind is StepKind.REST and drafts[n - 1].kind is StepKind.BULK and undivided:
        yield unsure.NoStepOf(StepKind.DIVIDE.value)


def _words(draft: Draft) -> set[str]:
    return {token.low for token in tokenize(draft.text)}
