"""Which model answers for a dough in a kitchen, and how warm things usually are there.

The page on water, the station cards and the water table all take their answer from here.
"""

from __future__ import annotations

from decimal import Decimal

from recipes.core.heat.dough_batch import DoughBatch, Liquid, Temperatures
from recipes.core.heat.dough_liquid import NO_FRICTION, NO_RISE, Balance, TradeSum
from recipes.core.heat.part_heat import HOT_ROUX_C, PartHeat
from recipes.core.heat.water import Friction, Model
from recipes.core.numbers import ZERO

# Sources: a test-kitchen article (5 °F by hand, 20 °F in a stand mixer), rounded; in a heat balance
# hands add almost nothing (assumed).
HAND_C = {Model.TRADE_SUM: Decimal(3), Model.HEAT_BALANCE: ZERO}
MIXER_C = Decimal(11)

Bench = TradeSum | Balance


def model_for(heat: PartHeat, room_c: Decimal) -> Model:
    """The bakers' formula, unless its ignoring of masses would mislead."""
    return Model.HEAT_BALANCE if heat.needs_masses(room_c) else Model.TRADE_SUM


def usual_temperatures(
    heat: PartHeat, *, room_c: Decimal, flour_c: Decimal, tap_c: Decimal
) -> Temperatures:
    """How warm everything is in a kitchen; parts of unknown warmth have a usual one."""
    return Temperatures(
        flour_c=flour_c,
        room_c=room_c,
        tap_c=tap_c,
        preferment_c=_or(heat.preferment_c, room_c),
        roux_c=_or(heat.roux_c, HOT_ROUX_C),
        soaker_c=_or(heat.soaker_c, room_c),
    )


def _or(known: Decimal | None, usual: Decimal) -> Decimal:
    return usual if known is None else known


def bench_of(
    model: Model, at: Temperatures, made: DoughBatch, liquid: Liquid, friction: Friction | None
) -> Bench:
    """A model for a batch; without a friction, for measuring it."""
    if model is Model.TRADE_SUM:
        return TradeSum(at, friction or NO_FRICTION)
    return Balance(at, made, liquid, friction or NO_RISE)
