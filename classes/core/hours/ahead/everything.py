"""All that has to be done before it is needed, planned backward from the plan of a class."""

from __future__ import annotations

from classes.core.hours.ahead.diary import ASSISTANT, AheadTask, Diary
from classes.core.hours.ahead.home import brought_doughs
from classes.core.hours.ahead.kitchen import cabinet_on, ovens_changed, ovens_on
from classes.core.hours.ahead.recipes import class_needs, ready_for
from classes.core.hours.drawing.spans import INSTRUCTOR
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.work import Plan

__all__ = ["ASSISTANT", "INSTRUCTOR", "AheadTask", "ahead_of"]


def ahead_of(scheduled: Scheduled, plan: Plan) -> tuple[AheadTask, ...]:
    """Preferments, roux, butter, brought doughs, ovens and the cabinet, by when they start.

    What can move least is entered first, so that nobody has hands in two places.
    """
    diary = Diary(scheduled, plan)
    tasks = [
        *ovens_changed(scheduled, plan, diary),
        *ovens_on(scheduled, plan, diary),
        *cabinet_on(scheduled, plan, diary),
    ]
    for need in class_needs(scheduled, plan):
        tasks += ready_for(need, scheduled.work.room, diary)
    tasks += brought_doughs(scheduled, plan, diary)
    return tuple(sorted(tasks, key=lambda task: (task.starts, task.key)))
