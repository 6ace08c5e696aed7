"""A recipe's rises in a room at home, its oven, and its middle at a height.

All times at home are estimates at a steady room: the dough is taken to be as warm as the room
from the start. Beside the time by the doubling rule stand the least and the most of all rules.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from classes.at_home import HomeKitchen
from classes.forms.bench import USUAL_DOUGH_C
from recipes.baking.altitude import AltitudeAdvice, altitude_advice
from recipes.baking.errors import NoGrowth
from recipes.baking.fan_oven import with_fan_c
from recipes.baking.fermentation import DOUBLING, RULES, Fermentation, OutsideRange, time_at
from recipes.baking.kitchen_rise import CoreAt, core_at
from recipes.models import Revision, Step, StepKind

# A rise this cold was meant for the refrigerator, which is as cold at home (assumed).
REFRIGERATED_C = Decimal(12)


@dataclass(frozen=True, slots=True)
class HomeRise:
    """A rise as in class and at home, in minutes; `minutes` is None where nothing would grow."""

    name: str
    class_min: Decimal
    class_c: Decimal
    room_c: Decimal
    minutes: Decimal | None
    least_min: Decimal | None = None
    most_min: Decimal | None = None
    refrigerated: bool = False
    warning: OutsideRange | None = None


@dataclass(frozen=True, slots=True)
class HomeBake:
    """A bake: minutes in class, the recipe's temperature, and what to set the oven at home to."""

    minutes: int
    class_c: Decimal
    oven_c: Decimal
    fan: bool


@dataclass(frozen=True, slots=True)
class HomeHeat:
    """Rises and bakes in order, the middle, and what others change at the height."""

    rises: tuple[HomeRise, ...]
    bakes: tuple[HomeBake, ...]
    core: CoreAt | None
    advice: AltitudeAdvice

    @property
    def warned(self) -> OutsideRange | None:
        """The first warning of a rise, if there is any."""
        return next((rise.warning for rise in self.rises if rise.warning), None)


def home_heat(revision: Revision, kitchen: HomeKitchen) -> HomeHeat:
    """The heat of a revision, its steps prefetched, in a kitchen at home."""
    steps, height_m = list(revision.steps.all()), Decimal(kitchen.altitude_m)
    core_c, dough_c = revision.core_temperature_c, revision.dough_temperature_c
    usual_c = USUAL_DOUGH_C if dough_c is None else dough_c
    return HomeHeat(
        rises=tuple(_rises(steps, usual_c, kitchen.room_c)),
        bakes=tuple(
            _bake(step, kitchen.fan)
            for step in steps
            if step.kind == StepKind.BAKE and step.temperature_c is not None
        ),
        core=None if core_c is None else core_at(core_c, height_m),
        advice=altitude_advice(height_m),
    )


def _rises(steps: Iterable[Step], usual_c: Decimal, room_c: Decimal) -> Iterable[HomeRise]:
    for step in steps:
        minutes = step.hands_on_min + step.waiting_min
        if step.kind in (StepKind.BULK, StepKind.PROOF) and minutes:
            at_c = usual_c if step.temperature_c is None else step.temperature_c
            yield home_rise(step.get_kind_display(), Decimal(minutes), at_c, room_c)


def home_rise(name: str, class_min: Decimal, class_c: Decimal, room_c: Decimal) -> HomeRise:
    """A rise of so many minutes at a steady temperature, carried over to a steady room."""
    if class_c <= REFRIGERATED_C:
        return HomeRise(name, class_min, class_c, room_c, class_min, refrigerated=True)
    try:
        chosen = time_at(Fermentation(class_min, class_c, DOUBLING), room_c)
        found = [time_at(Fermentation(class_min, class_c, rule), room_c) for rule in RULES]
    except NoGrowth:
        return HomeRise(name, class_min, class_c, room_c, None)
    times = [one.minutes for one in found]
    return HomeRise(
        name,
        class_min,
        class_c,
        room_c,
        chosen.minutes,
        min(times),
        max(times),
        warning=chosen.warning,
    )


def _bake(step: Step, fan: bool) -> HomeBake:
    oven_c = with_fan_c(step.temperature_c) if fan else step.temperature_c
    return HomeBake(step.hands_on_min + step.waiting_min, step.temperature_c, oven_c, fan)
