"""Rises carried over to a kitchen."""

from decimal import Decimal

import pytest
from hypothesis import given

from recipes.core.errors import NoGrowth, OutOfRange
from recipes.core.heat.altitude import boiling_point_c
from recipes.core.rise.drift import DoughAt, bench, warm_cabinet
from recipes.core.rise.fermentation import CARDINAL, DOUBLING, RULES
from recipes.core.rise.kitchen import Written, core_at, curve_in, rise_in, rises_in, written_curve
from tests.recipes.core.strategies import decimals

BULK = Written("first rise", Decimal(80), Decimal(25))
PROOF = Written("proof", Decimal(40), Decimal(26))


def test_in_the_recipes_own_room_a_rise_takes_its_own_minutes():
    """The dough of both drifts from 25 °C toward 21 °C; by the dough's 21 °C it would be less."""
    room = bench(Decimal(21))
    written = Written("first rise", Decimal(90), Decimal(21), "room or cabinet", Decimal(25))
    found = rise_in(written, DOUBLING, Decimal(25), room)
    assert round(found.minutes, 2) == 90
    steady = rise_in(Written("first rise", Decimal(90), Decimal(21)), DOUBLING, Decimal(25), room)
    assert steady.minutes < 80
    assert written.ends_c == found.ends_c or abs(written.ends_c - found.ends_c) < Decimal("0.001")


ICY = DoughAt("refrigerator", Decimal(0), Decimal(60))


def test_80_minutes_at_25_are_134_at_18_as_in_the_demo():
    rise = rise_in(BULK, DOUBLING, Decimal(18), bench(Decimal(18)))
    assert f"{rise.minutes:.0f}" == "134"
    assert rise.warning is None


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.key)
def test_dough_as_warm_as_the_recipe_takes_the_recipes_time(rule):
    rise = rise_in(BULK, rule, Decimal(25), bench(Decimal(25)))
    assert rise.minutes == pytest.approx(Decimal(80), abs=Decimal("1e-3"))


def test_the_late_dough_of_the_demo_of_10_55_ends_on_the_bench_at_12_50():
    rise = rise_in(BULK, DOUBLING, Decimal("21.5"), bench(Decimal(16)))
    assert 114 < rise.minutes <= 115


@given(decimals("16", "31", 1), decimals("16", "31", 1))
def test_a_warmer_dough_never_takes_longer(one_c, other_c):
    cool, warm = sorted((one_c, other_c))
    place = bench(Decimal(21))
    slow, fast = (rise_in(BULK, DOUBLING, degrees, place) for degrees in (cool, warm))
    assert fast.minutes <= slow.minutes + Decimal("1e-3")


def test_the_proof_starts_with_the_dough_that_bulk_and_bench_left():
    room = bench(Decimal(18))
    found = rises_in(
        [BULK, PROOF],
        DOUBLING,
        Decimal(25),
        warm_cabinet(Decimal(30)),
        bench=room,
        between_min=Decimal(15),
    )
    bulk, proof = found.rises
    assert bulk.starts_c == 25
    assert bulk.ends_c > proof.starts_c > 18
    assert proof.minutes < 40


def test_without_time_between_the_dough_goes_on_as_it_was():
    room = bench(Decimal(18))
    bulk, proof = rises_in([BULK, PROOF], DOUBLING, Decimal(25), room, bench=room).rises
    assert proof.starts_c == bulk.ends_c


def test_where_nothing_grows_the_rise_never_ends():
    rise = rise_in(BULK, CARDINAL, Decimal(2), ICY)
    assert rise.minutes is None
    assert curve_in(rise, CARDINAL, ICY, "icy") is None
    found = rises_in([BULK, PROOF], CARDINAL, Decimal(2), ICY, bench=bench(Decimal(2)))
    assert [rise.minutes for rise in found.rises] == [None, None]


def test_a_recipe_at_a_temperature_at_which_nothing_grows_is_refused():
    with pytest.raises(NoGrowth):
        rise_in(Written("first rise", Decimal(80), Decimal(48)), DOUBLING, Decimal(25), ICY)


def test_a_rise_without_minutes_is_refused():
    with pytest.raises(OutOfRange):
        Written("first rise", Decimal(0), Decimal(25))


@pytest.mark.parametrize(
    ("written_c", "dough_c", "room_c", "outside"),
    [(25, 25, 21, False), (34, 25, 21, True), (25, 33, 21, True), (25, 25, 2, True)],
)
def test_any_temperature_outside_the_range_earns_a_warning(written_c, dough_c, room_c, outside):
    written = Written("first rise", Decimal(300), Decimal(written_c))
    rise = rise_in(written, DOUBLING, Decimal(dough_c), bench(Decimal(room_c)))
    assert bool(rise.warning) is outside


def test_one_warning_covers_all_rises():
    cold = DoughAt("refrigerator", Decimal(4), Decimal(60))
    found = rises_in([BULK, PROOF], DOUBLING, Decimal(25), cold, bench=bench(Decimal(18)))
    assert found.warning.coldest_c == min(rise.ends_c for rise in found.rises)
    assert found.warning.warmest_c == 26


def test_curves_start_at_nothing_and_end_with_the_whole():
    place = bench(Decimal(18))
    rise = rise_in(BULK, DOUBLING, Decimal(25), place)
    curve = curve_in(rise, DOUBLING, place, "bench")
    assert curve.points[0] == (0, 0)
    assert curve.points[-1][1] == 1
    assert curve.points[-1][0] == pytest.approx(rise.minutes, abs=Decimal("1e-9"))
    shares = [share for _, share in curve.points]
    assert shares == sorted(shares)
    assert written_curve(BULK, "as written").points == ((0, 0), (80, 1))


def test_a_very_long_rise_still_makes_a_short_curve():
    place = DoughAt("refrigerator", Decimal(4), Decimal(60))
    rise = rise_in(BULK, CARDINAL, Decimal(6), place)
    assert rise.minutes > 1000
    assert len(curve_in(rise, CARDINAL, place, "cold").points) <= 50


@pytest.mark.parametrize(("altitude_m", "capped"), [(0, False), (1600, True)])
def test_a_core_of_96_degrees_is_capped_where_water_boils_below_97(altitude_m, capped):
    core = core_at(Decimal(96), Decimal(altitude_m))
    assert core.capped is capped
    assert core.aim_c == min(96, boiling_point_c(Decimal(altitude_m)) - 1)
