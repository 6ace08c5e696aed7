"""A plan as the pages show it: times on the kitchen's clock, the drawing and the table."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from classes.hours import ClassHours
from classes.hours_answers import Answer
from classes.planning.hours.drawing import drawing_of
from classes.planning.hours.drawing_values import Drawing
from classes.planning.hours.table import TimeRow, rows_of
from classes.planning.hours.work import Solved

SEARCHED = "No better plan was found in the time. The one shown keeps every rule."


@dataclass(frozen=True, slots=True)
class Shown:
    """The drawing of a plan, and the same as rows of a table."""

    drawing: Drawing
    rows: tuple[TimeRow, ...]


def shown(answer: Answer) -> Shown | None:
    """The drawing and the table of an answer that has a plan."""
    hours, plan = answer.hours, answer.plan
    if hours is None or plan is None:
        return None
    label = labels(hours)
    ends = hours.scheduled.work.hours.minutes
    return Shown(
        drawing_of(hours.scheduled, plan, label=label, ends=ends),
        rows_of(hours.scheduled, plan, label),
    )


def labels(hours: ClassHours) -> Callable[[int], str]:
    """The clock in the kitchen at a minute of the plan: `10:30`."""
    return lambda minute: f"{hours.at(minute):%H:%M}"


def looked_words(before: Answer, found: Solved | None) -> str:
    """What came of looking for a better plan than the one of an answer."""
    hours = before.hours
    if hours is None or hours.solved is None or found is None:
        return SEARCHED
    label = labels(hours)
    if found.ready < hours.solved.ready:
        said = f"A better plan: ready {label(found.ready)} instead of {label(hours.solved.ready)}."
    else:
        said = f"Ready {label(found.ready)} as before."
    if found.proved:
        return f"{said} It is proved: no plan is ready earlier."
    return f"{said} At most {found.gap_min} min could still be gained."
