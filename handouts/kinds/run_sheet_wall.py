"""The run sheet on the wall: what the benches do by the clock, in letters for the whole room."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import ClassVar, NamedTuple

from classes.core.hours.drawing.spans import INSTRUCTOR, ActivityKind
from classes.core.hours.problem.notes import EVERYBODY
from classes.hours.plan import ClassHours
from classes.plan import ClassPlan
from handouts.kind import WALL, Leaves, Material, PaperKind, only
from handouts.labels.lettering import lines_needed
from handouts.paper import Paper, paper_head
from handouts.run_sheet.course import ClassCourse, RunRow, cores_of, course_of
from handouts.run_sheet.rows import course_rows
from wording.lists import joined

MM = 72 / Decimal("25.4")
ROOM_PT = 195 * MM  # Of a page of 231 mm; title and cautions take the rest.
WHO_MM, CLOCK_MM = Decimal(44), Decimal(34)
WHAT_PT = (174 - WHO_MM - CLOCK_MM - 4) * MM
SHOWN = frozenset(
    {
        ActivityKind.HANDS,
        ActivityKind.WATCH,
        ActivityKind.BREAK,
        ActivityKind.BAKE,
        ActivityKind.COOL,
    }
)


class Size(NamedTuple):
    """A class of the style sheet, its type for what happens and for the rest, a row's padding."""

    name: str
    what_pt: Decimal
    small_pt: Decimal
    gap_pt: Decimal


SIZES = (
    Size("wall-22", Decimal(22), Decimal(14), Decimal(10)),
    Size("wall-17", Decimal(17), Decimal(12), Decimal(8)),
    Size("wall-14", Decimal(14), Decimal("10.5"), Decimal(5)),
)


@dataclass(frozen=True, slots=True)
class WallLine:
    """What benches do at a time; `who` is empty if all of them do."""

    clock: str
    what: str
    recipe: str
    who: str
    is_mark: bool = False


@dataclass(frozen=True, kw_only=True)
class RunSheetWall(Paper):
    """The hours of the benches. It names no person and nothing private."""

    template: ClassVar[str] = "handouts/run_sheet_wall.html"
    style: ClassVar[str] = "run-sheet-wall"

    lines: tuple[WallLine, ...]

    @property
    def size(self) -> str:
        """The class with the largest letters in which all lines fit on a page, or else on two."""
        for pages in (1, 2):
            for size in SIZES:
                if sum(_height_pt(line, size) for line in self.lines) <= pages * ROOM_PT:
                    return size.name
        return SIZES[-1].name


def _height_pt(line: WallLine, size: Size) -> Decimal:
    said_pt = (size.what_pt + size.small_pt) / 2 if line.recipe else size.what_pt
    said = lines_needed(f"{line.what} {line.recipe}", said_pt, WHAT_PT)
    who = lines_needed(line.who, size.small_pt, WHO_MM * MM)
    return max(said * size.what_pt, who * size.small_pt) * Decimal("1.2") + size.gap_pt


def run_sheet_wall(plan: ClassPlan, hours: ClassHours, printed_at: datetime) -> RunSheetWall:
    """The hours of a class for its wall. Raises NoPlan and NothingTaught."""
    course = course_of(hours, cores_of(plan))
    head = paper_head(plan, printed_at)
    return RunSheetWall(head=head, hazards=head.hazards, lines=tuple(_lines(course)))


def _lines(course: ClassCourse) -> Iterator[WallLine]:
    stations = joined(course.scheduled.work.stations)
    several = len(course.recipes) > 1
    for row in course_rows(course):
        who = [hand.who for hand in row.hands]
        if row.is_mark or _is_shown(row, who):
            yield WallLine(
                clock=row.clock,
                what=row.what,
                recipe=row.recipe if several else "",
                who="" if set(who) & {EVERYBODY, stations} else ", ".join(who),
                is_mark=row.is_mark,
            )


def _is_shown(row: RunRow, who: list[str]) -> bool:
    return row.kind in SHOWN and not row.is_ahead and who != [INSTRUCTOR]


def _leaves(material: Material) -> Leaves:
    return only([run_sheet_wall(material.plan, material.hours, material.at)])


KIND = PaperKind(
    "run-sheet-wall",
    "Run sheet, wall",
    "The class by the clock in large letters, for everybody.",
    WALL,
    _leaves,
)
