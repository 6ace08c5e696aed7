"""The oven slot map: whose pieces are on which place of an oven, load by load.

Loads and times are the plan's own. Within a load the places are filled from the back, station by
station. The map is a proposal: what matters is that everybody finds their bread again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from itertools import groupby
from typing import ClassVar

from classes.core.hours.ahead.kitchen import FAN_LESS_C
from classes.core.hours.drawing.spans import who_is
from classes.core.hours.problem.oven_time import OvenTime
from classes.core.hours.problem.work import Load, PlannedOven
from classes.hours.plan import ClassHours
from classes.plan import ClassPlan
from handouts.kind import BENCH, Leaves, Material, NotPrinted, PaperKind, only
from handouts.paper import Paper, paper_head
from handouts.run_sheet.course import ClassCourse, cores_of, course_of
from handouts.safety.values import Hazard
from wording.lists import pieces_in_words

MOST_DRAWN = 24
MOST_COLUMNS = 6
WIDE_TO_DEEP = Decimal(2)
NAMES_IN_A_PLACE = 2
LETTERS_ACROSS = 66

NOTHING_BAKED = NotPrinted(
    409, "Nothing is baked", "No recipe of the class has a step that bakes, so no oven has a load."
)


@dataclass(frozen=True, slots=True)
class OvenPlace:
    """A place in an oven: whose it is and what is there; empty if nothing is.

    `until` is the last of several places with the same contents.
    """

    number: int
    until: int
    whose: str = ""
    what: str = ""

    @property
    def numbers(self) -> str:
        """Such as `3`, or `3–12`."""
        return f"{self.number}–{self.until}" if self.until > self.number else str(self.number)


@dataclass(frozen=True, slots=True)
class OvenChange:
    """When an oven is turned while it bakes, and to how many °C (`fan_c` with a fan)."""

    clock: str
    temperature_c: Decimal | None
    fan_c: Decimal | None


@dataclass(frozen=True, slots=True)
class MappedLoad:
    """A load of an oven; °C is None if the recipe names none.

    `fan_c` is the setting for an oven with a fan, `turned` has the changes during the load.
    """

    oven: str
    number: int
    of: int
    into: str
    out: str
    breads: tuple[tuple[str, OvenTime], ...]
    temperature_c: Decimal | None
    fan_c: Decimal | None
    turned: tuple[OvenChange, ...]
    columns: int
    places: tuple[OvenPlace, ...]

    @property
    def is_drawn(self) -> bool:
        """Whether the places can be drawn one by one."""
        return self.columns > 0


@dataclass(frozen=True, kw_only=True)
class OvenMap(Paper):
    """The map at the ovens. It names people, but nothing that they avoid."""

    template: ClassVar[str] = "handouts/oven_map.html"
    style: ClassVar[str] = "oven-map"

    loads: tuple[MappedLoad, ...]


def oven_map(plan: ClassPlan, hours: ClassHours, printed_at: datetime) -> tuple[OvenMap, ...]:
    """The map of all loads of a class by the plan of its hours. Raises NoPlan and NothingTaught."""
    course = course_of(hours, cores_of(plan))
    return (
        OvenMap(
            head=paper_head(plan, printed_at),
            hazards=frozenset({Hazard.OVEN}),
            loads=tuple(_loads(plan, course)),
        ),
    )


def _loads(plan: ClassPlan, course: ClassCourse) -> Iterator[MappedLoad]:
    shares = {
        key: _shares(plan, course, key) for load in course.plan.loads for key, _ in load.pieces
    }
    for oven in course.scheduled.work.ovens:
        loads = [load for load in course.plan.loads if load.oven == oven.key]
        loads.sort(key=lambda load: load.start)
        for number, load in enumerate(loads, start=1):
            yield _mapped(course, oven, load, (number, len(loads)), shares)


def _mapped(
    course: ClassCourse,
    oven: PlannedOven,
    load: Load,
    counted: tuple[int, int],
    shares: Mapping[str, Iterator[PlaceShare]],
) -> MappedLoad:
    celsius = load.celsius
    columns = _columns(oven.slots) if oven.slots <= MOST_DRAWN else 0
    here = [next(shares[key]) for key, count in load.pieces for _ in range(count)]
    return MappedLoad(
        oven=oven.name,
        number=counted[0],
        of=counted[1],
        into=course.label(load.start),
        out=course.label(load.end),
        breads=course.oven_times(load),
        temperature_c=celsius,
        fan_c=_with_fan(oven, celsius),
        turned=tuple(
            OvenChange(course.label(minute), then_c, _with_fan(oven, then_c))
            for minute, then_c in load.turned
        ),
        columns=columns,
        places=tuple(_drawn(here, oven.slots, columns) if columns else _runs(here, oven.slots)),
    )


def _with_fan(oven: PlannedOven, celsius: Decimal | None) -> Decimal | None:
    return celsius - FAN_LESS_C if celsius is not None and oven.has_fan else None


def _drawn(shares: list[PlaceShare], slots: int, columns: int) -> Iterator[OvenPlace]:
    """The places from the first to the last, each with names if there is room for them."""
    letters = LETTERS_ACROSS // columns
    for number, share in enumerate(shares, start=1):
        told = " and ".join(share.names)
        if told and len(share.names) <= NAMES_IN_A_PLACE and len(told) <= letters:
            what = f"{share.station}, {share.pieces}"
            yield OvenPlace(number, number, told, what if len(what) <= letters else share.pieces)
        else:
            yield OvenPlace(number, number, _cut(share.station, letters), share.pieces)
    for number in range(len(shares) + 1, slots + 1):
        yield OvenPlace(number, number)


def _cut(name: str, letters: int) -> str:
    return name if len(name) <= letters else f"{name[: letters - 1]}…"


def _runs(shares: list[PlaceShare], slots: int) -> Iterator[OvenPlace]:
    """Neighboring places of one station joined into one, without names."""
    number = 1
    for (station, pieces), run in groupby(shares, key=lambda share: (share.station, share.pieces)):
        until = number + len(list(run)) - 1
        yield OvenPlace(number, until, station, f"{pieces} each")
        number = until + 1
    if number <= slots:
        yield OvenPlace(number, slots)


def _columns(slots: int) -> int:
    """How many places are side by side: about twice as many as in depth, few left over."""

    def misfit(columns: int) -> Decimal:
        rows = -(-slots // columns)
        return rows * columns - slots + abs(Decimal(columns) / rows - WIDE_TO_DEEP)

    return min(range(1, min(slots, MOST_COLUMNS) + 1), key=misfit)


# Whose pieces they are


@dataclass(frozen=True, slots=True)
class PlaceShare:
    """What is on one place: of which station, whose if that is known, and how much."""

    station: str
    names: tuple[str, ...]
    pieces: str


def _shares(plan: ClassPlan, course: ClassCourse, key: str) -> Iterator[PlaceShare]:
    """What a baking puts into each of its places, in order, over all its loads."""
    note = course.scheduled.notes[key]
    recipe = course.recipes[note.recipe]
    group = next(group for group in recipe.doughs if group.station == note.who)
    taught = plan.revisions[recipe.key].usual
    people = [person.name for person in plan.people if person.station == note.who]
    pieces = [name for name in people for _ in range(taught.pieces_each)]
    for start in range(0, group.pieces, recipe.pieces_a_place):
        until = min(start + recipe.pieces_a_place, group.pieces)
        yield PlaceShare(
            station=who_is(note.who),
            names=tuple(dict.fromkeys(pieces[start:until])),
            pieces=pieces_in_words(until - start, taught.piece_name),
        )


def _leaves(material: Material) -> Leaves:
    papers = oven_map(material.plan, material.hours, material.at)
    if not any(paper.loads for paper in papers):
        raise NOTHING_BAKED
    return only(papers)


KIND = PaperKind(
    "oven-map",
    "Oven map",
    "Which bread lies where in which load, and when it goes in and comes out.",
    BENCH,
    _leaves,
)
