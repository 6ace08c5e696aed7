"""The water a dough needs: the bakers' formula, ice for water, and the limit for yeast.

Temperatures are degrees Celsius. Friction, a rise, is a difference: 1 °C of it is 1.8 °F.

Three models answer here and in `balance`, and each result names its model. The bakers' formula
weighs flour, room and water alike and lets friction stand for what it leaves out; a heat balance
counts what each mass really holds. They differ by several degrees on purpose, so a friction
measured in one is refused by the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from recipes.core.errors import BakingError, OutOfRange
from recipes.core.numbers import ZERO, exact, not_negative, positive

COLDEST_C = Decimal(-40)
HOTTEST_C = Decimal(150)

YEAST_LIMIT_C = Decimal(50)
YEAST_REASON = "Yeast is harmed above about 50 °C."

FAHRENHEIT_PER_CELSIUS = Decimal("1.8")


@dataclass(eq=False)
class TooHotForYeast(BakingError):
    """A liquid hot enough to harm the yeast; `reason` says why there is a limit."""

    temperature_c: Decimal
    reason: str = YEAST_REASON


@dataclass(eq=False)
class IceNotEnough(BakingError):
    """Water wanted colder than `coldest_c`, which is what ice alone gives."""

    wanted_c: Decimal
    coldest_c: Decimal


@dataclass(eq=False)
class ModelsMixed(BakingError):
    """A friction measured in one model and used in another."""

    given: Model
    wanted: Model


class Model(StrEnum):
    """Where a figure comes from."""

    TRADE_SUM = "trade sum"
    HEAT_BALANCE = "heat balance"
    ICE_FOR_WATER = "ice for water"


def difference_c(difference_f: Decimal) -> Decimal:
    """A difference of temperatures in °C, from °F."""
    return exact("difference_f", difference_f) / FAHRENHEIT_PER_CELSIUS


def difference_f(difference_c: Decimal) -> Decimal:
    """A difference of temperatures in °F, from °C."""
    return exact("difference_c", difference_c) * FAHRENHEIT_PER_CELSIUS


def degrees(field: str, temperature_c: object) -> Decimal:
    """A temperature from -40 to 150 °C. Raises NotDecimal or OutOfRange with the field."""
    value = exact(field, temperature_c)
    if not COLDEST_C <= value <= HOTTEST_C:
        raise OutOfRange(field, value, least=COLDEST_C, most=HOTTEST_C)
    return value


def thawed(field: str, temperature_c: object) -> Decimal:
    """A temperature from 0 to 150 °C, at which nothing is ice. Raises NotDecimal, OutOfRange."""
    value = degrees(field, temperature_c)
    if value < ZERO:
        raise OutOfRange(field, value, least=ZERO, most=HOTTEST_C)
    return value


@dataclass(frozen=True, slots=True)
class Friction:
    """How many degrees mixing adds, and in which model; hand kneading may add almost none.

    In the bakers' formula it is a term of the sum, in a heat balance the rise of the dough itself.
    """

    rise_c: Decimal
    model: Model = Model.TRADE_SUM

    def __post_init__(self) -> None:
        exact("rise_c", self.rise_c)

    def within(self, model: Model) -> Decimal:
        """The rise for use in a model. Raises ModelsMixed."""
        if self.model is not model:
            raise ModelsMixed(self.model, model)
        return self.rise_c


@dataclass(frozen=True, slots=True)
class Water:
    """The water temperature that a model asks for.

    Below freezing it is a figure for calculating ice: how much cold the water must bring.
    """

    temperature_c: Decimal
    model: Model

    @property
    def wants_ice(self) -> bool:
        """Whether no liquid water is cold enough."""
        return self.temperature_c < ZERO


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the bakers' formula takes; a preferment makes it four terms instead of three."""

    flour_c: Decimal
    room_c: Decimal
    preferment_c: Decimal | None = None

    def __post_init__(self) -> None:
        degrees("flour_c", self.flour_c)
        degrees("room_c", self.room_c)
        if self.preferment_c is not None:
            degrees("preferment_c", self.preferment_c)

    @property
    def terms(self) -> int:
        """The number of terms of the sum, including the water."""
        return 3 if self.preferment_c is None else 4

    @property
    def sum_c(self) -> Decimal:
        """The known temperatures together."""
        return self.flour_c + self.room_c + (self.preferment_c or ZERO)


def water_by_sum(wanted_c: Decimal, around: Surroundings, friction: Friction) -> Water:
    """Water for a wanted dough temperature: terms x wanted - known temperatures - friction.

    Raises TooHotForYeast, ModelsMixed, NotDecimal or OutOfRange. Source: bakery course notes and
    trade articles, which agree.
    """
    rise_c = friction.within(Model.TRADE_SUM)
    water_c = around.terms * degrees("wanted_c", wanted_c) - around.sum_c - rise_c
    if water_c > YEAST_LIMIT_C:
        raise TooHotForYeast(water_c)
    return Water(water_c, Model.TRADE_SUM)


def friction_by_sum(actual_c: Decimal, around: Surroundings, water_c: Decimal) -> Friction:
    """Friction from a dough just mixed: terms x actual - known temperatures with the water's."""
    known_c = around.sum_c + degrees("water_c", water_c)
    return Friction(around.terms * degrees("actual_c", actual_c) - known_c, Model.TRADE_SUM)


def dough_by_sum(around: Surroundings, water_c: Decimal, friction: Friction) -> Decimal:
    """The dough temperature in °C that the bakers' formula predicts for the water at hand."""
    rise_c = friction.within(Model.TRADE_SUM)
    return (around.sum_c + degrees("water_c", water_c) + rise_c) / around.terms


# Ice melts by 144 BTU a pound and water warms by one BTU a pound and °F: the trade's round figures,
# on which its printed tables are based. Measured values lie within half a percent.
MELTING_KJ_PER_KG = Decimal("334.944")
WATER_KJ_PER_KG_K = Decimal("4.1868")
ICE_KJ_PER_KG_K = Decimal("2.1")


@dataclass(frozen=True, slots=True)
class IceAndWater:
    """Grams of ice and of tap water that together make the formula's water."""

    ice_g: Decimal
    water_g: Decimal
    model: Model = Model.ICE_FOR_WATER


def ice_for(
    total_g: Decimal, tap_c: Decimal, wanted_c: Decimal, ice_c: Decimal = ZERO
) -> IceAndWater:
    """Ice in place of part of the tap water, so that all of it comes to `wanted_c`.

    The total stays `total_g`: ice / total = c (tap - wanted) / (L + c tap + c_ice below zero). Ice
    from a freezer, say at -18 °C, needs a little less. `wanted_c` may be below zero if the bakers'
    formula asks for it: the ice then melts in the dough. Raises IceNotEnough when even ice alone is
    too warm, OutOfRange for water wanted warmer than the tap's, or ice above zero.
    """
    positive("total_g", total_g)
    excess_c = thawed("tap_c", tap_c) - exact("wanted_c", wanted_c)
    if excess_c < ZERO:
        raise OutOfRange("wanted_c", wanted_c, most=tap_c)
    to_melt = _melting(ice_c)
    ice_g = total_g * WATER_KJ_PER_KG_K * excess_c / (to_melt + WATER_KJ_PER_KG_K * tap_c)
    if ice_g > total_g:
        raise IceNotEnough(wanted_c, -to_melt / WATER_KJ_PER_KG_K)
    return IceAndWater(ice_g, total_g - ice_g)


def iced_c(amounts: IceAndWater, tap_c: Decimal, ice_c: Decimal = ZERO) -> Decimal:
    """The temperature that ice and tap water together count as, in °C; may be below zero."""
    water_g = not_negative("water_g", amounts.water_g)
    ice_g = not_negative("ice_g", amounts.ice_g)
    total_g = positive("total_g", water_g + ice_g)
    cold = ice_g * _melting(ice_c) / WATER_KJ_PER_KG_K
    return (water_g * thawed("tap_c", tap_c) - cold) / total_g


def _melting(ice_c: Decimal) -> Decimal:
    """The heat a kilogram of ice takes up until it is water at 0 °C, in kJ."""
    if degrees("ice_c", ice_c) > ZERO:
        raise OutOfRange("ice_c", ice_c, least=COLDEST_C, most=ZERO)
    return MELTING_KJ_PER_KG - ICE_KJ_PER_KG_K * ice_c
