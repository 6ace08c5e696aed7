"""The lines of a run sheet as they are printed: columns that line up, and remarks below them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import IntEnum, StrEnum

from classes.core.hours.drawing.spans import ActivityKind
from classes.core.hours.problem.oven_time import OvenTime
from handouts.run_sheet.course import LoadLine, MixerTurn, Rest, RunRow
from recipes.core.heat.core_temperature import Core
from wording.durations import minutes
from wording.figures import NBSP
from wording.lists import listed
from wording.masses import about
from wording.writing import Writing

WELCOME = (
    "“Before we start” aloud; each initials the sign-in sheet. Ask who must not eat what. Show the "
    "first-aid box and the ways out."
)


class Fill(StrEnum):
    """What somebody writes or checks off behind a remark."""

    DECISION = "decision"
    DEGREES = "degrees"


@dataclass(frozen=True, slots=True)
class Remark:
    """What is said below a line: bold words, the rest, and what is filled in."""

    lead: str
    text: str = ""
    fill: Fill | None = None
    oven_time: OvenTime | None = None


@dataclass(frozen=True, slots=True)
class AheadLine:
    """Something done before the class: work begins at `clock`, it is ready at `ready_by`."""

    clock: str
    ready_by: str
    hands_min: int
    who: str
    title: str
    why: str
    text: str
    temperature_c: Decimal | None
    temperature_of: str = ""


@dataclass(frozen=True, slots=True)
class PartLine:
    """A part of a line: who, in which mixer, and in which oven."""

    who: str
    mixer: str = ""
    oven: str = ""
    is_load: bool = False


@dataclass(frozen=True, slots=True)
class DayLine:
    """What happens at a minute. `parts` has at least one; the first shares the line of `what`.

    `decides` marks what decides the end of the class. Remarks stand below, or `beside` what
    happens, whose cell reaches over empty columns behind it.
    """

    clock: str
    until: str
    what: str
    recipe: str
    heat: str
    parts: tuple[PartLine, ...]
    remarks: tuple[Remark, ...]
    decides: bool
    is_mark: bool
    beside: bool = False

    @property
    def columns(self) -> int:
        """How many columns the cell of what happens takes: its own, the mixers', the ovens'."""
        first = self.parts[0]
        if first.mixer:
            return 1
        return 2 if first.oven else 3


class Words(IntEnum):
    """How much is said: times and figures, signs too, what helps besides, or all words of steps."""

    FIGURES = 0
    FEWEST = 1
    USUAL = 2
    ALL = 3


@dataclass(frozen=True, slots=True)
class Telling:
    """How lines are worded: for whom, in whose figures, how briefly.

    `several` tells the recipe of each line.
    """

    words: Words
    writing: Writing
    for_instructor: bool
    several: bool

    @property
    def is_brief(self) -> bool:
        return self.words <= Words.FEWEST


def day_line(row: RunRow, tell: Telling) -> DayLine:
    """A row as the instructor or the assistant reads it."""
    return DayLine(
        clock=row.clock,
        until=_beside(row.until, row.clock),
        what=row.what,
        recipe=row.recipe if tell.several else "",
        heat="" if _is_ovens(row) else _heat(row, tell),
        parts=tuple(_parts(row, tell)),
        remarks=tuple(_remarks(row, tell)),
        decides=tell.for_instructor
        and (row.is_critical or any(rest.is_critical for rest in row.rests)),
        is_mark=row.is_mark,
    )


def _beside(until: str, clock: str) -> str:
    """A time without the day, and the half of the day, that the time before it has."""
    day, _, rest = until.partition(" ")
    if day.isalpha() and clock.startswith(f"{day} "):
        until = rest
    half = until[-3:]
    return until.removesuffix(half) if half[1:].isalpha() and clock.endswith(half) else until


def ahead_line(line: AheadLine, tell: Telling) -> DayLine:
    """What is done before the class, as a line of the same columns."""
    hands = f"Hands on {minutes(line.hands_min)}." if line.hands_min else ""
    said = [
        "" if tell.is_brief else hands,
        *([line.text, line.why] if tell.words is Words.ALL else []),
    ]
    return DayLine(
        clock=line.clock,
        until=_beside(line.ready_by, line.clock),
        what=line.title,
        recipe="",
        heat=_heat(line, tell),
        parts=(PartLine(line.who),),
        remarks=tuple(Remark("", one) for one in said if one),
        decides=False,
        is_mark=False,
    )


def _is_ovens(row: RunRow) -> bool:
    return bool(row.loads) or row.is_ovens


def _heat(row: RunRow | AheadLine, tell: Telling) -> str:
    if row.temperature_of:
        return tell.writing.heat_of(row)
    return "" if row.temperature_c is None else tell.writing.degrees(row.temperature_c)


# Columns


def _parts(row: RunRow, tell: Telling) -> Iterator[PartLine]:
    if row.loads:
        yield from _loads(row, tell)
        return
    first, *others = [PartLine(one.who, _mixer(one.mixer)) for one in row.hands] or [PartLine("")]
    yield replace(first, oven=_heat(row, tell)) if row.is_ovens else first
    yield from others


def _loads(row: RunRow, tell: Telling) -> Iterator[PartLine]:
    who = row.hands[0].who
    heat = "temperature not stated" if row.lacks_heat else _heat(row, tell)
    if row.comes_out:
        yield PartLine(who, oven=listed([load.oven for load in row.loads]))
    elif _is_alone(row):
        yield PartLine(who, oven=f"{_filled(row.loads[0])}, {heat}")
    else:
        yield PartLine(who, oven=heat)
        if not tell.is_brief:
            for load in row.loads:
                yield PartLine(load.holds, oven=_filled(load), is_load=True)


def _is_alone(row: RunRow) -> bool:
    """Whether one oven is loaded, by one bench."""
    return len(row.loads) == 1 and ", " not in row.loads[0].holds


def _filled(load: LoadLine) -> str:
    return f"{load.oven}: {load.filled}"


def _mixer(turn: MixerTurn | None) -> str:
    if turn is None:
        return ""
    each = " each" if turn.doughs > 1 else ""
    turns = f", in {turn.turns} turns" if turn.turns > 1 else ""
    return f"{turn.held}: {about(turn.dough_g)}{NBSP}g{each}{turns}"


# Remarks


def _remarks(row: RunRow, tell: Telling) -> Iterator[Remark]:
    if tell.for_instructor:
        yield from _to_teach(row, tell)
    for aim in row.aims:
        says = aim.sign and not aim.is_told and tell.words > Words.FIGURES
        sign = f" “{aim.sign}”" if says else ""
        yield Remark("Aim", f"{aim.best} ({aim.earliest} to {aim.latest}).{sign}")
    if row.is_decision and tell.for_instructor and not tell.is_brief:
        yield Remark("Decide:", fill=Fill.DECISION)
    if row.is_ahead:
        yield from _how(row, tell)
    elif row.text and tell.words is Words.ALL:
        yield Remark("Show:" if row.is_watched else "", row.text)
    if row.dough_c is not None and tell.for_instructor:
        wanted = tell.writing.degrees(row.dough_c)
        yield Remark("Measure", f"the dough: {wanted} wanted,", Fill.DEGREES)
    for rest in row.rests:
        yield _rest(rest, tell)
    yield from _baked(row, tell)
    if not (tell.is_brief and row.is_told):
        for core in row.cores:
            yield Remark("Done:", _core(core, tell.writing))


def _to_teach(row: RunRow, tell: Telling) -> Iterator[Remark]:
    """What the instructor says, and why nothing is earlier."""
    if row.is_welcome:
        yield Remark("Read", WELCOME)
    if tell.is_brief:
        return
    if row.wait_for:
        at = f" at {row.wait_at}." if row.wait_at else f": “{row.wait_for}”"
        yield Remark("Say", f"what to wait for{at}")
    if row.because:
        yield Remark("No earlier:", f"it {row.because}.")


def _how(row: RunRow, tell: Telling) -> Iterator[Remark]:
    """How ovens and the cabinet are set, for those who do it."""
    is_theirs = row.is_instructors or not tell.for_instructor
    said = [row.text, row.why if tell.words is Words.ALL else ""]
    if is_theirs and any(said):
        yield Remark("", " ".join(one for one in said if one))


def _baked(row: RunRow, tell: Telling) -> Iterator[Remark]:
    """What is loaded, where it has no lines of its own, and how long it stays in the oven."""
    if row.kind is ActivityKind.BAKE and tell.is_brief and not _is_alone(row):
        for load in row.loads:
            yield Remark(f"{_filled(load)}:", f"{load.holds}.")
    if (time := row.oven_time) is None:
        return
    if tell.is_brief and not time.stages:
        yield Remark("", f"{minutes(time.bake_min)} in the oven.")
    else:
        yield Remark("", oven_time=time)


def _rest(rest: Rest, tell: Telling) -> Remark:
    goes_on = f"{rest.what.lower()} to {rest.until}" if rest.what else ""
    celsius = None if rest.is_told else rest.temperature_c
    degrees = tell.writing.one_scale if tell.is_brief else tell.writing.degrees
    warm = "" if celsius is None else f" {degrees(celsius)}"
    place = rest.place.removeprefix("proof ")
    said = ", ".join(word for word in (goes_on, f"{place}{warm}", rest.stands) if word)
    return Remark(f"Then {rest.who}:" if rest.who else "Then" if rest.what else "", f"{said}.")


def _core(core: Core, writing: Writing) -> str:
    degrees = writing.degrees
    most = "" if core.most_c is None else f" to {degrees(core.most_c)}"
    boils = (
        f" At this height water boils at {degrees(core.boiling_c)}, so it gets no hotter: look at "
        "the crust too."
        if core.capped
        else ""
    )
    return f"{degrees(core.least_c)}{most} in the middle.{boils}"
