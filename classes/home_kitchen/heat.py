"""A recipe's rises in a room at home, its oven, its core temperature, and when it is done.

All times at home are estimates for a steady room: the dough is assumed to be as warm as the room
from the start. Beside the time by the doubling rule are the least and the most by any rule.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from classes.core.hours.problem.oven_time import in_the_oven
from classes.home_kitchen.values import HomeKitchen
from classes.plan import TaughtRevision
from recipes.core.choices import ComponentKind, StepKind
from recipes.core.errors import NoGrowth
from recipes.core.heat.altitude import AltitudeAdvice, altitude_advice
from recipes.core.heat.core_temperature import Core, core_for
from recipes.core.heat.doneness import BreadKind
from recipes.core.heat.fan_oven import with_fan_c
from recipes.core.rise.fermentation import DOUBLING, RULES, Fermentation, OutsideRange, time_at

# A rise this cold was meant for the refrigerator, which is as cold at home (assumed).
REFRIGERATED_C = Decimal(12)

# Steps that wait at a temperature; preparing counts only if there is a preferment to ripen.
RISING = (StepKind.PREPARE, StepKind.BULK, StepKind.PROOF)

# Common practice.
DONE_SIGNS = {
    BreadKind.LEAN: "deep brown all round, and it sounds hollow when you knock on its base",
    BreadKind.SOFT: "golden on top, and its sides are set when you press them gently",
    BreadKind.PAN: "brown, it has come away from the pan, and its sides hold when it is out",
    BreadKind.DENSE: "dark brown, and firm all round",
}


@dataclass(frozen=True, slots=True)
class HomeRise:
    """A rise as in class and at home, in minutes; `minutes` is None if nothing would grow.

    `step` counts the recipe's steps from 0.
    """

    name: str
    class_min: Decimal
    class_c: Decimal
    room_c: Decimal
    minutes: Decimal | None
    least_min: Decimal | None = None
    most_min: Decimal | None = None
    refrigerated: bool = False
    warning: OutsideRange | None = None
    step: int = 0


@dataclass(frozen=True, slots=True)
class HomeBake:
    """A bake: minutes in the oven, °C of the recipe, and what to set the oven at home to."""

    minutes: int
    class_c: Decimal
    oven_c: Decimal
    fan: bool
    step: int = 0


@dataclass(frozen=True, slots=True)
class HomeHeat:
    """Rises and bakes in order, the core temperature, and published changes for the altitude.
    `signs` says in words what done bread looks like.
    """

    rises: tuple[HomeRise, ...]
    bakes: tuple[HomeBake, ...]
    core: Core | None
    advice: AltitudeAdvice
    signs: str = ""

    @property
    def warned(self) -> OutsideRange | None:
        """The first warning of a rise, if there is any."""
        return next((rise.warning for rise in self.rises if rise.warning), None)


def home_heat(taught: TaughtRevision, kitchen: HomeKitchen, *, in_tin: bool = False) -> HomeHeat:
    """The heat of a recipe in a kitchen at home."""
    steps, height_m = taught.timed.steps, Decimal(kitchen.altitude_m)
    return HomeHeat(
        rises=tuple(_rises(taught, kitchen.room_c)),
        bakes=tuple(
            _bake(n, minutes, step.oven_c, kitchen.fan)
            for n, (step, minutes) in enumerate(zip(steps, in_the_oven(steps), strict=True))
            if step.kind is StepKind.BAKE and step.oven_c is not None
        ),
        core=core_for(taught.core_temperature_c, taught.bread_kind, height_m),
        advice=altitude_advice(height_m),
        signs=_signs(taught.bread_kind, in_tin=in_tin),
    )


def _signs(kind: BreadKind | None, *, in_tin: bool) -> str:
    """A lean loaf in a tin is done when a pan loaf is."""
    if kind is None:
        return ""
    return DONE_SIGNS[BreadKind.PAN if in_tin and kind is BreadKind.LEAN else kind]


def _rises(taught: TaughtRevision, room_c: Decimal) -> Iterator[HomeRise]:
    ripens = ComponentKind.PREFERMENT in taught.part_kinds
    for n, step in enumerate(taught.timed.steps):
        minutes = step.minutes
        if step.kind is StepKind.PREPARE:
            minutes = step.waiting_min if ripens and step.temperature_c is not None else 0
        if step.kind in RISING and minutes:
            at_c = taught.timed.dough_c if step.temperature_c is None else step.temperature_c
            yield home_rise(step.kind.label, Decimal(minutes), at_c, room_c, n)


def home_rise(
    name: str, class_min: Decimal, class_c: Decimal, room_c: Decimal, step: int = 0
) -> HomeRise:
    """A rise of some minutes at a steady temperature, converted to a steady room."""
    if class_c <= REFRIGERATED_C:
        return HomeRise(name, class_min, class_c, room_c, class_min, refrigerated=True, step=step)
    try:
        chosen = time_at(Fermentation(class_min, class_c, DOUBLING), room_c)
        found = [time_at(Fermentation(class_min, class_c, rule), room_c) for rule in RULES]
    except NoGrowth:
        return HomeRise(name, class_min, class_c, room_c, None, step=step)
    times = [rise.minutes for rise in found]
    return HomeRise(
        name,
        class_min,
        class_c,
        room_c,
        chosen.minutes,
        min(times),
        max(times),
        warning=chosen.warning,
        step=step,
    )


def _bake(n: int, minutes: int, class_c: Decimal, fan: bool) -> HomeBake:
    return HomeBake(minutes, class_c, with_fan_c(class_c) if fan else class_c, fan, n)
