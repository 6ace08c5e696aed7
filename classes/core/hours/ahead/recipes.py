"""What must be ready for a mixing: preferments, roux, soft butter, and what stays cold.

How long butter takes is common practice, from memory; how long a preferment takes comes from the
fermentation rule of the room.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from classes.core.hours.ahead.diary import (
    MOMENT_MIN,
    AheadTask,
    Chore,
    Diary,
    degrees,
    sentences,
    spelled,
)
from classes.core.hours.ahead.starters import levain_of, refreshings, stands_at, with_amounts
from classes.core.hours.problem.keys import key_of
from classes.core.hours.problem.notes import Doing, Scheduled
from classes.core.hours.problem.rising import overnight_min, ripens
from classes.core.hours.problem.steps import first_mix, is_ahead
from classes.core.hours.problem.values import ClassWork, Room, TimedRecipe
from classes.core.hours.problem.work import Plan
from recipes.core.choices import StepKind, TemperatureOf
from recipes.core.errors import NoGrowth
from recipes.core.written import WrittenStep

SOFT_AFTER_MIN = 60
SOFT_IN_WARMTH_AFTER_MIN = 30
WARM_FROM_C = Decimal(25)


@dataclass(frozen=True, slots=True)
class Need:
    """A mixing at a minute, and the minute from which its ingredients are weighed.

    `purpose` says which mixing it is; keys of what is done for it start with `mark`.
    """

    recipe: TimedRecipe
    at: int
    weighed_at: int
    purpose: str = "the first mixing"
    mark: str = ""
    at_home: bool = False

    def key(self, what: str) -> str:
        """The key of something done for it."""
        return f"{self.mark}{what}|{self.recipe.key}"


def class_needs(scheduled: Scheduled, plan: Plan) -> Iterator[Need]:
    """The first mixing of each recipe in the class, for all its doughs."""
    for recipe in scheduled.work.recipes:
        if mixings := _starts(scheduled, plan, recipe):
            at = min(mixings)
            keys = [key_of("weigh", recipe, group) for group in recipe.doughs]
            weighings = [plan.slots[key].start for key in keys if key in plan.slots]
            yield Need(recipe, at, min(weighings, default=at))


def _starts(scheduled: Scheduled, plan: Plan, recipe: TimedRecipe) -> list[int]:
    """When its doughs are mixed in class; without minutes for that, when it is first at hand."""
    own = {key: note for key, note in scheduled.notes.items() if note.recipe == recipe.key}
    mixings = [
        plan.slots[key].start
        for key, note in own.items()
        if note.kind is StepKind.MIX and note.doing in (Doing.HANDS, Doing.MOMENT)
    ]
    if mixings or recipe.brings or first_mix(recipe) is None:
        return mixings
    return [min((plan.slots[key].start for key in own if key in plan.slots), default=0)]


def ready_for(need: Need, work: ClassWork, diary: Diary) -> Iterator[AheadTask]:
    """Everything that must be done ahead of a mixing, the latest due first."""
    room, levain = work.room, levain_of(need.recipe, work.feedings)
    if need.recipe.chills and not need.at_home:
        yield diary.enter(_cold(need))
    if need.recipe.softens_butter:
        yield diary.enter(_butter(need, room), at_home=need.at_home)
    ready = need.at
    steps = [(n, step) for n, step in enumerate(need.recipe.steps) if is_ahead(need.recipe, step)]
    for number, step in reversed(steps):
        task = _preferment if ripens(step, room) else _other
        made = task(need, number, step, room, ready)
        if levain and step is levain.step:
            made = with_amounts(made, levain)
        entered = diary.enter(made, at_home=need.at_home)
        yield entered
        ready = entered.starts
        if levain and step is levain.step:
            for refreshing in refreshings(levain, ready, room, entered):
                yield diary.enter(refreshing, at_home=True)


def _preferment(need: Need, number: int, step: WrittenStep, room: Room, ready: int) -> AheadTask:
    """What ripens while it stands; its time starts when it is stirred."""
    assert step.temperature_c is not None  # noqa: S101
    stands_c = stands_at(step.waiting_min, room)
    own_c = step.temperature_c
    why = f"Ripe for {need.purpose}: {spelled(step.waiting_min)} at {degrees(own_c, room)}"
    text = step.text
    try:
        minutes = overnight_min(step, replace(room, night_c=stands_c))
    except NoGrowth:
        text = sentences(text, f"At {degrees(stands_c, room)} nothing ripens: keep it warm.")
        minutes, stands_c = step.waiting_min, step.temperature_c
    if stands_c != step.temperature_c:
        why += f" in the recipe, {spelled(minutes)} at {degrees(stands_c, room)}"
    return AheadTask(
        key=need.key(f"prepare{number}"),
        title=f"Prepare for {need.recipe.title}",
        why=f"{why}.",
        recipe=need.recipe.key,
        starts=ready - max(minutes, step.hands_on_min),
        hands_min=step.hands_on_min,
        ready_by=ready,
        text=text,
        temperature_c=stands_c,
        temperature_of=TemperatureOf.ROOM,
        written_min=0 if need.at_home else step.minutes,
        step=number,
    )


def _other(need: Need, number: int, step: WrittenStep, room: Room, ready: int) -> AheadTask:
    """A roux, a soaker and the like: done before the class begins and before it is weighed."""
    ready = min(ready, need.weighed_at)
    ends = min(ready - step.waiting_min, 0)
    stands = f"It stands {spelled(step.waiting_min)}. " if step.waiting_min else ""
    return AheadTask(
        key=need.key(f"prepare{number}"),
        title=f"Prepare for {need.recipe.title}",
        why=f"{stands}It is weighed out for {need.purpose}.",
        recipe=need.recipe.key,
        starts=ends - step.hands_on_min,
        hands_min=step.hands_on_min,
        ready_by=ready,
        text=step.text,
        temperature_c=step.temperature_c,
        temperature_of=step.temperature_of,
        written_min=0 if need.at_home else step.minutes,
        step=number,
    )


def _butter(need: Need, room: Room) -> AheadTask:
    is_warm = room.room_c >= WARM_FROM_C
    minutes = SOFT_IN_WARMTH_AFTER_MIN if is_warm else SOFT_AFTER_MIN
    return AheadTask(
        key=need.key("butter"),
        title=f"Take the butter out for {need.recipe.title}",
        why=f"Soft for {need.purpose}: about {minutes} min at {degrees(room.room_c, room)}, "
        "common practice.",
        recipe=need.recipe.key,
        starts=need.at - minutes,
        hands_min=MOMENT_MIN,
        ready_by=need.at,
        text="Cut it into pieces. It is soft when a finger leaves a dent and it does not shine.",
        chore=Chore.TAKE_OUT,
    )


def _cold(need: Need) -> AheadTask:
    return AheadTask(
        key=need.key("chilled"),
        title=f"Take out what is chilled for {need.recipe.title}",
        why="Milk, egg and the like stay in the refrigerator until they are weighed.",
        recipe=need.recipe.key,
        starts=need.weighed_at - MOMENT_MIN,
        hands_min=MOMENT_MIN,
        ready_by=need.weighed_at,
        text="No earlier than this, and what is left over goes back at once.",
        chore=Chore.TAKE_OUT,
    )
