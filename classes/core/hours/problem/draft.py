"""A class's problem while it is put together."""

from __future__ import annotations

from classes.core.hours.problem.keys import INSTRUCTOR, WELCOME, hands_key, key_of
from classes.core.hours.problem.notes import Note, Unclear, Wait
from classes.core.hours.problem.values import ClassWork, Group, TimedRecipe
from classes.core.hours.problem.work import Baking, Lag, Stay, Task, Use


class ProblemDraft:
    """Tasks, bakings, stays and waits of a class, gathered in the order of the work."""

    def __init__(self, work: ClassWork) -> None:
        self.work = work
        self.tasks: list[Task] = []
        self.bakings: list[Baking] = []
        self.stays: list[Stay] = []
        self.notes: dict[str, Note] = {}
        self.waits: list[Wait] = []
        self.brought: dict[tuple[str, str], int] = {}
        self.unclear: dict[Unclear, None] = {}
        self.all_hands = (
            Use(INSTRUCTOR),
            *(Use(hands_key(station)) for station in work.stations),
        )

    def add(self, task: Task, note: Note) -> str:
        """Add a task with its note; its key."""
        self.tasks.append(task)
        self.notes[task.key] = note
        return task.key

    def add_baking(self, baking: Baking, note: Note) -> str:
        """Add a baking with its note; its key."""
        self.bakings.append(baking)
        self.notes[baking.key] = note
        return baking.key

    def bring(self, recipe: TimedRecipe, group: Group, minutes: int) -> None:
        """Note what a brought dough has behind it, in minutes of the recipe."""
        known = (recipe.key, group.station)
        self.brought[known] = self.brought.get(known, 0) + minutes

    def after_welcome(self) -> tuple[Lag, ...]:
        """The lags of what nothing else comes before."""
        return (Lag(WELCOME),) if self.work.hours.welcome_min else ()

    def weighed(self, recipe: TimedRecipe, group: Group) -> tuple[Lag, ...]:
        """The lags of what comes after a station's weighing, if it weighs."""
        key = key_of("weigh", recipe, group)
        return (Lag(key),) if key in self.notes else ()
