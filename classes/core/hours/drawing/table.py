"""The plan as a table: by the clock, who does what, where, and how warm it is there."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from classes.core.hours.drawing.spans import Activity, ActivityKind, spans_of, who_is
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.oven_time import OvenTime, oven_times
from classes.core.hours.problem.work import Plan
from recipes.core.choices import StepKind, TemperatureOf
from wording.lists import joined, listed

Label = Callable[[int], str]


@dataclass(frozen=True, slots=True)
class TimeRow:
    """One thing that happens; stations that do the same at the same time share a row.

    Times are minutes from the start of the class and, as labels, on the clock. `kind` is a word
    such as `hands on`; `window` says in words when a rise may end; `holds` says whose pieces are
    in a load; `oven_time` tells a baking from its loading. `keys`
    names the tasks and bakings of the problem that the row is about.
    """

    starts: int
    ends: int
    from_label: str
    to_label: str
    who: tuple[str, ...]
    what: str
    where: str
    kind: ActivityKind
    recipe: str = ""
    text: str = ""
    temperature_c: Decimal | None = None
    temperature_of: TemperatureOf | None = None
    window: str = ""
    holds: str = ""
    oven_time: OvenTime | None = None
    step: StepKind | None = None
    keys: tuple[str, ...] = ()

    @property
    def who_words(self) -> str:
        """Those who do it: `Bench 1, 2 and 3`."""
        return joined(self.who)


def rows_of(scheduled: Scheduled, plan: Plan, label: Label) -> tuple[TimeRow, ...]:
    """The plan by the clock; `label` gives the clock at a minute of the class, such as `10:30`."""
    groups: dict[object, list[Activity]] = {}
    for span in spans_of(scheduled, plan):
        groups.setdefault(_same(span), []).append(span)
    titles = {recipe.key: recipe.title for recipe in scheduled.work.recipes}
    slots = {oven.key: oven.slots for oven in scheduled.problem.ovens}
    rows = (_row(spans, label, titles, slots) for spans in groups.values())
    times = oven_times(scheduled)
    return tuple(
        replace(row, oven_time=times[row.keys[0]]) if row.kind is ActivityKind.BAKE else row
        for row in rows
    )


def _same(span: Activity) -> object:
    """What spans in one row have in common: a load, or everything except who it is."""
    if span.kind is ActivityKind.BAKE and span.load:
        return span.kind, span.load
    if span.kind is ActivityKind.HEAT:
        return span.kind, span.starts, span.ends, span.what, span.temperature_c
    return (
        *(span.kind, span.starts, span.ends, span.what, span.recipe, span.where, span.text),
        *(span.temperature_c, span.between, span.first),
    )


def _row(
    spans: list[Activity], label: Label, titles: dict[str, str], slots: dict[str, int]
) -> TimeRow:
    one = spans[0]
    heats = one.kind is ActivityKind.HEAT
    return TimeRow(
        starts=one.starts,
        ends=one.ends,
        from_label=label(one.starts),
        to_label=label(one.ends),
        who=() if heats else tuple(dict.fromkeys(who_is(span.who) for span in spans)),
        what=one.what,
        where=listed(_once(span.where for span in spans)) if heats else _where(one, slots),
        kind=one.kind,
        recipe=listed(_once(titles[span.recipe] for span in spans if span.recipe)),
        text=" ".join(_once(span.text for span in spans if span.text)),
        temperature_c=one.temperature_c,
        temperature_of=one.temperature_of,
        window=_window(one, label),
        holds=_holds(spans),
        step=one.step,
        keys=tuple(span.item for span in spans if not heats),
    )


def _once(words: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(words))


def _where(span: Activity, slots: dict[str, int]) -> str:
    if span.kind is not ActivityKind.BAKE or span.load is None:
        return span.where
    return f"{span.where}, {span.load.filled} of {slots[span.load.oven]} places"


def _window(span: Activity, label: Label) -> str:
    if span.between is None:
        return ""
    one = span.between
    said = f"may end from {label(one.earliest)} to {label(one.latest)}, best at {label(one.best)}"
    if span.first is not None and span.first < span.ends:
        said += f"; the first pieces go on at {label(span.first)}"
    return said


def _holds(spans: list[Activity]) -> str:
    """How many places of a load each dough takes: `Bench 1: 4, Bench 3: 2`."""
    held = [
        (span, dict(span.load.pieces))
        for span in spans
        if span.kind is ActivityKind.BAKE and span.load
    ]
    return ", ".join(f"{who_is(span.who)}: {pieces[span.item]}" for span, pieces in held)
