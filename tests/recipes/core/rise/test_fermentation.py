"""The same fermentation at another temperature, by rules that are named and know their range."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.core.errors import NoGrowth, NotDecimal, OutOfRange
from recipes.core.rise.fermentation import (
    CARDINAL,
    DOUBLING,
    RULES,
    TEN_PERCENT,
    CardinalTemperatures,
    Doubling,
    Fermentation,
    OutsideRange,
    PercentPerDegree,
    time_at,
)
from tests.recipes.core.strategies import decimals

temperatures = decimals("5", "44", 1)
times = decimals("1", "2000", 1)
rules = st.sampled_from(RULES)


@pytest.mark.parametrize(
    ("minutes", "at_c", "wanted_c", "expected_min"),
    [
        pytest.param("80", "25", "18", "134", id="the hearth loaf in a kitchen of 18 degrees"),
        pytest.param("720", "20", "16", "967", id="the poolish four degrees colder: 16.1 h"),
        pytest.param("60", "20", "29.4", "30", id="half the time 9.4 degrees warmer"),
        pytest.param("60", "29.4", "20", "120", id="twice the time 9.4 degrees colder"),
    ],
)
def test_by_the_doubling_rule(minutes, at_c, wanted_c, expected_min):
    estimate = time_at(Fermentation(Decimal(minutes), Decimal(at_c)), Decimal(wanted_c))
    assert f"{estimate.minutes:.0f}" == expected_min
    assert estimate.warning is None


def test_ten_percent_a_degree_compounds():
    estimate = time_at(Fermentation(Decimal(121), Decimal(22), TEN_PERCENT), Decimal(24))
    assert round(estimate.minutes, 9) == 100


def test_the_cardinal_model_is_one_at_its_best_and_less_on_both_sides():
    assert CARDINAL.rate(CARDINAL.best_c) == 1
    assert CARDINAL.rate(CARDINAL.best_c - 1) < 1
    assert CARDINAL.rate(CARDINAL.best_c + 1) < 1


@given(rules, times, temperatures, temperatures)
def test_there_and_back_is_the_same_time(rule, minutes, one_c, other_c):
    there = time_at(Fermentation(minutes, one_c, rule), other_c)
    back = time_at(Fermentation(there.minutes, other_c, rule), one_c)
    assert abs(back.minutes - minutes) < Decimal("1e-15")


@given(rules, times, decimals("5", "32", 1), decimals("0.1", "5", 1))
def test_warmer_is_faster_up_to_the_best_temperature(rule, minutes, at_c, more_c):
    wanted_c = min(at_c + more_c, CARDINAL.best_c)
    assert time_at(Fermentation(minutes, at_c, rule), wanted_c).minutes < minutes


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.key)
@pytest.mark.parametrize(
    ("at_c", "warns"),
    [("14.9", True), ("15", False), ("24", False), ("32", False), ("32.1", True)],
)
def test_outside_15_to_32_degrees_there_is_a_warning(rule, at_c, warns):
    warning = time_at(Fermentation(Decimal(60), Decimal(24), rule), Decimal(at_c)).warning
    assert (warning is not None) is warns


def test_the_warning_names_rule_range_and_temperatures():
    warning = time_at(Fermentation(Decimal(60), Decimal(33)), Decimal(10)).warning
    assert warning == OutsideRange("doubling rule", 15, 32, Decimal(10), Decimal(33))


@pytest.mark.parametrize("temperature_c", ["1.2", "45.3"])
def test_just_beyond_where_yeast_rests_and_stops_it_is_slow_but_grows(temperature_c):
    assert DOUBLING.rate(Decimal(temperature_c)) > 0


@pytest.mark.parametrize(
    ("rule", "temperature_c"),
    [
        pytest.param(DOUBLING, "1.1", id="doubling where yeast rests"),
        pytest.param(DOUBLING, "45.4", id="doubling where yeast stops"),
        pytest.param(TEN_PERCENT, "0", id="ten percent at freezing"),
        pytest.param(TEN_PERCENT, "60", id="ten percent where yeast dies"),
        pytest.param(CARDINAL, "2.8", id="cardinal at its least"),
        pytest.param(CARDINAL, "45.4", id="cardinal at its most"),
        pytest.param(CARDINAL, "90", id="cardinal far beyond"),
    ],
)
def test_where_nothing_grows_there_is_no_time(rule, temperature_c):
    with pytest.raises(NoGrowth) as caught:
        time_at(Fermentation(Decimal(60), Decimal(24), rule), Decimal(temperature_c))
    assert (caught.value.rule, caught.value.temperature_c) == (rule.name, Decimal(temperature_c))
    with pytest.raises(NoGrowth):
        Fermentation(Decimal(60), Decimal(temperature_c), rule)


def test_the_rules_are_editable():
    slow = Doubling(every_c=Decimal(20))
    estimate = time_at(Fermentation(Decimal(60), Decimal(30), slow), Decimal(10))
    assert round(estimate.minutes, 9) == 120
    assert estimate.warning.rule == "doubling rule"
    assert PercentPerDegree(percent=Decimal(5)).rate(Decimal(25)) == Decimal("1.05")


@pytest.mark.parametrize(
    ("make", "error"),
    [
        pytest.param(lambda: Doubling(every_c=Decimal(0)), OutOfRange, id="doubles at once"),
        pytest.param(lambda: Doubling(every_c=9.4), NotDecimal, id="float degrees"),
        pytest.param(lambda: PercentPerDegree(percent=Decimal(-10)), OutOfRange, id="minus"),
        pytest.param(lambda: PercentPerDegree(percent=10.0), NotDecimal, id="float percent"),
        pytest.param(
            lambda: CardinalTemperatures(best_c=Decimal(20)), OutOfRange, id="best below the middle"
        ),
        pytest.param(
            lambda: CardinalTemperatures(best_c=Decimal("45.4")), OutOfRange, id="best at the most"
        ),
        pytest.param(
            lambda: CardinalTemperatures(grows_from_c=Decimal(50)), OutOfRange, id="least over most"
        ),
        pytest.param(lambda: Fermentation(Decimal(0), Decimal(24)), OutOfRange, id="no time"),
        pytest.param(lambda: Fermentation(60.0, Decimal(24)), NotDecimal, id="float minutes"),
        pytest.param(lambda: Fermentation(Decimal(60), 24.0), NotDecimal, id="float temperature"),
    ],
)
def test_rules_and_times_that_make_no_sense_are_refused(make, error):
    with pytest.raises(error):
        make()


def test_every_rule_says_where_it_comes_from():
    assert len({rule.key for rule in RULES}) == len(RULES)
    assert all(rule.name and rule.source for rule in RULES)
