"""The plan of a class with the clock it is told by and how hot the middle of its breads gets."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from classes.hours import ClassHours
from classes.models import ClassSession
from classes.planning.hours.critical import Link
from handouts.documents import PaperError
from handouts.run_course import Core, Course
from recipes.baking.altitude import core_target
from recipes.baking.doneness import CORE_RANGES, BreadKind
from recipes.baking.kitchen_rise import core_at
from recipes.models import Revision


class NoPlan(PaperError):
    """A paper by the clock, of a class whose hours have no plan."""


def course_of(hours: ClassHours, critical: tuple[Link, ...] = ()) -> Course:
    """The plan as papers tell it; `critical` is the chain that decides its end. Raises NoPlan."""
    if hours.solved is None:
        raise NoPlan
    day = hours.moment(0).date
    return Course(
        scheduled=hours.scheduled,
        plan=hours.solved.plan,
        label=lambda minute: hours.moment(minute).beside(day, short=True),
        critical=critical,
        cores=cores_of(hours.session),
    )


def cores_of(session: ClassSession) -> dict[str, Core]:
    """By recipe key: the recipe's own core temperature, or the range of its kind of bread."""
    return dict(_cores(session))


def _cores(session: ClassSession) -> Iterator[tuple[str, Core]]:
    altitude_m = Decimal(session.kitchen.altitude_m)
    for row in session.taught.all():
        core = _core(row.revision, altitude_m)
        if core is not None:
            yield str(row.revision.pk), core


def _core(revision: Revision, altitude_m: Decimal) -> Core | None:
    if revision.core_temperature_c is not None:
        own = core_at(revision.core_temperature_c, altitude_m)
        return Core(own.aim_c, None, own.boiling_c, own.capped)
    if not revision.bread_kind:
        return None
    usual = core_target(CORE_RANGES[BreadKind(revision.bread_kind)], altitude_m)
    return Core(usual.least_c, usual.most_c, usual.boiling_c, usual.capped)
