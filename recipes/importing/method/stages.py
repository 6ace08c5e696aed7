"""The stages of a bake within a sentence: each has its own time, temperature or both."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from recipes.importing.method.heats import Heat
from recipes.importing.method.lengths import NoLength, TimeSpan
from recipes.importing.method.sentences import Sentence
from recipes.importing.text.words import word_set

_TURNED = word_set("""turn turned turning down reduce reduced reducing lower lowered lowering drop
    dropped dropping drops fall falling falls decrease decreased""")  # fmt: skip
_FURTHEST_TURNED = 6


@dataclass
class Stage:
    """What one stage of a bake says, from token `start` on."""

    start: int
    times: list[TimeSpan | NoLength] = field(default_factory=list)
    heats: list[Heat] = field(default_factory=list)

    @property
    def is_spent(self) -> bool:
        return any(isinstance(time, TimeSpan) for time in self.times)

    @property
    def is_timed(self) -> bool:
        return any(isinstance(t, TimeSpan) or t.point for t in self.times)


def stages(words: Sentence, start: int, end: int, *, heated: bool) -> list[Stage]:
    """The stages of a bake between two tokens; `heated` if the oven is hot before it begins."""
    times = [t for t in words.times if start <= t.start < end]
    heats = [h for h in words.settings if start <= h.start < end]
    items = sorted([*times, *heats], key=lambda one: one.start)
    found = [Stage(start)]
    for n, item in enumerate(items):
        if _begins_another(words, found[-1], items, n, heated=heated):
            found.append(Stage(_between(words, items[n - 1].end, item.start) if n else item.start))
        if isinstance(item, Heat):
            found[-1].heats.append(item)
        else:
            found[-1].times.append(item)
    return _shared_out(words, found, heats, times)


def _begins_another(
    words: Sentence, stage: Stage, items: Sequence[TimeSpan | NoLength | Heat], n: int, *,
    heated: bool,
) -> bool:  # fmt: skip
    item = items[n]
    if isinstance(item, Heat):
        if _is_turned(words, item, stage):
            return bool(stage.heats or (stage.is_spent and heated))
        return bool(stage.heats and stage.is_timed)
    behind = items[n + 1] if n + 1 < len(items) else None
    told = isinstance(behind, Heat) and words.segment[behind.start] == words.segment[item.start]
    if told and isinstance(item, NoLength):
        return bool(item.point and stage.heats)
    own = told and not (isinstance(behind, Heat) and _is_turned(words, behind, stage))
    return own and stage.is_timed and bool(stage.heats or heated)


def _is_turned(words: Sentence, heat: Heat, stage: Stage) -> bool:
    """Whether the oven is turned to a temperature: `drop to 190 °C`."""
    least = max(stage.start, heat.start - _FURTHEST_TURNED)
    return bool(_TURNED & set(words.low[least : heat.start]))


def _shared_out(
    words: Sentence, found: list[Stage], heats: Sequence[Heat],
    times: Sequence[TimeSpan | NoLength],
) -> list[Stage]:  # fmt: skip
    """`250/230, 20 + 20 min`: temperatures before as many times belong to them in order."""
    spans = [time for time in times if isinstance(time, TimeSpan)]
    if len(heats) < 2 or len(heats) != len(spans) or heats[-1].start > spans[0].start:
        return found
    starts = [found[0].start, *(_between(words, a.end, b.start) for a, b in pairwise(spans))]
    return [Stage(at, [time], [heat]) for at, time, heat in zip(starts, spans, heats, strict=True)]


def _between(words: Sentence, least: int, most: int) -> int:
    """The first comma or `and` between two tokens, else the second of them."""
    return next((i for i in words.separators if least <= i < most), most)


def spans_of(words: Sentence, found: Sequence[Stage], end: int) -> Iterator[tuple[Stage, int]]:
    """The stages, each with the token at which it ends and the core's temperature within it."""
    ends = [*(stage.start for stage in found[1:]), end]
    for stage, last in zip(found, ends, strict=True):
        core = [heat for heat in words.heats if heat not in words.settings]
        stage.heats += [heat for heat in core if stage.start <= heat.start < last]
        yield stage, last
