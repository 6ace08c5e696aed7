"""A sheet for each oven: whose pieces are on which place, load by load, and signs for its door.

Loads and times are the plan's own. Within a load the places are filled from the back, station by
station. The map is a proposal: what matters is that everybody finds their bread again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import ClassVar

from classes.core.hours.ahead.kitchen import FAN_LESS_C
from classes.core.hours.drawing.spans import who_is
from classes.core.hours.problem.oven_time import OvenTime
from classes.core.hours.problem.work import Load, PlannedOven
from classes.hours.plan import ClassHours
from classes.plan import ClassPlan
from handouts.kind import BENCH, Leaves, Material, NotPrinted, PaperKind, labeled
from handouts.oven_places import (
    MOST_DRAWN,
    DrawnPlaces,
    OvenPlace,
    PlaceShare,
    drawn,
    row_lengths,
    runs,
)
from handouts.oven_signs import Warns
from handouts.paper import Paper, PaperError, paper_head
from handouts.run_sheet.course import ClassCourse, cores_of, course_of
from handouts.safety.values import Hazard
from handouts.station_shapes import shapes_of
from wording.lists import pieces_in_words

SHORT = 8

NOTHING_BAKED = NotPrinted(
    409, "Nothing is baked", "No recipe of the class has a step that bakes, so no oven has a load."
)


@dataclass(frozen=True, slots=True)
class OvenChange:
    """When an oven is turned while it bakes, and to how many °C (`fan_c` with a fan)."""

    clock: str
    temperature_c: Decimal | None
    fan_c: Decimal | None


@dataclass(frozen=True, slots=True)
class MappedLoad:
    """A load of an oven; °C is None if the recipe names none.

    It is loaded from `into` on, and bakes from `shut` to `out`. `fan_c` is the setting for an oven
    with a fan, `turned` has the changes during the load. Many places are `listed`, not drawn.
    """

    oven: str
    number: int
    of: int
    into: str
    shut: str
    out: str
    bake_min: int
    breads: tuple[tuple[str, OvenTime], ...]
    temperature_c: Decimal | None
    fan_c: Decimal | None
    turned: tuple[OvenChange, ...]
    map: DrawnPlaces | None
    listed: tuple[OvenPlace, ...]

    @property
    def places(self) -> tuple[OvenPlace, ...]:
        """All places, from the back to the door."""
        return tuple(place for row in self.map.rows for place in row) if self.map else self.listed


class NoOven(PaperError):
    """A sheet for each oven was asked for, but the kitchen has no oven."""

    def __init__(self) -> None:
        super().__init__("The kitchen has no oven. Enter its ovens first.")


@dataclass(frozen=True, kw_only=True)
class OvenMap(Paper):
    """The sheet at an oven. It names people, but nothing that they avoid.

    Without a plan of the hours there are no loads, and `lacks` says why.
    """

    template: ClassVar[str] = "handouts/oven_map.html"
    style: ClassVar[str] = "oven-map"
    signs: ClassVar[tuple[Warns, ...]] = tuple(Warns)

    oven: str
    loads: tuple[MappedLoad, ...] = ()
    lacks: str = ""

    @property
    def is_short(self) -> bool:
        """Whether the oven's name has room in large letters."""
        return len(self.oven) <= SHORT


def oven_map(plan: ClassPlan, hours: ClassHours, printed_at: datetime) -> tuple[OvenMap, ...]:
    """A sheet for each oven by the plan of the hours. Raises NoPlan, NoOven and NothingTaught."""
    course = course_of(hours, cores_of(plan))
    loads: dict[str, list[MappedLoad]] = {}
    for load in _loads(plan, course):
        loads.setdefault(load.oven, []).append(load)
    return tuple(
        replace(sheet, loads=tuple(loads.get(sheet.oven, ())))
        for sheet in _sheets(plan, printed_at, "")
    )


def _sheets(plan: ClassPlan, printed_at: datetime, lacks: str) -> tuple[OvenMap, ...]:
    """The sheets without loads."""
    if not plan.kitchen.ovens:
        raise NoOven
    head, hazards = paper_head(plan, printed_at), frozenset({Hazard.OVEN})
    return tuple(
        OvenMap(head=head, hazards=hazards, oven=oven.name, lacks=lacks)
        for oven in plan.kitchen.ovens
    )


def _loads(plan: ClassPlan, course: ClassCourse) -> Iterator[MappedLoad]:
    shares = {
        key: _shares(plan, course, key) for load in course.plan.loads for key, _ in load.pieces
    }
    for oven in course.scheduled.work.ovens:
        loads = [load for load in course.plan.loads if load.oven == oven.key]
        loads.sort(key=lambda load: load.start)
        for number, load in enumerate(loads, start=1):
            here = [next(shares[key]) for key, count in load.pieces for _ in range(count)]
            yield _mapped(course, oven, load, (number, len(loads)), here)


def _mapped(
    course: ClassCourse,
    oven: PlannedOven,
    load: Load,
    counted: tuple[int, int],
    here: list[PlaceShare],
) -> MappedLoad:
    celsius, breads = load.celsius, course.oven_times(load)
    bake_min = max(time.bake_min for _, time in breads)
    is_drawn = oven.slots <= MOST_DRAWN
    return MappedLoad(
        oven=oven.name,
        number=counted[0],
        of=counted[1],
        into=course.label(load.start),
        shut=course.label(load.end - bake_min),
        out=course.label(load.end),
        bake_min=bake_min,
        breads=breads,
        temperature_c=celsius,
        fan_c=_with_fan(oven, celsius),
        turned=tuple(
            OvenChange(course.label(minute), then_c, _with_fan(oven, then_c))
            for minute, then_c in load.turned
        ),
        map=drawn(here, row_lengths(oven.slots, oven.across)) if is_drawn else None,
        listed=() if is_drawn else tuple(runs(here, oven.slots)),
    )


def _with_fan(oven: PlannedOven, celsius: Decimal | None) -> Decimal | None:
    return celsius - FAN_LESS_C if celsius is not None and oven.has_fan else None


# Whose pieces they are


def _shares(plan: ClassPlan, course: ClassCourse, key: str) -> Iterator[PlaceShare]:
    """What a baking puts into each of its places, in order, over all its loads."""
    note = course.scheduled.notes[key]
    recipe = course.recipes[note.recipe]
    group = next(group for group in recipe.doughs if group.station == note.who)
    taught = plan.revisions[recipe.key].usual
    apart = {key for one in plan.apart if one.revision == recipe.key for key in one.only_for or ()}
    people = [person for person in plan.people if person.station == note.who]
    people.sort(key=lambda person: person.key in apart)
    pieces = [person for person in people for _ in range(taught.pieces_each)]
    usual = sum(person.key not in apart for person in pieces)
    shapes = shapes_of(plan.stations).get(note.who, ())
    for start, until in _cuts(group.pieces, recipe.pieces_a_place, usual):
        yield PlaceShare(
            station=who_is(note.who),
            names=tuple(dict.fromkeys(person.name for person in pieces[start:until])),
            pieces=pieces_in_words(until - start, taught.piece_name),
            shapes=shapes,
            is_variant=any(person.key in apart for person in pieces[start:until]),
        )


def _cuts(pieces: int, a_place: int, usual: int) -> Iterator[tuple[int, int]]:
    """Where each place begins and ends; a variant begins on a place of its own if one is left."""
    first = usual if 0 < usual < pieces else pieces
    if -(-first // a_place) - (first - pieces) // a_place > -(-pieces // a_place):
        first = pieces
    for begins, ends in ((0, first), (first, pieces)):
        for start in range(begins, ends, a_place):
            yield start, min(start + a_place, ends)


def _leaves(material: Material) -> Leaves:
    papers = _papers(material)
    return labeled((paper.oven, paper) for paper in papers)


def _papers(material: Material) -> tuple[OvenMap, ...]:
    """The sheets, with the signs alone if the hours have no plan."""
    plan = material.plan
    if not plan.kitchen.ovens:
        raise NoOven
    try:
        hours = material.hours
    except NotPrinted as missing:
        return _sheets(plan, material.at, f"{missing.heading}. {missing.advice}")
    papers = oven_map(plan, hours, material.at)
    if not any(paper.loads for paper in papers):
        raise NOTHING_BAKED
    return papers


KIND = PaperKind(
    "oven-map",
    "Oven sheets",
    "For each oven: whose bread lies where, in and out, and signs for its door.",
    BENCH,
    _leaves,
)
