"""Specific heat from composition, and what masses come to together."""

import pickle
from decimal import Decimal

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from recipes.core.composition import Composition
from recipes.core.errors import OutOfRange
from recipes.core.heat.balance import (
    PURE_WATER,
    NothingToMix,
    Portion,
    friction_by_balance,
    mix,
    water_by_balance,
)
from recipes.core.heat.thermal import NoComposition, WaterTerm, specific_heat
from recipes.core.heat.water import Friction, Model, ModelsMixed, TooHotForYeast
from tests.recipes.core.strategies import decimals

ROOM = Decimal(21)
NO_RISE = Friction(Decimal(0), Model.HEAT_BALANCE)


def food(water="0", protein="0", fat="0", carbohydrate="0", fiber="0", ash="0") -> Composition:
    """A composition from text."""
    return Composition(*map(Decimal, (water, protein, fat, carbohydrate, fiber, ash)))


FLOUR = food("11.92", "10.33", "0.98", "76.31", "2.7", "0.47")
BUTTER = food("17.94", "0.85", "81.11", "0.06", "0", "0.04")
SALT = food(ash="99.8", water="0.2")

close = {"abs": Decimal("1e-12")}

shares = decimals("0", "100", 1)
foods = st.builds(
    Composition, decimals("0.1", "100", 1), shares, shares, shares, decimals("0", "20", 1), shares
)
temperatures = decimals("0", "100", 1)
portions = st.builds(Portion, decimals("1", "5000", 1), temperatures, foods)
doughs = st.lists(
    st.builds(Portion, decimals("1", "5000", 1), decimals("0", "40", 1), foods),
    min_size=1,
    max_size=6,
)


def test_fiber_is_taken_out_of_carbohydrate():
    bran = food(carbohydrate="100", fiber="40")
    sixty_forty = Decimal("0.6") * specific_heat(food(carbohydrate="1"), ROOM)
    sixty_forty += Decimal("0.4") * specific_heat(food(carbohydrate="1", fiber="1"), ROOM)
    assert specific_heat(bran, ROOM) == pytest.approx(sixty_forty, **close)


@given(foods, temperatures, decimals("0.1", "5", 1))
def test_only_proportions_matter(some_food, temperature_c, times):
    parts = (some_food.water_g, some_food.protein_g, some_food.fat_g, some_food.carbohydrate_g)
    rest = (some_food.fiber_g, some_food.ash_g)
    larger = Composition(*(part * times for part in (*parts, *rest)))
    one, other = specific_heat(some_food, temperature_c), specific_heat(larger, temperature_c)
    assert one == pytest.approx(other, **close)


@given(foods, temperatures)
def test_every_food_lies_between_its_driest_part_and_water(some_food, temperature_c):
    assert 1 < specific_heat(some_food, temperature_c) <= specific_heat(PURE_WATER, temperature_c)


def test_unknown_fiber_and_ash_count_as_none():
    plain = Composition(Decimal(88), Decimal(3), Decimal(3), Decimal(6))
    assert specific_heat(plain, ROOM) == specific_heat(food("88", "3", "3", "6"), ROOM)


@pytest.mark.parametrize(
    ("composition", "missing"),
    [
        pytest.param(
            Composition(), ("water", "protein", "fat", "carbohydrate"), id="nothing known"
        ),
        pytest.param(
            Composition(Decimal(10), Decimal(10), Decimal(10)), ("carbohydrate",), id="one missing"
        ),
        pytest.param(food(), (), id="nothing in it"),
    ],
)
def test_a_food_without_composition_is_refused(composition, missing):
    with pytest.raises(NoComposition) as caught:
        specific_heat(composition, ROOM)
    assert caught.value.missing == missing


@pytest.mark.parametrize("temperature_c", ["-0.1", "150.1"])
def test_frozen_or_burning_food_is_refused(temperature_c):
    with pytest.raises(OutOfRange):
        specific_heat(FLOUR, Decimal(temperature_c))
    with pytest.raises(OutOfRange):
        Portion(Decimal(10), Decimal(temperature_c), FLOUR)


def test_the_water_constant_is_named():
    assert specific_heat(PURE_WATER, Decimal(0), WaterTerm.HANDBOOK_2006) == Decimal("4.1289")
    assert specific_heat(PURE_WATER, Decimal(0), WaterTerm.ORIGINAL_1986) == Decimal("4.1762")
    assert specific_heat(PURE_WATER, Decimal(0)) == Decimal("4.1762")


def test_equal_masses_of_water_meet_about_half_way():
    hot, cold = (Portion(Decimal(100), Decimal(t), PURE_WATER) for t in (80, 10))
    mixed = mix([hot, cold])
    assert (mixed.mass_g, mixed.model) == (200, Model.HEAT_BALANCE)
    assert float(mixed.temperature_c) == pytest.approx(45, abs=0.1)


def test_fat_takes_half_the_heat_of_water():
    butter = Portion(Decimal(100), Decimal(20), BUTTER)
    water = Portion(Decimal(100), Decimal(60), PURE_WATER)
    assert 44 < mix([butter, water]).temperature_c < 47


@given(st.lists(portions, min_size=1, max_size=6))
def test_a_mixture_lies_between_its_coldest_and_hottest(some):
    temperatures_c = [portion.temperature_c for portion in some]
    hair = Decimal("1e-12")
    assert min(temperatures_c) - hair <= mix(some).temperature_c <= max(temperatures_c) + hair


@given(st.lists(portions, min_size=1, max_size=6), st.randoms())
def test_the_order_of_mixing_does_not_matter(some, random):
    shuffled = random.sample(some, len(some))
    assert mix(shuffled).temperature_c == pytest.approx(mix(some).temperature_c, **close)


@given(portions, portions)
def test_no_heat_is_lost_in_mixing(one, other):
    """By a second hand: small steps of specific heat instead of its integral."""
    end_c = mix([one, other]).temperature_c
    steps = 50

    def heat(portion):
        step = (end_c - portion.temperature_c) / steps
        middles = (portion.temperature_c + step * (n + Decimal("0.5")) for n in range(steps))
        heats = (specific_heat(portion.composition, max(t, Decimal(0))) for t in middles)
        return sum(heats) * step * portion.mass_g

    scale = one.mass_g + other.mass_g
    assert abs(heat(one) + heat(other)) < scale * Decimal("0.001")


@given(doughs, decimals("10", "5000", 1), decimals("20", "30", 1), decimals("0", "8", 1))
def test_the_water_asked_for_brings_the_dough_there(others, water_g, wanted_c, rise_c):
    friction = Friction(rise_c, Model.HEAT_BALANCE)
    try:
        water = water_by_balance(wanted_c, water_g, others, friction)
    except TooHotForYeast:
        reject()
    assert water.model is Model.HEAT_BALANCE
    if water.wants_ice:
        return
    whole_dough = [*others, Portion(water_g, water.temperature_c, PURE_WATER)]
    end_c = mix(whole_dough).temperature_c + rise_c
    assert end_c == pytest.approx(wanted_c, **close)
    measured = friction_by_balance(wanted_c, whole_dough)
    assert measured.model is Model.HEAT_BALANCE
    assert measured.rise_c == pytest.approx(rise_c, **close)


def test_warm_flour_and_little_water_want_ice():
    flour = Portion(Decimal(1000), Decimal(35), FLOUR)
    rise = Friction(Decimal(6), Model.HEAT_BALANCE)
    water = water_by_balance(Decimal(22), Decimal(500), [flour], rise)
    assert water.wants_ice
    heat_from_flour = 1000 * specific_heat(FLOUR, Decimal("25.5")) * 19
    cold_of_water = 500 * Decimal("4.176") * (16 - water.temperature_c)
    assert heat_from_flour == pytest.approx(cold_of_water, rel=Decimal("0.001"))


def test_friction_of_the_trades_sum_is_refused():
    flour = Portion(Decimal(100), ROOM, FLOUR)
    with pytest.raises(ModelsMixed) as caught:
        water_by_balance(Decimal(25), Decimal(60), [flour], Friction(Decimal(11)))
    assert (caught.value.given, caught.value.wanted) == (Model.TRADE_SUM, Model.HEAT_BALANCE)


def test_water_that_would_harm_yeast_is_refused():
    cold = Portion(Decimal(1000), Decimal(2), FLOUR)
    with pytest.raises(TooHotForYeast):
        water_by_balance(Decimal(28), Decimal(300), [cold], NO_RISE)


def test_salt_hardly_matters():
    flour = Portion(Decimal(1000), ROOM, FLOUR)
    salt = Portion(Decimal(20), ROOM, SALT)
    with_salt, without = (
        water_by_balance(Decimal(24), Decimal(680), others, NO_RISE).temperature_c
        for others in ([flour, salt], [flour])
    )
    assert 0 < with_salt - without < Decimal("0.1")


def test_nothing_comes_to_no_temperature():
    with pytest.raises(NothingToMix):
        mix([])


@pytest.mark.parametrize(
    "error", [NothingToMix(), NoComposition(("fat",))], ids=lambda error: type(error).__name__
)
def test_an_error_travels_between_processes(error):
    again = pickle.loads(pickle.dumps(error))  # noqa: S301  (made one line above)
    assert vars(again) == vars(error)
