"""What a class leaves unsaid so that nobody can tell whether it fits its hours.

A plan is still made from what is said, but whether the class fits is then an open question.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.rising import can_rise
from classes.core.hours.problem.steps import mixing_of
from classes.core.hours.problem.values import (
    RISES,
    ClassWork,
    Mixing,
    RisesIn,
    TimedRecipe,
)
from recipes.core.choices import StepKind, TemperatureOf
from recipes.core.written import WrittenStep

# Nothing is baked below this: far under any oven's use, so that a typing error is noticed.
COLDEST_OVEN_C = Decimal(50)


class Gap(StrEnum):
    """What is missing or impossible."""

    BAKE = "a step that bakes"
    OVEN = "the oven's temperature"
    COLD_OVEN = "an oven that is hot"
    TIMES = "the minutes of a step"
    RISE = "a temperature at which dough rises"
    DOUGH = "a temperature that mixed dough can have"
    PLACE = "a room or cabinet in which dough rises"
    REFRIGERATOR = "how cold the refrigerator is"
    WORKED = "whether a step is done by hand, by machine or in a pan"
    OF_WHAT = "whether a temperature is the dough's or the room's"
    MINUTES = "a place in the plan for all minutes of the recipe"


@dataclass(frozen=True, slots=True)
class Unsaid:
    """A gap in a recipe, with its key and title.

    `number` counts the recipe's steps from 1, and is 0 if no single step has the gap. `minutes` are
    those missing from the plan, or too many in it if negative.
    """

    gap: Gap
    key: str
    recipe: str
    number: int = 0
    kind: StepKind | None = None
    temperature_c: Decimal | None = None
    minutes: int = 0


def unsaid_in(work: ClassWork) -> tuple[Unsaid, ...]:
    """What the recipes of a class leave unsaid, judged only by their steps."""
    found = [gap for recipe in work.recipes for gap in _in_recipe(recipe)]
    return tuple(dict.fromkeys([*found, *_in_room(work)]))


def unsaid_of(scheduled: Scheduled) -> tuple[Unsaid, ...]:
    """The same, and what the plan would also need to know."""
    return tuple(dict.fromkeys([*unsaid_in(scheduled.work), *_of_what(scheduled)]))


def _of_what(scheduled: Scheduled) -> Iterator[Unsaid]:
    recipes = {recipe.key: recipe for recipe in scheduled.work.recipes}
    for unclear in scheduled.unclear:
        recipe, step = recipes[unclear.recipe], unclear.step
        number = next(n for n, other in enumerate(recipe.steps, start=1) if other is step)
        celsius = step.temperature_c
        yield Unsaid(Gap.OF_WHAT, recipe.key, recipe.title, number, step.kind, celsius)


def _in_recipe(recipe: TimedRecipe) -> Iterator[Unsaid]:
    def gap(what: Gap, number: int = 0, step: WrittenStep | None = None) -> Unsaid:
        kind, celsius = (step.kind, step.temperature_c) if step else (None, None)
        return Unsaid(what, recipe.key, recipe.title, number, kind, celsius)

    if not any(step.kind is StepKind.BAKE for step in recipe.steps):
        yield gap(Gap.BAKE)
    if not can_rise(recipe.dough_c):
        yield Unsaid(Gap.DOUGH, recipe.key, recipe.title, temperature_c=recipe.dough_c)
    uses_mixer = mixing_of(recipe) is not Mixing.HAND
    for number, step in enumerate(recipe.steps, start=1):
        for what in _in_step(step):
            yield gap(what, number, step)
        if step.kind is StepKind.MIX and step.worked is None and uses_mixer:
            yield gap(Gap.WORKED, number, step)


def _in_step(step: WrittenStep) -> Iterator[Gap]:
    if not step.minutes:
        yield Gap.TIMES
    if step.kind is StepKind.BAKE:
        if step.oven_c is None:
            yield Gap.OVEN
        elif step.oven_c < COLDEST_OVEN_C:
            yield Gap.COLD_OVEN
    elif step.kind in RISES:
        if step.temperature_c is not None and not can_rise(step.temperature_c):
            yield Gap.RISE
        elif step.temperature_c is None and step.temperature_of is TemperatureOf.REFRIGERATOR:
            yield Gap.REFRIGERATOR


def _in_room(work: ClassWork) -> Iterator[Unsaid]:
    """A place where dough rises that is too warm or too cold for any dough."""
    room = work.room
    celsius = room.cabinet_c if room.rises_in is RisesIn.CABINET else room.room_c
    rises = any(step.kind in RISES for recipe in work.recipes for step in recipe.steps)
    if rises and celsius is not None and not can_rise(celsius):
        yield Unsaid(Gap.PLACE, "", "", temperature_c=celsius)
