"""When starters are fed: a levain for its mixing, and the mother before that.

The time of a levain is the recipe's own, converted to where it stands by the rule of the room. For
another ratio it is calculated from that: a starter is assumed to multiply at a steady pace until it
is ripe, so the time is proportional to the logarithm of its growth. This, and two feedings of the
mother beforehand, are common practice, from memory: a proposal.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal

from classes.core.feeding import Feeding, refreshed, refreshed_in_words
from classes.core.hours.ahead.diary import AheadTask, degrees, sentences, spelled
from classes.core.hours.problem.rising import COLD_UP_TO_C, overnight_min, ripens
from classes.core.hours.problem.steps import is_ahead
from classes.core.hours.problem.values import ClassWork, Room, TimedRecipe
from recipes.core.allergen_trace import StepText, steps_naming
from recipes.core.choices import TemperatureOf
from recipes.core.errors import NoGrowth
from recipes.core.written import WrittenStep

FEED_MIN = 5
REFRESHINGS = 2
BY_DAY_UP_TO_MIN = 240


def stands_at(minutes: int, room: Room) -> Decimal:
    """Where something stands for this long: by day in the class's room, else overnight."""
    return room.room_c if minutes <= BY_DAY_UP_TO_MIN else room.night_c


@dataclass(frozen=True, slots=True)
class Levain:
    """The step of a recipe that makes its levains, and what goes into their tubs."""

    step: WrittenStep
    feedings: tuple[Feeding, ...]

    @property
    def amounts(self) -> str:
        """What goes into each tub; variants are named."""
        if len(self.feedings) == 1:
            return self.feedings[0].amounts
        return " ".join(f"{feeding.label}: {feeding.amounts}" for feeding in self.feedings)


def levain_of(recipe: TimedRecipe, feedings: Sequence[Feeding]) -> Levain | None:
    """The levain of a recipe; None if it has none, or no step that clearly makes it."""
    own = tuple(
        feeding for feeding in feedings if feeding.taught == recipe.key and feeding.has_ratio
    )
    step = _step(recipe, own) if own else None
    return Levain(step, own) if step else None


def _step(recipe: TimedRecipe, feedings: Sequence[Feeding]) -> WrittenStep | None:
    """The step before the first mixing that names the levain or its starter, or the only one."""
    ahead = [step for step in recipe.steps if is_ahead(recipe, step) and step.waiting_min]
    names = [name for feeding in feedings for name in (feeding.part, feeding.starter)]
    texts = [StepText(step.kind, step.text) for step in ahead]
    named = [ahead[found.number - 1] for found in steps_naming(names, texts)]
    return next(iter(named if named else ahead[:1] if len(ahead) == 1 else []), None)


def feedings_unsaid(work: ClassWork) -> tuple[str, ...]:
    """What is missing for planning when and with how much a starter is fed, in sentences."""
    return tuple(
        f"{recipe.title}: cannot say when to feed {feeding.starter}. {lack}"
        for recipe in work.recipes
        for feeding in work.feedings
        if feeding.taught == recipe.key
        for lack in _lacks(recipe, feeding, work)
    )


def _lacks(recipe: TimedRecipe, feeding: Feeding, work: ClassWork) -> Iterator[str]:
    levain = levain_of(recipe, work.feedings)
    if not feeding.has_ratio:
        yield "It goes straight in: no levain says in what ratio, how long and how warm it is fed."
    elif levain is None:
        yield f"No step says how long {feeding.part} takes, nor how warm it stands."
    elif levain.step.temperature_c is None:
        yield f"The step does not say how warm {feeding.part} stands."
    elif levain.step.temperature_c <= COLD_UP_TO_C or not ripens(levain.step, work.room):
        yield f"By the rule in use {feeding.part} does not ripen at the temperature of its step."
    elif feeding.hydration is None:
        yield "How much water it has to its flour is not known, so neither is how to refresh it."


def with_amounts(task: AheadTask, levain: Levain) -> AheadTask:
    """The task of a levain with all that goes into it."""
    ratio = f"Starter to flour to water is {levain.feedings[0].ratio}."
    return replace(
        task,
        title=task.title.replace("Prepare", f"Feed the starter: {levain.feedings[0].part}", 1),
        text=sentences(task.text, levain.amounts, ratio),
        feeds=True,
    )


def refreshings(levain: Levain, ready: int, room: Room, task: AheadTask) -> Iterator[AheadTask]:
    """Two feedings of the mother before a levain that is stirred at `ready`, the last first."""
    first = levain.feedings[0]
    if first.hydration is None or not ripens(levain.step, room):
        return
    wanted_g = sum((feeding.starter_g for feeding in levain.feedings), Decimal(0))
    for number in range(REFRESHINGS, 0, -1):
        fed = refreshed(wanted_g, first.hydration)
        written = _minutes(levain, fed.makes_g / fed.seed_g)
        stands_c = stands_at(written, room)
        try:
            minutes = overnight_min(
                replace(levain.step, waiting_min=written), replace(room, night_c=stands_c)
            )
        except NoGrowth:
            return
        yield AheadTask(
            key=task.key.replace("prepare", f"refresh{number}-", 1),
            title=f"Proposal: refresh {first.starter} for {_of(task)}",
            why=_why(levain, minutes, stands_c, room),
            recipe=task.recipe,
            starts=ready - minutes,
            hands_min=FEED_MIN,
            ready_by=ready,
            text=f"{refreshed_in_words(fed, first)}. Keep the rest as you always do.",
            temperature_c=stands_c,
            temperature_of=TemperatureOf.ROOM,
            feeds=True,
        )
        ready, wanted_g = ready - minutes, fed.seed_g


def _of(task: AheadTask) -> str:
    return task.title.rpartition(" for ")[2]


def _minutes(levain: Levain, times: Decimal) -> int:
    """How long the starter takes, at the levain's temperature, to multiply this many times."""
    share = times.ln() / levain.feedings[0].times.ln()
    minutes = levain.step.waiting_min * share
    return max(1, int(minutes.to_integral_value(ROUND_HALF_UP)))


def _why(levain: Levain, minutes: int, stands_c: Decimal, room: Room) -> str:
    step, first = levain.step, levain.feedings[0]
    own = degrees(step.temperature_c, room) if step.temperature_c is not None else ""
    return (
        f"{spelled(minutes)} at {degrees(stands_c, room)} by the {room.rule.name}, from the "
        f"levain’s {spelled(step.waiting_min)} at {own} in {first.ratio}. Two feedings before are "
        "common practice: judge it by its rise."
    )
