"""How warm the water has to be at home for the dough to come out as the recipe wants it.

By the trade's sum, with the flour and any preferment as warm as the room. It is an estimate: the
friction is a usual figure for hands or a home mixer, not one measured there.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from classes.at_home import HomeKitchen
from classes.forms.bench import HAND_C, MIXER_C, USUAL_DOUGH_C
from recipes.baking.dough_batch import Liquid, Temperatures, liquid_of
from recipes.baking.dough_liquid import Means, NotColdEnough, TradeSum, plan_liquid
from recipes.baking.errors import BakingError
from recipes.baking.formula import ComponentKind
from recipes.baking.heat import Friction, IceNotEnough, Model, TooHotForYeast
from recipes.baking.numbers import ZERO
from recipes.baking.scaling import Sheet

# Common practice, from memory: as warm as a hand bears for long, and what a refrigerator gives.
WARMEST_USED_C = Decimal(40)
CHILLED_C = Decimal(4)


@dataclass(frozen=True, slots=True)
class HomeWater:
    """The liquid of a dough: how warm to make it, and what the dough comes to with it, in °C.

    With `ice_g` there are so many grams of ice in it, and `water_g` of the tap's. `out_of_reach`
    tells that the dough will not come out as wanted, and `asked_c` what would have been needed
    where that is too hot for yeast.
    """

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

    @property
    def is_too_hot(self) -> bool:
        """Whether the wanted dough would need a liquid too hot for yeast."""
        return self.asked_c is not None

    @property
    def with_ice(self) -> bool:
        return self.means is Means.ICE

    @property
    def melts_in_dough(self) -> bool:
        """Whether the ice cannot all melt before it is mixed in."""
        return self.with_ice and self.use_c < ZERO

    @property
    def is_from_tap(self) -> bool:
        """Whether it may be taken as it comes."""
        return self.means is Means.AS_IT_IS

    @property
    def is_chilled(self) -> bool:
        return self.means is Means.CHILL


def home_water(sheet: Sheet, wanted_c: Decimal | None, kitchen: HomeKitchen) -> HomeWater | None:
    """The water for a batch at home; None where nothing is poured into the final dough."""
    liquid = liquid_of(sheet)
    if liquid is None:
        return None
    bench = TradeSum(_temperatures(sheet, kitchen), _friction(kitchen))
    return _planned(bench, liquid, USUAL_DOUGH_C if wanted_c is None else wanted_c)


def _temperatures(sheet: Sheet, kitchen: HomeKitchen) -> Temperatures:
    room_c = kitchen.room_c
    ripened = any(part.kind is ComponentKind.PREFERMENT for part in sheet.components)
    return Temperatures(
        flour_c=room_c,
        room_c=room_c,
        tap_c=kitchen.tap_c,
        preferment_c=room_c if ripened else None,
    )


def _friction(kitchen: HomeKitchen) -> Friction:
    return Friction(MIXER_C if kitchen.by_mixer else HAND_C[Model.TRADE_SUM])


def _planned(bench: TradeSum, liquid: Liquid, wanted_c: Decimal) -> HomeWater | None:
    friction_c = bench.friction.rise_c

    def instead(use_c: Decimal, means: Means, asked_c: Decimal | None = None) -> HomeWater:
        dough_c = bench.dough_c(use_c)
        return HomeWater(
            liquid.name,
            use_c,
            dough_c,
            wanted_c,
            friction_c,
            means,
            asked_c=asked_c,
            out_of_reach=True,
        )

    try:
        plan = plan_liquid(bench, wanted_c, liquid, bench.at)
    except TooHotForYeast as error:
        return instead(WARMEST_USED_C, Means.WARM, error.temperature_c)
    except (IceNotEnough, NotColdEnough):
        return instead(CHILLED_C, Means.CHILL)
    except BakingError:
        return None
    return HomeWater(
        liquid.name,
        plan.wanted.temperature_c,
        wanted_c,
        wanted_c,
        friction_c,
        plan.means,
        plan.ice_g,
        plan.water_g,
    )
