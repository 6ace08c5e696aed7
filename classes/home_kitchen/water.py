"""How warm the water must be at home for the dough to reach the recipe's temperature.

By the bakers' formula, with the flour and any preferment as warm as the room; by heat balance if
something goes in hot, or cold from the refrigerator, since the formula ignores masses. It is an
estimate: what mixing adds is a usual figure for hands or a home mixer, not one measured there.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import ClassVar

from classes.dough.water_form import USUAL_DOUGH_C
from classes.home_kitchen.values import HomeKitchen
from recipes.core.choices import ComponentKind
from recipes.core.composition import Composition
from recipes.core.errors import BakingError
from recipes.core.heat.dough_batch import DoughBatch, Liquid, NotKnown, Temperatures, liquid_of
from recipes.core.heat.dough_liquid import (
    NO_RISE,
    Balance,
    LiquidPlan,
    Means,
    NotColdEnough,
    TradeSum,
    plan_liquid,
)
from recipes.core.heat.in_kitchen import HAND_C, MIXER_C
from recipes.core.heat.part_heat import PartHeat
from recipes.core.heat.water import (
    YEAST_LIMIT_C,
    Friction,
    IceNotEnough,
    Model,
    TooHotForYeast,
)
from recipes.core.numbers import ZERO
from recipes.core.scaling import Sheet

# Common practice, from memory: what a hand can stand for long, and what a refrigerator gives.
WARMEST_USED_C = Decimal(40)
CHILLED_C = Decimal(4)

_HALVINGS = 20

Bench = TradeSum | Balance


@dataclass(frozen=True, slots=True)
class Foods:
    """The composition of ingredients, by key, and which of them are eggs."""

    by_key: Mapping[str, Composition]
    eggs: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class WaterUnknown:
    """A liquid whose temperature cannot be worked out, and why."""

    name: str
    why: str

    is_known: ClassVar[bool] = False


@dataclass(frozen=True, slots=True)
class HomeWater:
    """The liquid of a dough: how warm to make it, and the dough's temperature with it, in °C.

    It may consist of `ice_g` grams of ice and `water_g` grams of tap water. `out_of_reach` says
    that the dough will miss its temperature, and `asked_c` what would be needed if that is hotter
    than `WARMEST_USED_C`. `by_balance`: from all masses, with the roux at `roux_c`, without what a
    mixer adds. `cool_roux_c`: how far a roux must cool first, because hot it would make the dough
    `uncooled_c`.
    """

    is_known: ClassVar[bool] = True

    name: str
    use_c: Decimal
    dough_c: Decimal
    wanted_c: Decimal
    friction_c: Decimal
    means: Means
    ice_g: Decimal = ZERO
    water_g: Decimal = ZERO
    asked_c: Decimal | None = None
    out_of_reach: bool = False
    by_balance: bool = False
    roux_c: Decimal | None = None
    cool_roux_c: Decimal | None = None
    uncooled_c: Decimal | None = None
    mixer_unknown: bool = False

    @property
    def is_too_hot(self) -> bool:
        """Whether the wanted dough would need a liquid hotter than hands or yeast can stand."""
        return self.asked_c is not None

    @property
    def harms_yeast(self) -> bool:
        return self.asked_c is not None and self.asked_c > YEAST_LIMIT_C

    @property
    def with_ice(self) -> bool:
        return self.means is Means.ICE

    @property
    def melts_in_dough(self) -> bool:
        """Whether the ice cannot all melt before it is mixed in."""
        return self.with_ice and self.use_c < ZERO

    @property
    def is_from_tap(self) -> bool:
        """Whether it can be used as it comes."""
        return self.means is Means.AS_IT_IS

    @property
    def is_chilled(self) -> bool:
        return self.means is Means.CHILL


def home_water(
    sheet: Sheet,
    wanted_c: Decimal | None,
    kitchen: HomeKitchen,
    heat: PartHeat | None = None,
    foods: Foods | None = None,
) -> HomeWater | WaterUnknown | None:
    """The water for a batch at home; None if the final dough takes no liquid.

    `heat` says how warm the parts go in; without it they are as warm as the room.
    """
    liquid, heat = liquid_of(sheet), heat or PartHeat()
    if liquid is None:
        return None
    if heat.cannot_say:
        return WaterUnknown(liquid.name, _unsaid(heat.cannot_say))
    at = _temperatures(sheet, kitchen, heat)
    wanted = USUAL_DOUGH_C if wanted_c is None else wanted_c
    if not heat.needs_masses(kitchen.room_c):
        return _planned(TradeSum(at, _friction(kitchen)), liquid, wanted)
    known = foods or Foods({})
    bench = Balance(at, DoughBatch(sheet, known.by_key, known.eggs), liquid, NO_RISE)
    try:
        bench.dough_c(kitchen.room_c)
    except NotKnown as error:
        unknown = ", ".join(error.names)
        return WaterUnknown(liquid.name, f"the composition of these is not known: {unknown}")
    return _by_balance(bench, wanted, kitchen, heat)


def _by_balance(
    bench: Balance, wanted_c: Decimal, kitchen: HomeKitchen, heat: PartHeat
) -> HomeWater | None:
    found = _planned(bench, bench.liquid, wanted_c)
    if found is None:
        return None
    found = replace(found, by_balance=True, roux_c=heat.roux_c, mixer_unknown=kitchen.by_mixer)
    if not (heat.roux_is_hot and found.out_of_reach and found.means is Means.CHILL):
        return found
    cool_c = _roux_cooled_c(bench, wanted_c, kitchen.room_c)
    if cool_c is None:
        return found
    cooled = replace(found, roux_c=cool_c, cool_roux_c=cool_c, uncooled_c=found.dough_c)
    return replace(cooled, dough_c=wanted_c, out_of_reach=False)


def _roux_cooled_c(bench: Balance, wanted_c: Decimal, room_c: Decimal) -> Decimal | None:
    """How warm the roux may be for the wanted dough with liquid from the refrigerator.

    None if even a roux at room temperature is too warm.
    """

    def dough_c(roux_c: Decimal) -> Decimal:
        return replace(bench, at=replace(bench.at, roux_c=roux_c)).dough_c(CHILLED_C)

    low, high = room_c, bench.at.roux_c
    if dough_c(low) > wanted_c:
        return None
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if dough_c(middle) > wanted_c else (middle, high)
    return low


def _unsaid(kinds: tuple[ComponentKind, ...]) -> str:
    parts = " and ".join(f"the {kind.value}" for kind in kinds)
    verb = "goes" if len(kinds) == 1 else "go"
    return f"the recipe does not say how warm {parts} {verb} in"


def _temperatures(sheet: Sheet, kitchen: HomeKitchen, heat: PartHeat) -> Temperatures:
    room_c = kitchen.room_c
    ripened = any(part.kind is ComponentKind.PREFERMENT for part in sheet.components)
    preferment_c = room_c if heat.preferment_c is None else heat.preferment_c
    at = Temperatures(
        flour_c=room_c,
        room_c=room_c,
        tap_c=kitchen.tap_c,
        preferment_c=preferment_c if ripened else None,
        soaker_c=heat.soaker_c,
    )
    return at if heat.roux_c is None else replace(at, roux_c=heat.roux_c)


def _friction(kitchen: HomeKitchen) -> Friction:
    return Friction(MIXER_C if kitchen.by_mixer else HAND_C[Model.TRADE_SUM])


def _planned(bench: Bench, liquid: Liquid, wanted_c: Decimal) -> HomeWater | None:
    def found(use_c: Decimal, dough_c: Decimal, means: Means) -> HomeWater:
        return HomeWater(liquid.name, use_c, dough_c, wanted_c, bench.friction.rise_c, means)

    def instead(use_c: Decimal, means: Means) -> HomeWater:
        return replace(found(use_c, bench.dough_c(use_c), means), out_of_reach=True)

    try:
        plan: LiquidPlan = plan_liquid(bench, wanted_c, liquid, bench.at)
    except TooHotForYeast as error:
        return replace(instead(WARMEST_USED_C, Means.WARM), asked_c=error.temperature_c)
    except (IceNotEnough, NotColdEnough):
        return instead(CHILLED_C, Means.CHILL)
    except BakingError:
        return None
    if plan.wanted.temperature_c > WARMEST_USED_C:
        warm = instead(WARMEST_USED_C, Means.WARM)
        return replace(warm, asked_c=plan.wanted.temperature_c)
    made = found(plan.wanted.temperature_c, wanted_c, plan.means)
    return replace(made, ice_g=plan.ice_g, water_g=plan.water_g)
