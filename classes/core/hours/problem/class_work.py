"""A class as a scheduling problem: every dough of every station, step by step.

People of a station work together: one pair of hands. The instructor handles the demonstration's
dough, and is in one place at a time. Scoring belongs to baking: the oven is hot before a loaf is
turned out.
"""

from __future__ import annotations

from collections.abc import Iterator

from classes.core.hours.problem.chain import ProblemDraft
from classes.core.hours.problem.doughs import add_dough
from classes.core.hours.problem.keys import (
    CABINET,
    INSTRUCTOR,
    REFRIGERATOR,
    WELCOME,
    hands_key,
    key_of,
    mixer_key,
)
from classes.core.hours.problem.notes import EVERYBODY, Doing, Note, Scheduled
from classes.core.hours.problem.steps import first_mix
from classes.core.hours.problem.values import ClassWork, Group, TimedRecipe
from classes.core.hours.problem.work import Lag, Problem, Resource, Since, Task, TaskOption, Use
from recipes.core.choices import StepKind


def schedule_of(work: ClassWork) -> Scheduled:
    """The scheduling problem of a class. Raises NoGrowth if dough does not rise."""
    draft = ProblemDraft(work)
    _add_fixed_points(draft)
    for recipe in work.recipes:
        for group in recipe.groups:
            _add_weighing(draft, recipe, group)
    for recipe in work.recipes:
        for n, group in enumerate(recipe.doughs):
            add_dough(draft, recipe, group, is_lead=n == 0)
    for station in work.stations:
        _add_cleaning(draft, station)
    problem = Problem(
        tasks=tuple(draft.tasks),
        resources=tuple(_resources(work)),
        bakings=tuple(draft.bakings),
        ovens=work.ovens,
        stays=tuple(draft.stays),
    )
    return Scheduled(
        work, problem, draft.notes, tuple(draft.waits), draft.brought, tuple(draft.unclear)
    )


def _resources(work: ClassWork) -> Iterator[Resource]:
    yield Resource(INSTRUCTOR, "the instructor", 1)
    for station in work.stations:
        yield Resource(hands_key(station), station, 1)
    for kind in work.mixers:
        yield Resource(mixer_key(kind.capacity_g), "the mixers", kind.count)
    if work.room.cabinet_places:
        yield Resource(CABINET, "the proof cabinet", work.room.cabinet_places)
    if work.room.refrigerator_places:
        yield Resource(REFRIGERATOR, "the refrigerator", work.room.refrigerator_places)


def _add_fixed_points(draft: ProblemDraft) -> None:
    hours = draft.work.hours
    if hours.welcome_min:
        welcome = Task(
            WELCOME, "class", (TaskOption(hours.welcome_min, draft.all_hands),), latest=0
        )
        draft.add(welcome, Note("Welcome and cautions", EVERYBODY, Doing.WATCH))
    if hours.break_at is not None and hours.break_min:
        way = TaskOption(hours.break_min, draft.all_hands)
        pause = Task("break", "class", (way,), (), hours.break_at, hours.break_at)
        draft.add(pause, Note("Break", EVERYBODY, Doing.BREAK))


def _add_weighing(draft: ProblemDraft, recipe: TimedRecipe, group: Group) -> None:
    minutes = draft.work.hours.weighing_min
    if not minutes or first_mix(recipe) is None:
        return
    key = key_of("weigh", recipe, group)
    way = TaskOption(minutes, (Use(hands_key(group.station)),))
    note = Note("Weigh", group.station, Doing.HANDS, StepKind.PREPARE, recipe.key)
    draft.add(Task(key, key, (way,), draft.after_welcome()), note)


def _add_cleaning(draft: ProblemDraft, station: str) -> None:
    """Cleaning comes when all of a station's work is done and its last loaf is in the oven."""
    minutes = draft.work.hours.cleanup_min
    if not minutes:
        return
    hands = hands_key(station)
    loaded = [
        Lag(baking.key, baking.hands_min, since=Since.START)
        for baking in draft.bakings
        if baking.hands == hands
    ]
    notes = draft.notes
    done = [
        Lag(task.key)
        for task in draft.tasks
        if notes[task.key].who == station and notes[task.key].doing is not Doing.MOMENT
    ]
    key = f"clean|{station}"
    after = (*loaded, *done) or draft.after_welcome()
    task = Task(key, key, (TaskOption(minutes, (Use(hands),)),), after)
    draft.add(task, Note("Clean up", station, Doing.HANDS))
