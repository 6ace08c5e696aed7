"""What bakers at home know to be so. Common practice, no published source, in every test here.

Each figure is checked against the program's answer, never against itself.
"""

from decimal import Decimal

import pytest

from recipes.core.exchange.kinds import LIGHT_FLAKE_SALT, TABLE_SALT
from recipes.core.heat.doneness import (
    CORE_RANGES,
    HANDLING_LOSSES,
    BreadKind,
    after_loss,
    before_loss,
    celsius,
)
from recipes.core.rise.drift import Dough, bench, minutes_until
from recipes.core.rise.fermentation import RULES, Fermentation, time_at

HOURS = Decimal(60)


def at_f(degrees):
    return celsius(Decimal(degrees))


# A moderately rich dough doubles in about two hours at 70 °F.
def rich_dough(rule):
    return Fermentation(2 * HOURS, at_f(70), rule)


def test_two_teaspoons_of_light_flake_salt_weigh_about_one_of_table_salt():
    one_g = TABLE_SALT.tsp_g
    lightest_g = 2 * LIGHT_FLAKE_SALT.least_tsp_g
    assert abs(lightest_g - one_g) / one_g < Decimal("0.1")
    assert lightest_g <= one_g <= 2 * LIGHT_FLAKE_SALT.most_tsp_g


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.key)
@pytest.mark.parametrize("room_f", [64, 68, 70, 74, 78, 80])
def test_a_rich_dough_doubles_in_one_to_three_hours_in_the_rooms_of_homes(rule, room_f):
    estimate = time_at(rich_dough(rule), at_f(room_f))
    assert 1 * HOURS <= estimate.minutes <= 3 * HOURS
    assert estimate.warning is None


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.key)
@pytest.mark.parametrize("room_f", [64, 72, 80])
@pytest.mark.parametrize("dough_f", [72, 78, 82])
def test_so_it_does_when_it_starts_warm_or_cool_and_drifts_to_the_room(rule, room_f, dough_f):
    estimate = minutes_until(rich_dough(rule), Dough(at_f(dough_f)), bench(at_f(room_f)))
    assert 1 * HOURS <= estimate.minutes <= 3 * HOURS


def test_about_8_percent_of_a_small_home_batch_is_lost_on_the_way_to_the_scale():
    (small,) = (one for one in HANDLING_LOSSES if one.of.startswith("small home batch"))
    # Twelve rolls of some 58 g from some 750 g of ingredients.
    assert abs(before_loss(Decimal(690), small.most) - 750) < 3
    assert abs(after_loss(Decimal(750), small.most) - 690) < 3


def test_soft_rolls_are_done_at_195_fahrenheit_in_the_middle():
    soft = CORE_RANGES[BreadKind.SOFT]
    assert soft.least_f <= 195 <= soft.most_f


def test_a_hearth_loaf_is_not_done_at_the_195_of_soft_rolls():
    assert CORE_RANGES[BreadKind.LEAN].least_f > 195
