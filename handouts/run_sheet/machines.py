"""What a plan uses: mixers, places where dough waits, and ovens until they are turned off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from classes.core.hours.drawing.spans import (
    AT_THE_BENCH,
    ActivityKind,
    held_mass,
    mixers_of,
    who_is,
)
from classes.core.hours.drawing.table import TimeRow, rows_of
from classes.core.hours.problem.steps import in_class
from classes.core.hours.problem.work import Task
from handouts.run_sheet.course import ClassCourse, HandLine, MixerTurn


@dataclass(frozen=True, slots=True)
class PlaceTurn:
    """Dough in the cabinet or the refrigerator."""

    clock: str
    until: str
    place: str
    temperature_c: Decimal | None
    who: str
    recipe: str
    what: str


def hand_lines(course: ClassCourse, rows: Iterable[TimeRow]) -> Iterator[HandLine]:
    """Who does the same work at the same time: mixers first, each mass of dough by itself."""
    tasks = {task.key: task for task in course.scheduled.problem.tasks}
    found: dict[MixerTurn | None, list[str]] = {}
    for key in (key for row in rows for key in row.keys):
        turn = _mixer_turn(course, tasks[key])
        found.setdefault(turn, []).append(who_is(course.scheduled.notes[key].who))
    for turn in sorted(found, key=lambda turn: turn is None):
        who = course.everybody(found[turn])
        yield HandLine(who, turn and replace(turn, doughs=len(found[turn])))


def _mixer_turn(course: ClassCourse, task: Task) -> MixerTurn | None:
    kind = mixers_of(course.scheduled, task, course.plan)
    if kind is None:
        return None
    note = course.scheduled.notes[task.key]
    recipe = course.recipes[note.recipe]
    minutes = task.ways[course.plan.slots[task.key].way].minutes
    once = [step.hands_on_min for step in in_class(recipe) if step.text == note.text]
    return MixerTurn(
        held=held_mass(kind),
        dough_g=next(group.dough_g for group in recipe.doughs if group.station == note.who),
        turns=minutes // max([1, *once]),
    )


def place_turns(course: ClassCourse) -> Iterator[PlaceTurn]:
    """Everything that rises away from the benches."""
    for row in rows_of(course.scheduled, course.plan, course.label):
        if row.kind is ActivityKind.RISE and row.where != AT_THE_BENCH:
            yield PlaceTurn(
                row.from_label,
                row.to_label,
                row.where,
                row.temperature_c,
                course.everybody(row.who),
                row.recipe,
                row.what,
            )


def ovens_off(course: ClassCourse) -> Iterator[tuple[str, str]]:
    """Every oven that bakes, and when its last load is out."""
    for oven in course.scheduled.work.ovens:
        ends = [load.end for load in course.plan.loads if load.oven == oven.key]
        if ends:
            yield oven.name, course.label(max(ends))
