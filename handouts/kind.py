"""What a kind of paper is, what its papers are made from, and why there may be none."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from copy import copy
from dataclasses import dataclass, field, replace
from datetime import datetime
from enum import IntEnum
from functools import cached_property
from typing import Any, NamedTuple, TypeVar

from django.utils.text import slugify

from classes.core.hours.checking.verdict import Verdict
from classes.hours.answers import class_answer
from classes.hours.plan import ClassHours
from classes.hours.words import obstacle_words
from classes.plan import ClassPlan, Student
from handouts.paper import NothingTaught, Paper, PaperError
from handouts.print_desk.sheets import USUAL, PrintSheets
from handouts.safety.values import Hazard

Made = TypeVar("Made")


STUDENT, AHEAD, BENCH, WALL, DOOR = (
    "For each student",
    "Before the day",
    "At the bench",
    "On the wall",
    "At the door",
)


class Phase(IntEnum):
    """A part of the time around a class."""

    DAYS_BEFORE, MORNING, CLASS, AFTER = range(4)

    @property
    def words(self) -> str:
        """Such as `days before`."""
        return self.name.lower().replace("_", " ")

    @property
    def slug(self) -> str:
        """The same in addresses, such as `days-before`."""
        return self.words.replace(" ", "-")


def phase_at(plan: ClassPlan, at: datetime) -> Phase:
    """The part in which a moment lies; the morning is the day of the class until it starts."""
    if at >= plan.ends_at:
        return Phase.AFTER
    if at >= plan.starts_at:
        return Phase.CLASS
    today = replace(plan.starts, instant=at).date
    return Phase.MORNING if today == plan.starts.date else Phase.DAYS_BEFORE


@dataclass(eq=False)
class NotPrinted(Exception):
    """A paper cannot be made; the reason is in words for the person who asked."""

    status: int
    heading: str
    advice: str


NOBODY = NotPrinted(
    409, "Nobody is baking yet", "Add students to the roster, or a demonstration to a recipe."
)
NO_STUDENTS = NotPrinted(
    409, "No students yet", "Handouts carry names. Add students to the roster first."
)
NO_RECIPE = NotPrinted(409, "No recipe yet", "Choose a recipe for the class first.")
NO_STATION = NotPrinted(409, "No station yet", "Choose the stations that the class uses first.")


@dataclass
class Material:
    """A class, the moment of printing and the sheets that labels are printed on.

    `on_wall` are the hazards that a sheet on the wall says. Everything raises NotPrinted.
    """

    whole: ClassPlan
    at: datetime
    sheets: PrintSheets = USUAL
    on_wall: frozenset[Hazard] = frozenset()
    _made: dict[object, Any] = field(default_factory=dict, repr=False)

    def on(self, sheets: PrintSheets) -> Material:
        """The same for other sheets, sharing what was already made."""
        other = copy(self)
        other.sheets = sheets
        return other

    def with_wall(self, hazards: frozenset[Hazard]) -> Material:
        """The same for papers that hang beside a sheet that says these hazards."""
        other = copy(self)
        other.on_wall = hazards
        return other

    def once(self, make: Callable[[Material], Made]) -> Made:
        """A value that several kinds of paper use, made for the first of them."""
        if make not in self._made:
            self._made[make] = make(self)
        made: Made = self._made[make]
        return made

    @property
    def plan(self) -> ClassPlan:
        """The class, with its amounts known."""
        if not self.whole.stations:
            raise NO_STATION
        if not self.whole.has_bakers:
            raise NOBODY
        return self.whole

    @property
    def students(self) -> tuple[Student, ...]:
        """Who is expected; at least one."""
        if not self.whole.students:
            raise NO_STUDENTS
        return self.whole.students

    @property
    def by_station(self) -> tuple[Student, ...]:
        """The same in the order of the stations, so that papers are handed out as they lie."""
        order = {name: place for place, name in enumerate(self.whole.stations)}
        return tuple(sorted(self.students, key=lambda one: order.get(one.station, len(order))))

    @property
    def hours(self) -> ClassHours:
        """The hours that the page shows, or what prevents a plan."""
        return self.planned[0]

    @cached_property
    def planned(self) -> tuple[ClassHours, Verdict]:
        """The same with its verdict."""
        if not self.whole.taught:
            raise NO_RECIPE
        answer = class_answer(self.whole)
        for lack in answer.lacks:
            raise NotPrinted(409, lack.title, lack.reason)
        hours, verdict = answer.hours, answer.verdict
        if hours is None or hours.solved is None or verdict is None:
            obstacle = verdict.obstacle if verdict else None
            reason = obstacle_words(obstacle) if obstacle else "See the hours of the class."
            raise NotPrinted(409, "No plan of the hours was found", reason)
        return hours, verdict


class Leaf(NamedTuple):
    """One paper of a kind: a permanent key, whom or what it is for, and the paper."""

    key: str
    label: str
    paper: Paper


Leaves = Iterator[Leaf]


@dataclass(frozen=True, slots=True)
class PaperKind:
    """A kind of paper. `name` is used in addresses and file names.

    A private kind contains what people must not eat, or how to reach them. One that is not `usual`
    is left out of a pack unless somebody asks for it. Labels have sheets of their own.
    One that `is_ordered` comes by station or by ingredient. It is of use up to the phase `until`.
    `usual_pages` is how many a paper takes as a rule, for an estimate.
    """

    name: str
    title: str
    purpose: str
    place: str
    make: Callable[[Material], Leaves]
    private: bool = False
    usual: bool = True
    are_labels: bool = False
    is_ordered: bool = False
    until: Phase = Phase.CLASS
    usual_pages: int = 1

    def leaves(self, material: Material) -> list[Leaf]:
        """The papers of a class, at least one. Raises NotPrinted."""
        try:
            return [
                leaf._replace(paper=replace(leaf.paper, on_wall=material.on_wall))
                for leaf in self.make(material)
            ]
        except NothingTaught:
            raise NO_RECIPE from None
        except PaperError as error:
            raise NotPrinted(409, "Nothing to print", str(error)) from error


def only(papers: Iterable[Paper]) -> Leaves:
    """Leaves that need no name."""
    for paper in papers:
        yield Leaf("1", "", paper)


def labeled(papers: Iterable[tuple[str, Paper]]) -> Leaves:
    """Leaves named for what they are for, numbered if two read alike."""
    seen: dict[str, int] = {}
    for label, paper in papers:
        name = slugify(label)[:60] or "paper"
        seen[name] = seen.get(name, 0) + 1
        key = name if seen[name] == 1 else f"{name}-{seen[name]}"
        yield Leaf(key, label, paper)
