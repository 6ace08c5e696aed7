"""When the starters of a class are fed and with how much, in sentences for lists and papers."""

from __future__ import annotations

from collections.abc import Iterator

from classes.core.hours.ahead.everything import ahead_of
from classes.core.hours.ahead.starters import feedings_unsaid
from classes.plan import ClassPlan
from recipes.core.errors import NoGrowth

NOT_PLANNED = "Cannot say when to feed the starters: the hours of the class cannot be planned yet."


def said_feedings(plan: ClassPlan) -> tuple[str, ...]:
    """Each feeding by the clock, and what is missing to plan one; empty without a starter."""
    return tuple(_said(plan)) if plan.feedings else ()


def _said(plan: ClassPlan) -> Iterator[str]:
    try:
        hours = plan.hours
    except NoGrowth:
        yield NOT_PLANNED
        return
    yield from feedings_unsaid(hours.scheduled.work)
    if hours.solved is None:
        yield NOT_PLANNED
        return
    day = hours.moment(0).date
    for task in ahead_of(hours.scheduled, hours.solved.plan):
        if task.feeds:
            yield f"{hours.moment(task.starts).beside(day)}: {task.title}. {task.text}"
