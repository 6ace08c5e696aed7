"""Where dough waits after the work that it waits for: a rise is told with what begins it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from classes.core.hours.advice.critical import ChainLink
from classes.core.hours.drawing.spans import PLACES, ActivityKind, who_is
from classes.core.hours.drawing.table import TimeRow
from classes.core.hours.problem.keys import CABINET, REFRIGERATOR
from classes.core.hours.problem.notes import Wait
from handouts.run_sheet.course import ClassCourse, HandLine, Rest, RunRow

WAITS = frozenset({ActivityKind.RISE, ActivityKind.REST})


@dataclass(frozen=True)
class Rests:
    """Every wait of a plan with the row of its table, in the table's order."""

    course: ClassCourse
    rows: tuple[tuple[TimeRow, tuple[Wait, ...]], ...]
    critical: frozenset[TimeRow]

    def after(self, keys: Sequence[str], *, named: bool) -> tuple[Rest, ...]:
        """Where the doughs of some tasks wait; `named` tells whose even if it is all of them."""
        whole = {who_is(self.course.scheduled.notes[key].who) for key in keys}
        return tuple(self._after(set(keys), whole, named=named))

    def _after(self, keys: set[str], whole: set[str], *, named: bool) -> Iterator[Rest]:
        for row, waits in self.rows:
            if names := [who_is(wait.who) for wait in waits if wait.after in keys]:
                who = self.course.everybody(names) if named or set(names) != whole else ""
                yield self._rest(row, who)

    def _rest(self, row: TimeRow, who: str) -> Rest:
        return Rest(
            what=row.what,
            until=row.to_label,
            place=row.where,
            temperature_c=row.temperature_c,
            stands=_stands(self.course, row),
            who=who,
            is_critical=row in self.critical,
        )

    def alone(self, told: set[str]) -> Iterator[RunRow]:
        """Rows for what waits after none of the tasks that are told, such as brought dough."""
        for row, waits in self.rows:
            if names := [who_is(wait.who) for wait in waits if wait.after not in told]:
                yield RunRow(
                    starts=row.starts,
                    kind=row.kind,
                    clock=row.from_label,
                    until=row.to_label,
                    what=row.what,
                    hands=(HandLine(self.course.everybody(names)),),
                    recipe=row.recipe,
                    rests=(replace(self._rest(row, ""), what=""),),
                    is_critical=row in self.critical,
                )


def rests_of(course: ClassCourse, rows: Iterable[TimeRow]) -> Rests:
    """The waits among the rows of a plan's table."""
    waiting = [row for row in rows if row.kind in WAITS]
    return Rests(
        course,
        tuple((row, tuple(_waits(course, row))) for row in waiting),
        frozenset(row for row in waiting if is_link(course.critical, row)),
    )


def _waits(course: ClassCourse, row: TimeRow) -> Iterator[Wait]:
    for wait in course.scheduled.waits:
        begins = course.plan.end(course.scheduled.problem, wait.after)
        if wait.until in row.keys and wait.title == row.what and begins == row.starts:
            yield wait


def is_link(chain: Iterable[ChainLink], row: TimeRow) -> bool:
    """Whether a wait is part of the chain; one with a fold is one link and several rows."""
    return any(
        link.starts <= row.starts < link.ends
        and link.title == row.what
        and who_is(link.who) in row.who
        for link in chain
    )


def _stands(course: ClassCourse, row: TimeRow) -> str:
    """How many places of the cabinet or the refrigerator are taken when dough comes there."""
    resource = next((place for place in (CABINET, REFRIGERATOR) if PLACES[place] == row.where), "")
    capacity = course.scheduled.problem.capacity.get(resource)
    if capacity is None:
        return ""
    taken = sum(
        stay.amount
        for stay in course.scheduled.problem.stays
        if stay.resource == resource and _is_there(course, stay.after, stay.until, row.starts)
    )
    return f"{taken} of {capacity}"


def _is_there(course: ClassCourse, after: str, until: str, minute: int) -> bool:
    problem, plan = course.scheduled.problem, course.plan
    return plan.end(problem, after) <= minute < plan.last_start(problem, until)
