"""The bakers' formula, the ice sum and the limits, each against itself and its inverse."""

import pickle
from decimal import Decimal

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from recipes.core.errors import NotDecimal, OutOfRange
from recipes.core.heat.water import (
    Friction,
    IceAndWater,
    IceNotEnough,
    Model,
    ModelsMixed,
    Surroundings,
    TooHotForYeast,
    Water,
    difference_c,
    difference_f,
    dough_by_sum,
    friction_by_sum,
    ice_for,
    iced_c,
    water_by_sum,
)
from tests.recipes.core.strategies import decimals

NO_FRICTION = Friction(Decimal(0))
HOT_DAY = Surroundings(flour_c=Decimal(29), room_c=Decimal(31))
COOL_DAY = Surroundings(flour_c=Decimal(20), room_c=Decimal(21))

close = {"abs": Decimal("1e-18")}

temperatures = decimals("0", "40", 1)
surroundings = st.builds(Surroundings, temperatures, temperatures, st.none() | temperatures)
frictions = st.builds(Friction, decimals("-3", "20", 1))
masses = decimals("1", "50000", 1)
freezers = decimals("-30", "0", 1)


def test_the_sum_has_three_terms_and_with_a_preferment_four():
    assert (COOL_DAY.terms, COOL_DAY.sum_c) == (3, 41)
    with_preferment = Surroundings(Decimal(20), Decimal(21), Decimal(18))
    assert (with_preferment.terms, with_preferment.sum_c) == (4, 59)


def test_a_preferment_at_freezing_is_still_a_term():
    assert Surroundings(Decimal(20), Decimal(21), Decimal(0)).terms == 4


@pytest.mark.parametrize(
    ("around", "friction", "water_c"),
    [
        pytest.param(HOT_DAY, 11, 4, id="by machine on a hot day"),
        pytest.param(COOL_DAY, 11, 23, id="by machine on a cool day"),
        pytest.param(COOL_DAY, 3, 31, id="by hand on a cool day"),
        pytest.param(Surroundings(Decimal(20), Decimal(21), Decimal(18)), 11, 30, id="four terms"),
    ],
)
def test_water_is_what_the_sum_lacks(around, friction, water_c):
    water = water_by_sum(Decimal(25), around, Friction(Decimal(friction)))
    assert water == Water(Decimal(water_c), Model.TRADE_SUM)
    assert not water.wants_ice


def test_water_below_freezing_wants_ice():
    water = water_by_sum(Decimal(22), HOT_DAY, Friction(Decimal(11)))
    assert (water.temperature_c, water.wants_ice) == (-5, True)
    assert not Water(Decimal(0), Model.TRADE_SUM).wants_ice


@given(decimals("20", "30", 1), surroundings, frictions)
def test_friction_and_water_temperature_are_inverse_to_each_other(wanted_c, around, friction):
    try:
        water = water_by_sum(wanted_c, around, friction)
    except TooHotForYeast:
        reject()
    if water.temperature_c >= -40:
        assert friction_by_sum(wanted_c, around, water.temperature_c) == friction
        assert dough_by_sum(around, water.temperature_c, friction) == wanted_c


@given(decimals("20", "30", 1), surroundings, frictions)
def test_the_sum_is_the_same_in_fahrenheit(wanted_c, around, friction):
    def fahrenheit(celsius):
        return celsius * 9 / 5 + 32

    known = [around.flour_c, around.room_c]
    if around.preferment_c is not None:
        known.append(around.preferment_c)
    by_hand_f = around.terms * fahrenheit(wanted_c) - sum(map(fahrenheit, known))
    by_hand_f -= difference_f(friction.rise_c)
    try:
        water_c = water_by_sum(wanted_c, around, friction).temperature_c
    except TooHotForYeast as refused:
        water_c = refused.temperature_c
    assert fahrenheit(water_c) == pytest.approx(by_hand_f, **close)


@given(decimals("-50", "50", 2))
def test_differences_turn_into_fahrenheit_and_back(difference):
    assert difference_c(difference_f(difference)) == pytest.approx(difference, **close)


def test_a_difference_of_one_degree_celsius_is_1_8_in_fahrenheit():
    assert (difference_f(Decimal(1)), difference_c(Decimal(9))) == (Decimal("1.8"), 5)


def test_friction_of_another_model_is_refused():
    with pytest.raises(ModelsMixed) as caught:
        water_by_sum(Decimal(25), COOL_DAY, Friction(Decimal(3), Model.HEAT_BALANCE))
    assert (caught.value.given, caught.value.wanted) == (Model.HEAT_BALANCE, Model.TRADE_SUM)
    with pytest.raises(ModelsMixed):
        dough_by_sum(COOL_DAY, Decimal(20), Friction(Decimal(3), Model.HEAT_BALANCE))


def test_water_that_would_harm_yeast_is_refused():
    cellar = Surroundings(Decimal(5), Decimal(8))
    with pytest.raises(TooHotForYeast) as caught:
        water_by_sum(Decimal(27), cellar, NO_FRICTION)
    assert caught.value.temperature_c == 68


@pytest.mark.parametrize(
    ("refused", "field"),
    [
        pytest.param(lambda: Surroundings(Decimal(151), Decimal(20)), "flour_c", id="hot flour"),
        pytest.param(lambda: Surroundings(Decimal(20), Decimal(-41)), "room_c", id="cold room"),
        pytest.param(
            lambda: Surroundings(Decimal(20), Decimal(20), Decimal(200)),
            "preferment_c",
            id="hot preferment",
        ),
        pytest.param(
            lambda: water_by_sum(Decimal(999), COOL_DAY, NO_FRICTION), "wanted_c", id="hot dough"
        ),
        pytest.param(
            lambda: friction_by_sum(Decimal(25), COOL_DAY, Decimal(151)), "water_c", id="steam"
        ),
        pytest.param(
            lambda: ice_for(Decimal(0), Decimal(20), Decimal(10)), "total_g", id="no water"
        ),
        pytest.param(
            lambda: ice_for(Decimal(100), Decimal(-1), Decimal(-2)), "tap_c", id="frozen tap"
        ),
        pytest.param(
            lambda: ice_for(Decimal(100), Decimal(10), Decimal(11)), "wanted_c", id="warmer"
        ),
        pytest.param(
            lambda: ice_for(Decimal(100), Decimal(20), Decimal(10), Decimal(1)),
            "ice_c",
            id="ice above freezing",
        ),
        pytest.param(
            lambda: iced_c(IceAndWater(Decimal(0), Decimal(0)), Decimal(20)),
            "total_g",
            id="neither ice nor water",
        ),
    ],
)
def test_impossible_figures_are_refused_by_name(refused, field):
    with pytest.raises(OutOfRange) as caught:
        refused()
    assert caught.value.field == field


@pytest.mark.parametrize(
    "refused",
    [
        lambda: Friction(11.0),
        lambda: Surroundings(20.0, Decimal(20)),
        lambda: ice_for(Decimal(100), Decimal(20), 4.0),
    ],
    ids=["friction", "flour", "ice"],
)
def test_floats_are_refused(refused):
    with pytest.raises(NotDecimal):
        refused()


def test_the_hot_day_of_the_demo_comes_out_to_the_gram():
    water = water_by_sum(Decimal(25), HOT_DAY, Friction(Decimal(11)))
    amounts = ice_for(Decimal(2690), Decimal(24), water.temperature_c)
    assert (round(amounts.ice_g), round(amounts.water_g)) == (517, 2173)


@given(masses, temperatures, decimals("-40", "40", 1), freezers)
def test_ice_ends_at_the_wanted_temperature_and_keeps_the_total(total_g, tap_c, below_c, ice_c):
    wanted_c = min(tap_c, below_c)
    amounts = ice_for(total_g, tap_c, wanted_c, ice_c)
    assert amounts.ice_g + amounts.water_g == pytest.approx(total_g, rel=Decimal("1e-20"))
    assert amounts.ice_g >= 0
    assert amounts.water_g >= 0
    assert iced_c(amounts, tap_c, ice_c) == pytest.approx(wanted_c, **close)


@given(masses, decimals("0.5", "40", 1), freezers)
def test_heat_given_by_the_water_is_heat_taken_by_the_ice(total_g, tap_c, ice_c):
    wanted_c = tap_c / 2
    amounts = ice_for(total_g, tap_c, wanted_c, ice_c)
    given_kj = float(amounts.water_g) * 4.1868 * float(tap_c - wanted_c)
    taken_kj = float(amounts.ice_g) * (334.944 + 2.1 * -float(ice_c) + 4.1868 * float(wanted_c))
    assert given_kj == pytest.approx(taken_kj, rel=1e-12)


def test_ice_from_the_freezer_does_more():
    at_melting = ice_for(Decimal(2690), Decimal(24), Decimal(4))
    frozen_hard = ice_for(Decimal(2690), Decimal(24), Decimal(4), Decimal(-18))
    assert frozen_hard.ice_g < at_melting.ice_g * Decimal("0.93")


def test_water_as_wanted_needs_no_ice():
    assert ice_for(Decimal(500), Decimal(14), Decimal(14)) == IceAndWater(Decimal(0), Decimal(500))


def test_more_cold_than_all_ice_is_refused():
    nearly = ice_for(Decimal(100), Decimal(20), Decimal(-80))
    assert (nearly.ice_g, nearly.water_g) == (100, 0)
    with pytest.raises(IceNotEnough) as caught:
        ice_for(Decimal(100), Decimal(20), Decimal("-80.1"))
    assert (caught.value.wanted_c, caught.value.coldest_c) == (Decimal("-80.1"), -80)


@pytest.mark.parametrize(
    "error",
    [
        TooHotForYeast(Decimal(60)),
        IceNotEnough(Decimal(-90), Decimal(-80)),
        ModelsMixed(Model.TRADE_SUM, Model.HEAT_BALANCE),
    ],
    ids=lambda error: type(error).__name__,
)
def test_an_error_travels_between_processes(error):
    again = pickle.loads(pickle.dumps(error))  # noqa: S301  (made one line above)
    assert vars(again) == vars(error)
