"""What the kitchen has too little of, whatever the order of the work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from classes.core.hours.problem.keys import CABINET, REFRIGERATOR
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.steps import is_for_machine, mixing_of
from classes.core.hours.problem.values import RISES, ClassWork, Mixing, RisesIn, TimedRecipe

PEOPLE_A_TEACHER = 8


class Lacking(StrEnum):
    """What is short; the last is common practice and no more than a remark."""

    BOWLS = "bowls"
    OVEN = "an oven"
    MIXER = "a mixer"
    CABINET = "a cabinet"
    CABINET_PLACES = "places in the cabinet"
    REFRIGERATOR = "a refrigerator"
    REFRIGERATOR_PLACES = "places in the refrigerator"
    TEACHERS = "teachers"


@dataclass(frozen=True, slots=True)
class Shortage:
    """How many are needed and how many there are; `who` needs them, everybody if empty.

    `people_each` is the number of people for each teacher.
    """

    lacking: Lacking
    needed: int
    there: int
    who: str = ""
    people_each: int = 0

    @property
    def is_remark(self) -> bool:
        """Whether the class can be held anyway."""
        return self.lacking is Lacking.TEACHERS

    @property
    def missing(self) -> int:
        """How many more are needed."""
        return self.needed - self.there


_PLACES = {CABINET: Lacking.CABINET_PLACES, REFRIGERATOR: Lacking.REFRIGERATOR_PLACES}


def shortages_of(
    scheduled: Scheduled, *, people_a_teacher: int = PEOPLE_A_TEACHER
) -> tuple[Shortage, ...]:
    """Everything that is short. Bowls are counted if the kitchen says how many it has.

    A teacher (the instructor, or an assistant) for eight people is common practice, from memory.
    """
    work = scheduled.work
    return (
        *_bowls(work),
        *_machines(scheduled),
        *_no_place(scheduled),
        *_places(scheduled),
        *_teachers(work, people_a_teacher),
    )


def people_in(work: ClassWork) -> int:
    """How many people bake, not counting the instructor."""
    return sum(people_at(work, station) for station in work.stations)


def people_at(work: ClassWork, station: str) -> int:
    """How many people a station has: the most that bake one of the recipes there."""
    groups = (group for recipe in work.recipes for group in recipe.groups)
    return max((group.people for group in groups if group.station == station), default=0)


def _bowls(work: ClassWork) -> Iterator[Shortage]:
    if 0 < work.room.bowls < work.doughs:
        yield Shortage(Lacking.BOWLS, work.doughs, work.room.bowls)


def _machines(scheduled: Scheduled) -> Iterator[Shortage]:
    work = scheduled.work
    if scheduled.problem.bakings and not work.ovens:
        yield Shortage(Lacking.OVEN, 1, 0)
    if not work.mixers and any(map(_wants_mixer, work.recipes)):
        yield Shortage(Lacking.MIXER, 1, 0)


def _wants_mixer(recipe: TimedRecipe) -> bool:
    return mixing_of(recipe) is not Mixing.HAND and any(map(is_for_machine, recipe.steps))


def _no_place(scheduled: Scheduled) -> Iterator[Shortage]:
    """Doughs planned to rise in a place that the kitchen does not have."""
    room = scheduled.work.room
    there = {CABINET: room.cabinet_places, REFRIGERATOR: room.refrigerator_places}
    lacking = {CABINET: Lacking.CABINET, REFRIGERATOR: Lacking.REFRIGERATOR}
    used = {wait.rise.place for wait in scheduled.waits if wait.rise}
    if room.rises_in is RisesIn.CABINET and _rises(scheduled.work):
        used.add(CABINET)
    for place in (CABINET, REFRIGERATOR):
        if place in used and not there[place]:
            yield Shortage(lacking[place], 1, 0)


def _rises(work: ClassWork) -> bool:
    return any(step.kind in RISES for recipe in work.recipes for step in recipe.steps)


def _places(scheduled: Scheduled) -> Iterator[Shortage]:
    """The largest number of places that stations need at one time, if more than there are."""
    problem = scheduled.problem
    most: dict[tuple[str, str], int] = {}
    for stay in problem.stays:
        known = (stay.resource, scheduled.notes[stay.until].who)
        most[known] = max(most.get(known, 0), stay.amount)
    for (place, who), amount in most.items():
        if amount > problem.capacity[place]:
            yield Shortage(_PLACES[place], amount, problem.capacity[place], who)


def _teachers(work: ClassWork, people_a_teacher: int) -> Iterator[Shortage]:
    there, needed = 1 + work.assistants, -(-people_in(work) // people_a_teacher)
    if needed > there:
        yield Shortage(Lacking.TEACHERS, needed, there, people_each=people_a_teacher)
