"""The liquid of a final dough: by which model, what to do, and what is refused."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given

from recipes.core.composition import Composition
from recipes.core.formula import Formula, FormulaIngredient
from recipes.core.heat.balance import Portion, mix
from recipes.core.heat.dough_batch import DoughBatch, NotKnown, Temperatures, liquid_of
from recipes.core.heat.dough_liquid import Balance, Means, NotColdEnough, TradeSum, plan_liquid
from recipes.core.heat.water import Friction, IceNotEnough, Model, ModelsMixed, TooHotForYeast
from recipes.core.scaling import batch
from tests.recipes.core.breads import (
    BREAD_FLOUR,
    HEARTH_LOAF,
    MILK,
    PILLOW_ROLLS,
    RYE_BATARD,
    SALT,
    WATER,
    dough,
)
from tests.recipes.core.strategies import decimals


def food(*parts: str) -> Composition:
    return Composition(*map(Decimal, parts))


FLOUR = food("13.36", "11.98", "1.66", "72.53", "2.4", "0.47")
FOODS = {
    "bread-flour": FLOUR,
    "whole-wheat-flour": food("10.74", "13.21", "2.50", "71.97", "10.7", "1.58"),
    "rye-flour": food("10.97", "10.88", "1.52", "75.43", "11.8", "1.20"),
    "whole-milk": food("88.13", "3.15", "3.25", "4.80", "0", "0.67"),
    "egg": food("76.15", "12.56", "9.51", "0.72", "0", "1.06"),
    "butter": food("17.94", "0.85", "81.11", "0.06", "0", "0.04"),
    "sugar": food("0.02", "0", "0.32", "99.6", "0", "0.01"),
    "table-salt": food("0.2", "0", "0", "0", "0", "99.8"),
}
MILD = Temperatures(Decimal(20), Decimal(21), Decimal(14), preferment_c=Decimal(20))
HOT_DAY = Temperatures(Decimal(29), Decimal(31), Decimal(24))
MACHINE = Friction(Decimal(11))


def made(formula: Formula, dough_g: int = 1000) -> DoughBatch:
    return DoughBatch(batch(formula, Decimal(dough_g)), FOODS, frozenset({"egg"}))


def balance(formula: Formula, at: Temperatures = MILD, rise: int = 0) -> Balance:
    batch_made = made(formula)
    liquid = liquid_of(batch_made.sheet)
    return Balance(at, batch_made, liquid, Friction(Decimal(rise), Model.HEAT_BALANCE))


def test_the_hot_day_of_the_demo_is_517_g_of_ice_and_2173_g_of_water():
    liquid = liquid_of(batch(HEARTH_LOAF, Decimal(13 * 520)))
    plan = plan_liquid(TradeSum(HOT_DAY, MACHINE), Decimal(25), liquid, HOT_DAY)
    assert (plan.wanted.temperature_c, plan.means) == (4, Means.ICE)
    assert (plan.ice_g, plan.water_g, plan.liquid_g) == (517, 2173, 2690)


def test_only_the_water_of_the_final_dough_is_warmed_not_that_of_the_preferment():
    liquid = liquid_of(batch(RYE_BATARD, RYE_BATARD.dough_g))
    assert liquid.is_water
    assert liquid.mass_g == 420


def test_milk_is_the_liquid_where_there_is_no_water():
    liquid = liquid_of(batch(PILLOW_ROLLS, PILLOW_ROLLS.dough_g))
    assert (liquid.name, liquid.is_water) == ("remaining whole milk", False)


def test_beside_water_milk_is_not_the_liquid_that_is_warmed():
    both = Formula(
        "Both", (dough((BREAD_FLOUR, "100"), (MILK, "30"), (WATER, "30")),), Decimal(160)
    )
    liquid = liquid_of(batch(both, Decimal(160)))
    assert (liquid.is_water, liquid.mass_g) == (True, 30)


def test_a_dough_without_liquid_has_none():
    dry = Formula("Dry", (dough((BREAD_FLOUR, "100")),), Decimal(100))
    assert liquid_of(batch(dry, Decimal(100))) is None


@pytest.mark.parametrize("formula", [HEARTH_LOAF, RYE_BATARD, PILLOW_ROLLS])
@pytest.mark.parametrize("wanted_c", [24, 27])
def test_with_the_liquid_that_a_balance_asks_for_the_dough_comes_out_as_wanted(formula, wanted_c):
    bench = balance(formula, rise=1)
    water_c = bench.wanted(Decimal(wanted_c)).temperature_c
    assert bench.dough_c(water_c) == pytest.approx(Decimal(wanted_c), abs=Decimal("1e-4"))


@given(decimals("10", "30", 1), decimals("18", "28", 1))
def test_a_friction_measured_is_the_friction_that_was_there(liquid_c, flour_c):
    at = replace(MILD, flour_c=flour_c)
    trade = TradeSum(at, MACHINE)
    assert trade.measured(trade.dough_c(liquid_c), liquid_c).rise_c == pytest.approx(
        MACHINE.rise_c, abs=Decimal("1e-20")
    )


def test_a_rise_measured_by_balance_is_the_rise_that_was_there():
    bench = balance(RYE_BATARD, rise=2)
    found = bench.measured(bench.dough_c(Decimal(18)), Decimal(18))
    assert found.model is Model.HEAT_BALANCE
    assert found.rise_c == pytest.approx(Decimal(2), abs=Decimal("1e-12"))


def test_a_balance_refuses_the_friction_of_the_trades_sum():
    bench = replace(balance(HEARTH_LOAF), friction=MACHINE)
    with pytest.raises(ModelsMixed):
        bench.wanted(Decimal(25))
    with pytest.raises(ModelsMixed):
        bench.dough_c(Decimal(20))


@pytest.mark.parametrize(
    ("wanted_c", "means"), [("19.6", Means.ICE), ("20", Means.AS_IT_IS), ("25", Means.WARM)]
)
def test_water_is_warmed_iced_or_taken_as_it_is_within_half_a_degree(wanted_c, means):
    at = Temperatures(Decimal(20), Decimal(20), Decimal(20))
    liquid = liquid_of(batch(HEARTH_LOAF, Decimal(1000)))
    plan = plan_liquid(TradeSum(at), Decimal(wanted_c), liquid, at)
    assert plan.means is means


def test_milk_is_chilled_and_never_replaced_by_ice():
    at = replace(MILD, milk_c=Decimal(20), preferment_c=None)
    milk = liquid_of(batch(PILLOW_ROLLS, Decimal(1000)))
    plan = plan_liquid(TradeSum(at), Decimal(18), milk, at)
    assert (plan.means, plan.ice_g) == (Means.CHILL, 0)


def test_milk_below_freezing_is_refused_with_the_dough_it_would_leave():
    hot = Temperatures(Decimal(30), Decimal(30), Decimal(20))
    milk = liquid_of(batch(PILLOW_ROLLS, Decimal(1000)))
    with pytest.raises(NotColdEnough) as caught:
        plan_liquid(TradeSum(hot), Decimal(18), milk, hot)
    assert caught.value.dough_c == 20


def test_a_balance_says_what_milk_at_freezing_leaves():
    bench = balance(PILLOW_ROLLS, Temperatures(Decimal(35), Decimal(35), Decimal(20)))
    with pytest.raises(NotColdEnough) as caught:
        bench.wanted(Decimal(20))
    assert caught.value.dough_c == bench.dough_c(Decimal(0)) > 20


@pytest.mark.parametrize("formula", [HEARTH_LOAF, PILLOW_ROLLS])
def test_liquid_above_50_degrees_is_refused(formula):
    cold = Temperatures(Decimal(2), Decimal(2), Decimal(14), roux_c=Decimal(2))
    with pytest.raises(TooHotForYeast):
        balance(formula, cold).wanted(Decimal(40))
    with pytest.raises(TooHotForYeast):
        TradeSum(cold).wanted(Decimal(25))


def test_more_cold_than_ice_holds_is_refused():
    hot = Temperatures(Decimal(50), Decimal(50), Decimal(24))
    liquid = liquid_of(batch(HEARTH_LOAF, Decimal(1000)))
    with pytest.raises(IceNotEnough):
        plan_liquid(TradeSum(hot, MACHINE), Decimal(5), liquid, hot)


def test_a_dash_of_something_unknown_is_left_out_and_named():
    unknown = DoughBatch(batch(HEARTH_LOAF, Decimal(1000)), FOODS)
    assert [line.ingredient.key for line in unknown.unknown] == ["instant-yeast"]
    weighed_g = sum(portion.mass_g for portion in unknown.portions(MILD))
    assert weighed_g == pytest.approx(1000 - unknown.unknown[0].exact_g, abs=Decimal("1e-20"))


@pytest.mark.parametrize(("mystery_g", "is_refused"), [("5", False), ("5.01", True)])
def test_a_twentieth_of_the_dough_may_be_unknown_and_no_more(mystery_g, is_refused):
    mystery = FormulaIngredient("mystery", "Mystery")
    rest_g = 60 - Decimal(mystery_g)
    part = dough((BREAD_FLOUR, str(rest_g)), (WATER, "40"), (mystery, mystery_g))
    formula = Formula("Odd", (part,), Decimal(100))
    odd = DoughBatch(batch(formula, Decimal(100)), FOODS)
    if is_refused:
        with pytest.raises(NotKnown):
            odd.portions(MILD)
    else:
        assert len(odd.portions(MILD)) == 2


def test_an_unknown_flour_is_refused_by_name():
    foods = {key: value for key, value in FOODS.items() if key != "bread-flour"}
    unknown = DoughBatch(batch(HEARTH_LOAF, Decimal(1000)), foods)
    with pytest.raises(NotKnown) as caught:
        unknown.portions(MILD)
    assert caught.value.names == ("Bread flour", "Instant yeast")


def test_a_composition_that_adds_up_to_nothing_is_unknown():
    empty = DoughBatch(
        batch(HEARTH_LOAF, Decimal(1000)), FOODS | {"table-salt": food("0", "0", "0", "0")}
    )
    assert SALT in [line.ingredient for line in empty.unknown]


def test_a_roux_loses_its_steam_and_is_made_up_again_with_tap_water():
    rolls = made(PILLOW_ROLLS, 1974)
    roux = next(part for part in rolls.sheet.components if part.kind == "roux")
    *cooked, water = rolls.roux(roux, MILD)
    assert water.temperature_c == MILD.tap_c
    assert water.mass_g == pytest.approx(roux.exact_g * Decimal("0.08"), abs=Decimal("1e-20"))
    assert sum(one.mass_g for one in [*cooked, water]) == pytest.approx(
        roux.exact_g, abs=Decimal("1e-20")
    )
    assert {one.temperature_c for one in cooked} == {MILD.roux_c}


def test_a_hot_roux_in_the_cold_milk_and_egg_is_their_heat_balance():
    """Pillow rolls as written: 50 flour and 226 milk at 70 °C, 24 water, 370 milk, 100 egg."""
    masses = (
        (50, 70, "bread-flour"),
        (226, 70, "whole-milk"),
        (370, 4, "whole-milk"),
        (100, 4, "egg"),
    )
    portions = [Portion(Decimal(g), Decimal(c), FOODS[key]) for g, c, key in masses]
    tap = Portion(Decimal(24), MILD.tap_c, made(HEARTH_LOAF).food(WATER))
    rolls = DoughBatch(batch(PILLOW_ROLLS, PILLOW_ROLLS.dough_g), FOODS, frozenset({"egg"}))
    by_hand_c = mix([*portions, tap]).temperature_c
    assert rolls.roux_in_cold(MILD).temperature_c == pytest.approx(by_hand_c, abs=Decimal("1e-12"))


def test_a_dough_without_roux_has_no_roux_to_mix():
    assert made(HEARTH_LOAF).roux_in_cold(MILD) is None
