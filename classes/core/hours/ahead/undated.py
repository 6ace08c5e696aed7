"""What is done ahead of a class whose hours have no plan: the same work, without a clock."""

from __future__ import annotations

from collections.abc import Iterator

from classes.core.hours.ahead.diary import MOMENT_MIN, AheadTask, Chore, Diary, spelled
from classes.core.hours.ahead.recipes import Need, ready_for
from classes.core.hours.problem.steps import in_class
from classes.core.hours.problem.values import ClassWork, RisesIn
from recipes.core.choices import StepKind
from recipes.core.written import WrittenStep


class _AnyTime(Diary):
    """A diary in which everybody is always free."""

    def __init__(self) -> None:
        """It has no lines."""

    def enter(self, task: AheadTask, *, at_home: bool = False) -> AheadTask:
        return task


def undated(work: ClassWork) -> Iterator[AheadTask]:
    """What every recipe needs, in the order of work; the minutes of these tasks mean nothing."""
    for recipe in work.recipes:
        yield from reversed(list(ready_for(Need(recipe, 0, 0), work, _AnyTime())))
    if work.room.rises_in is RisesIn.CABINET:
        yield _switch_on("cabinet", "the proof cabinet", "Warm for the first dough.")
    yield from _ovens(work)


def _ovens(work: ClassWork) -> Iterator[AheadTask]:
    longest_min = max((oven.preheat_min for oven in work.ovens), default=0)
    takes = f"Preheating takes up to {spelled(longest_min)}." if work.ovens else ""
    for recipe in work.recipes:
        for step in in_class(recipe):
            if step.kind is StepKind.BAKE:
                key, what = f"on|{recipe.key}", f"the ovens for {recipe.title}"
                yield _switch_on(key, what, takes, step)
                break


def _switch_on(key: str, what: str, why: str, step: WrittenStep | None = None) -> AheadTask:
    return AheadTask(
        key=key,
        title=f"Turn on {what}",
        why=why,
        recipe="",
        starts=0,
        hands_min=MOMENT_MIN,
        ready_by=0,
        temperature_c=step.oven_c if step else None,
        chore=Chore.SWITCH_ON,
    )
