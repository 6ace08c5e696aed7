"""How long dough waits: as written in a cabinet set to it, and by the rule everywhere else."""

from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from math import exp

import pytest

from classes.core.hours.problem.rising import (
    Window,
    can_rise,
    is_told_apart,
    on_the_bench,
    overnight_min,
    rest_window,
    ripens,
    rise_of,
    window_of,
)
from classes.core.hours.problem.values import RisesIn
from recipes.core.errors import NoGrowth
from recipes.core.rise.fermentation import TEN_PERCENT, Fermentation, time_at
from tests.classes.core.hours.demo_classes import HALL, step

BULK = step("bulk", 5, 75, 25)
PROOF = step("proof", 0, 40, 26)
BENCH = replace(HALL, rises_in=RisesIn.BENCH)
AT_HAND_C = Decimal(25)


def room(celsius):
    return replace(BENCH, room_c=Decimal(celsius))


def share_done(minutes, written, dough_c, place_c, tau_min):
    """The share of a fermentation after so many minutes, added up in steps of a hundredth."""
    written_min, written_c = written
    done = 0.0
    for n in range(round(minutes * 100)):
        at_c = place_c + (dough_c - place_c) * exp(-(n + 0.5) / 100 / tau_min)
        done += 2 ** ((at_c - written_c) / 9.4) / written_min / 100
    return done


def is_the_window(window, shares, **case):
    """Whether the minutes of a window are the whole ones next to what the shares come to."""
    first, last = shares
    return (
        share_done(window.earliest - 1, **case) < first <= share_done(window.earliest, **case)
        and share_done(window.target - 0.5, **case) <= 1 <= share_done(window.target + 0.5, **case)
        and share_done(window.latest, **case) <= last < share_done(window.latest + 1, **case)
    )


# In a cabinet that is set to the recipe; by hand 90 % of 80 is 72, 130 % 104; of 40: 36 and 50


@pytest.mark.parametrize(
    ("rise", "expected"), [(BULK, Window(72, 80, 104)), (PROOF, Window(36, 40, 50))]
)
def test_a_cabinet_set_to_the_recipe_keeps_its_times(rise, expected):
    found = rise_of(rise, HALL, Decimal(19))
    assert found.window == expected
    assert (found.place, found.temperature_c) == ("cabinet", rise.temperature_c)
    assert found.dough_c == rise.temperature_c


def test_a_step_without_a_temperature_rises_at_that_of_the_dough():
    found = rise_of(step("bulk", 0, 60), HALL, Decimal(24))
    assert (found.window.target, found.temperature_c) == (60, 24)


def test_a_cabinet_with_a_setting_of_its_own_warms_the_dough():
    warm = replace(HALL, cabinet_c=Decimal(30))
    found = rise_of(BULK, warm, Decimal(22))
    case = {"written": (80, 25), "dough_c": 22, "place_c": 30, "tau_min": 60}
    assert is_the_window(found.window, (0.9, 1.3), **case)
    assert (found.place, found.temperature_c) == ("cabinet", 30)
    assert 22 < found.dough_c < 30


# On the bench


@pytest.mark.parametrize("room_c", [18, 21, 31])
@pytest.mark.parametrize(
    ("rise", "written", "shares"),
    [(BULK, (80, 25), (0.9, 1.3)), (PROOF, (40, 26), (0.9, 1.25))],
    ids=["bulk", "proof"],
)
def test_on_the_bench_the_dough_drifts_to_the_room(rise, written, shares, room_c):
    found = rise_of(rise, room(room_c), AT_HAND_C)
    case = {"written": written, "dough_c": 25, "place_c": room_c, "tau_min": 180}
    assert is_the_window(found.window, shares, **case)
    assert (found.place, found.temperature_c) == ("bench", room_c)
    assert min(25, room_c) <= found.dough_c <= max(25, room_c)


def test_a_warmer_room_takes_less_time():
    targets = [rise_of(BULK, room(at), AT_HAND_C).window.target for at in (18, 21, 25, 31)]
    assert targets == sorted(targets, reverse=True)
    assert targets[2] == 80
    assert len(set(targets)) == 4


def test_80_minutes_at_25_degrees_are_134_at_a_steady_18():
    """Demo scenario, worked by hand: 80 x 2^(7 / 9.4) = 134.05."""
    by_rule = time_at(Fermentation(Decimal(80), Decimal(25)), Decimal(18)).minutes
    assert by_rule.to_integral_value(ROUND_HALF_UP) == 134
    found = rise_of(BULK, room(18), Decimal(18))
    assert found.window == Window(121, 134, 174)
    assert found.dough_c == 18


def test_another_rule_of_the_room_gives_another_time():
    """By hand: 80 x 1.1^7 = 155.9."""
    other = replace(room(18), rule=TEN_PERCENT)
    assert rise_of(BULK, other, Decimal(18)).window.target == 156


# In the cold


@pytest.mark.parametrize("celsius", [4, 8])
def test_a_retard_in_the_cold_may_last_half_as_long_again(celsius):
    found = rise_of(step("proof", 0, 600, celsius), room(21), AT_HAND_C)
    assert found.window == Window(600, 600, 900)
    assert (found.place, found.temperature_c, found.dough_c) == ("refrigerator", celsius, celsius)


def test_cold_dough_takes_longer_on_the_bench_than_warm_dough():
    cold, warm = (rise_of(PROOF, room(21), Decimal(at)).window.target for at in (4, 25))
    assert cold > 2 * warm


# Where nothing rises


@pytest.mark.parametrize(
    ("rise", "room_c", "dough_c"),
    [(BULK, "1", "1"), (PROOF, "0", "1")],
    ids=["a freezing room", "a cold one"],
)
def test_dough_that_never_rises_is_refused(rise, room_c, dough_c):
    with pytest.raises(NoGrowth):
        rise_of(rise, room(room_c), Decimal(dough_c))


@pytest.mark.parametrize(
    ("celsius", "rises"),
    [("-2", True), ("-2.1", False), ("45", True), ("45.1", False), ("230", False), ("-30", False)],
)
def test_no_dough_rises_below_minus_2_or_above_45(celsius, rises):
    assert can_rise(Decimal(celsius)) is rises


@pytest.mark.parametrize(
    ("rise", "room_c", "dough_c"),
    [
        (step("bulk", 0, 80, 230), "21", "25"),
        (step("bulk", 0, 80, -20), "21", "25"),
        (PROOF, "46", "25"),
        (PROOF, "21", "90"),
    ],
    ids=["in a hot oven", "in a freezer", "a room like an oven", "dough like soup"],
)
def test_of_a_rise_where_no_dough_rises_nothing_is_said(rise, room_c, dough_c):
    assert rise_of(rise, room(room_c), Decimal(dough_c)) is None
    in_cabinet = replace(HALL, room_c=Decimal(room_c))
    assert rise_of(step("proof", 0, 40, 230), in_cabinet, Decimal(dough_c)) is None


# Of what a temperature is


def in_room(celsius, minutes=80):
    return step("bulk", 0, minutes, celsius, of="room")


def test_in_a_room_as_the_recipe_has_it_dough_takes_the_recipes_minutes():
    found = rise_of(in_room(21), room(21), AT_HAND_C)
    assert found.window.target == 80


def test_dough_at_25_takes_longer_in_a_room_at_21():
    found = rise_of(step("bulk", 0, 80, 25), room(21), AT_HAND_C)
    case = {"written": (80, 25), "dough_c": 25, "place_c": 21, "tau_min": 180}
    assert share_done(found.window.target - 0.5, **case) <= 1
    assert share_done(found.window.target + 0.5, **case) >= 1
    assert found.window.target == 85


def test_a_room_at_26_warms_the_recipes_dough_too():
    """By hand: the dough of both drifts alike, and only what it ferments counts."""
    found = rise_of(in_room(26), room(18), AT_HAND_C)
    own = share_done(80, (80, 26), 25, 26, 180)
    case = {"written": (80, 26), "dough_c": 25, "place_c": 18, "tau_min": 180}
    assert share_done(found.window.target - 0.5, **case) <= own
    assert share_done(found.window.target + 0.5, **case) >= own


def test_after_a_rise_the_recipes_own_dough_has_drifted_toward_its_room():
    found = rise_of(in_room(26), HALL, Decimal(20), AT_HAND_C)
    assert found.window.target == 80
    assert float(found.own_c) == pytest.approx(26 - exp(-80 / 180))


@pytest.mark.parametrize(
    ("rise", "place", "matters"),
    [
        (step("bulk", 0, 80, 27, of="unsaid"), BENCH, True),
        (step("bulk", 0, 80, 27, of="unsaid"), HALL, False),
        (step("bulk", 0, 80, 25, of="dough"), BENCH, False),
        (step("bulk", 0, 80, None), BENCH, False),
        (step("bulk", 0, 600, 4, of="unsaid"), BENCH, False),
        (step("bulk", 0, 80, 230, of="unsaid"), BENCH, False),
    ],
)
def test_whether_dough_or_room_matters_where_the_recipe_does_not_say(rise, place, matters):
    assert is_told_apart(rise, place, AT_HAND_C, AT_HAND_C) is matters


def test_a_refrigerator_keeps_the_recipes_time_however_warm_it_is():
    found = rise_of(step("bulk", 0, 600, 10, of="refrigerator"), BENCH, AT_HAND_C)
    assert (found.place, found.window.target) == ("refrigerator", 600)


@pytest.mark.parametrize("place", [HALL, BENCH], ids=["cabinet", "bench"])
def test_a_rise_without_minutes_waits_no_longer_than_a_rest(place):
    found = rise_of(step("bulk", 0, 0, 25), place, AT_HAND_C)
    assert found.window == Window(0, 0, 10)
    assert found.dough_c == AT_HAND_C


# Windows and rests


@pytest.mark.parametrize(
    ("minutes", "expected"),
    [(0, (0, 0, 10)), (15, (15, 15, 25)), (20, (20, 20, 30)), (60, (60, 60, 90))],
)
def test_a_rest_may_last_half_as_long_again_and_ten_minutes_at_least(minutes, expected):
    assert rest_window(minutes) == Window(*expected)


@pytest.mark.parametrize(
    ("exact", "expected"),
    [
        (("72.1", "80.4", "104.9"), (73, 80, 104)),
        (("9.2", "9.4", "9.6"), (9, 9, 9)),
        (("0.6", "0.7", "0.8"), (1, 1, 1)),
    ],
    ids=["minutes lie within", "never after the aim", "never before the aim"],
)
def test_whole_minutes_lie_within_the_exact_ones(exact, expected):
    assert window_of(*map(Decimal, exact)) == Window(*expected)


def test_dough_on_the_bench_closes_two_thirds_of_the_gap_in_three_hours():
    """By hand: 21 + (25 - 21) / e."""
    assert round(on_the_bench(AT_HAND_C, BENCH, 180), 2) == Decimal("22.47")
    assert on_the_bench(AT_HAND_C, BENCH, 0) == AT_HAND_C


# Overnight


@pytest.mark.parametrize(
    ("night_c", "minutes"), [(16, 967), (20, 720), (24, 536)], ids=["16 °C", "20 °C", "24 °C"]
)
def test_a_poolish_of_12_hours_follows_the_temperature_of_the_night(night_c, minutes):
    """By hand: 720 x 2^((20 - T) / 9.4)."""
    poolish = step("prepare", 5, 720, 20)
    assert overnight_min(poolish, replace(HALL, night_c=Decimal(night_c))) == minutes


NO_FERMENT = {
    "without a temperature": step("prepare", 5, 480),
    "in the cold": step("prepare", 5, 480, 8),
    "cooked": step("prepare", 5, 480, 65),
    "without waiting": step("prepare", 10, 0, 20),
}


@pytest.mark.parametrize("kept", NO_FERMENT.values(), ids=NO_FERMENT)
@pytest.mark.parametrize("night_c", [1, 16])
def test_what_does_not_ferment_takes_its_written_time(kept, night_c):
    night = replace(HALL, night_c=Decimal(night_c))
    assert overnight_min(kept, night) == kept.waiting_min
    assert not ripens(kept, night)


def test_a_preferment_does_not_ripen_in_a_freezing_night():
    poolish = step("prepare", 5, 720, 20)
    assert ripens(poolish, HALL)
    with pytest.raises(NoGrowth):
        overnight_min(poolish, replace(HALL, night_c=Decimal(1)))
