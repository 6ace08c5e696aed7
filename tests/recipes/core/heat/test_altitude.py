"""Where water boils, and what that does to core temperatures and advice."""

from decimal import Decimal

import pytest
from hypothesis import given

from recipes.core.errors import NotDecimal, OutOfRange
from recipes.core.heat.altitude import (
    CAUTION,
    altitude_advice,
    boiling_point_at_kpa,
    boiling_point_c,
    core_target,
    meters,
    pressure_kpa,
)
from recipes.core.heat.doneness import CORE_RANGES, BreadKind, celsius
from tests.recipes.core.strategies import decimals

heights = decimals("-500", "5500", 1)


def at_feet(feet):
    return meters(Decimal(feet))


@given(heights, decimals("1", "500", 1))
def test_higher_up_water_boils_cooler(height, more):
    above = min(height + more, Decimal(5500))
    assert above == height or boiling_point_c(above) < boiling_point_c(height)


def test_a_foot_is_0_3048_meters():
    assert at_feet(5000) == Decimal("1524")


def test_at_sea_level_core_ranges_stand_as_published():
    for core in CORE_RANGES.values():
        target = core_target(core, Decimal(0))
        assert target.least_c == celsius(core.least_f)
        assert target.reachable
    assert not core_target(CORE_RANGES[BreadKind.LEAN], Decimal(0)).capped


def test_at_5000_feet_the_core_of_dense_bread_is_out_of_reach():
    target = core_target(CORE_RANGES[BreadKind.DENSE], at_feet(5000))
    assert (target.capped, target.reachable) == (True, False)
    assert target.least_c == target.most_c == target.boiling_c - 1


def test_at_5000_feet_lean_bread_is_done_in_what_is_left_of_its_range():
    target = core_target(CORE_RANGES[BreadKind.LEAN], at_feet(5000))
    assert (target.capped, target.reachable) == (True, True)
    assert (f"{target.least_c:.1f}", f"{target.most_c:.1f}") == ("93.3", "93.9")


def test_at_7000_feet_soft_rolls_are_done_as_at_sea_level():
    assert not core_target(CORE_RANGES[BreadKind.SOFT], at_feet(7000)).capped


@given(heights)
def test_no_target_reaches_the_boiling_point(height):
    for core in CORE_RANGES.values():
        target = core_target(core, height)
        assert target.least_c <= target.most_c < target.boiling_c


def test_the_margin_below_the_boiling_point_can_be_set():
    target = core_target(CORE_RANGES[BreadKind.PAN], Decimal(0), margin_c=Decimal(3))
    assert target.most_c == target.boiling_c - 3


@pytest.mark.parametrize(
    ("feet", "advises", "unclear"),
    [
        pytest.param(0, False, False, id="sea level"),
        pytest.param(2999, False, False, id="below all sources"),
        pytest.param(3000, True, True, id="where some begin"),
        pytest.param(3499, True, True, id="where not all have begun"),
        pytest.param(3500, True, False, id="where all have begun"),
        pytest.param(8000, True, False, id="high up"),
    ],
)
def test_advice_begins_where_sources_say_and_says_where_they_disagree(feet, advises, unclear):
    advice = altitude_advice(at_feet(feet))
    assert bool(advice.changes) is advises
    assert advice.caution == (CAUTION if advises else "")
    assert advice.onset_unclear is unclear
    assert advice.boiling_c == boiling_point_c(at_feet(feet))


def test_advice_is_ranges_that_do_not_grow_with_the_height():
    low, high = altitude_advice(at_feet(4000)), altitude_advice(at_feet(9000))
    assert low.changes == high.changes
    assert {(one.what, one.least_percent, one.most_percent) for one in low.changes} == {
        ("yeast", -33, -25),
        ("speed of the rise", 25, 50),
    }
    assert all(one.source for one in low.changes)


@pytest.mark.parametrize(
    ("make", "error"),
    [
        pytest.param(lambda: boiling_point_c(Decimal("5500.1")), OutOfRange, id="above kitchens"),
        pytest.param(lambda: pressure_kpa(Decimal("-500.1")), OutOfRange, id="below the sea"),
        pytest.param(lambda: pressure_kpa(1500.0), NotDecimal, id="float height"),
        pytest.param(lambda: boiling_point_at_kpa(Decimal("0.5")), OutOfRange, id="near vacuum"),
        pytest.param(lambda: boiling_point_at_kpa(Decimal(5000)), OutOfRange, id="a boiler"),
        pytest.param(
            lambda: core_target(CORE_RANGES[BreadKind.LEAN], Decimal(0), margin_c=Decimal(-1)),
            OutOfRange,
            id="above boiling",
        ),
    ],
)
def test_places_without_kitchens_are_refused(make, error):
    with pytest.raises(error):
        make()
