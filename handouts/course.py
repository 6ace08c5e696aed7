"""The plan of a class with the clock it is told by and how hot the middle of its breads gets."""

from __future__ import annotations

from collections.abc import Mapping

from classes.core.hours.advice.critical import ChainLink
from classes.hours.plan import ClassHours
from classes.plan import ClassPlan
from handouts.paper import PaperError
from handouts.run_sheet.course import Course
from recipes.core.heat.core_temperature import Core


class NoPlan(PaperError):
    """A paper by the clock, of a class whose hours have no plan."""


def course_of(
    hours: ClassHours, cores: Mapping[str, Core], critical: tuple[ChainLink, ...] = ()
) -> Course:
    """The plan as papers tell it; `critical` is the chain that decides its end. Raises NoPlan."""
    if hours.solved is None:
        raise NoPlan
    day = hours.moment(0).date
    return Course(
        scheduled=hours.scheduled,
        plan=hours.solved.plan,
        label=lambda minute: hours.moment(minute).beside(day, short=True),
        critical=critical,
        cores=cores,
    )


def cores_of(plan: ClassPlan) -> dict[str, Core]:
    """By recipe key: the recipe's own core temperature, or the range of its kind of bread."""
    return {one.key: one.core for one in plan.taught if one.core is not None}
