"""Whether a plan has all minutes of its recipes: those in class, those ahead, those brought.

Work in turns, and rises in another place than the recipe's, take other times than are written; a
minute of the recipe counts once, however long it takes in this class.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from classes.core.hours.ahead.diary import AheadTask
from classes.core.hours.checking.unsaid import Gap, Unsaid
from classes.core.hours.problem.notes import Note, Scheduled, Wait


@dataclass(frozen=True, slots=True)
class Minutes:
    """The minutes of a recipe for one of its doughs: as written, and where they are."""

    key: str
    recipe: str
    who: str
    written: int
    in_class: int
    ahead: int
    brought: int

    @property
    def missing(self) -> int:
        """How many are nowhere; negative where more are planned than written."""
        return self.written - self.in_class - self.ahead - self.brought


def minutes_of(scheduled: Scheduled, ahead: Iterable[AheadTask]) -> tuple[Minutes, ...]:
    """The minutes of every dough of a class, with what is done ahead for its plan."""
    return tuple(_minutes(scheduled, list(ahead)))


def _minutes(scheduled: Scheduled, ahead: list[AheadTask]) -> Iterator[Minutes]:
    for recipe in scheduled.work.recipes:
        before = sum(task.written_min for task in ahead if task.recipe == recipe.key)
        for group in recipe.doughs:
            whose = (recipe.key, group.station)
            yield Minutes(
                key=recipe.key,
                recipe=recipe.title,
                who=group.station,
                written=sum(step.minutes for step in recipe.steps),
                in_class=_in_class(scheduled, *whose),
                ahead=before,
                brought=scheduled.brought.get(whose, 0),
            )


def _in_class(scheduled: Scheduled, recipe: str, who: str) -> int:
    told: list[Note | Wait] = [*scheduled.notes.values(), *scheduled.waits]
    return sum(one.written_min for one in told if (one.recipe, one.who) == (recipe, who))


def left_out(scheduled: Scheduled, ahead: Iterable[AheadTask]) -> tuple[Unsaid, ...]:
    """Recipes whose minutes are not all planned, or planned twice."""
    found = (
        Unsaid(Gap.MINUTES, minute.key, minute.recipe, minutes=minute.missing)
        for minute in minutes_of(scheduled, ahead)
        if minute.missing
    )
    return tuple(dict.fromkeys(found))
