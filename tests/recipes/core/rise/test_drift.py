"""Dough on its way to the temperature around it, and how far it ferments meanwhile."""

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from recipes.core.errors import NoGrowth, NotDecimal, OutOfRange
from recipes.core.rise.drift import (
    Dough,
    DoughAt,
    Leg,
    after,
    bench,
    course,
    minutes_to_reach,
    minutes_until,
    progress,
    temperature_after,
    warm_cabinet,
)
from recipes.core.rise.fermentation import CARDINAL, RULES, Fermentation, time_at
from tests.recipes.core.strategies import decimals

HEARTH_BULK = Fermentation(Decimal(80), Decimal(25))
HEARTH_PROOF = Fermentation(Decimal(40), Decimal(26))
LATE_DOUGH = Dough(Decimal("21.5"))
COLD_BENCH = bench(Decimal(16))

doughs = st.builds(Dough, decimals("10", "30", 1))
places = st.builds(DoughAt, st.just("somewhere"), decimals("10", "30", 1), decimals("20", "300", 0))
fermentations = st.builds(
    Fermentation, decimals("30", "900", 0), decimals("18", "30", 1), st.sampled_from(RULES)
)
stays = decimals("0", "900", 1)

CLOSE = Decimal("0.00001")


def clock(minutes, start=10 * 60 + 55):
    """The next whole minute of the clock."""
    total = start + int(minutes) + (minutes % 1 > 0)
    return f"{total // 60}:{total % 60:02}"


def test_the_late_dough_of_the_demo_after_twenty_minutes():
    later = after(HEARTH_BULK, LATE_DOUGH, COLD_BENCH, Decimal(20))
    assert f"{later.done * 100:.1f}" == "18.9"
    assert f"{later.temperature_c:.2f}" == "20.92"


def test_the_late_dough_left_on_the_bench():
    assert clock(minutes_until(HEARTH_BULK, LATE_DOUGH, COLD_BENCH).minutes) == "12:50"


@pytest.mark.parametrize(("cabinet_c", "ends_at"), [("28", "12:26"), ("30", "12:22")])
def test_the_late_dough_moved_into_a_warm_cabinet(cabinet_c, ends_at):
    legs = [Leg(COLD_BENCH, Decimal(20)), Leg(warm_cabinet(Decimal(cabinet_c)))]
    followed = course(HEARTH_BULK, LATE_DOUGH, legs)
    assert clock(followed.minutes) == ends_at
    assert followed.warning is None


def ready(bulk_min, proof_min):
    """When it has been shaped, proofed, baked for 30 min and cooled for 15 min."""
    return clock(bulk_min + 15 + proof_min + 30 + 15)


def test_the_late_dough_on_the_bench_is_bread_at_15_14_and_with_its_drift_at_15_01():
    bulk_min = minutes_until(HEARTH_BULK, LATE_DOUGH, COLD_BENCH).minutes
    assert ready(bulk_min, time_at(HEARTH_PROOF, Decimal(16)).minutes) == "15:14"
    shaped = Dough(temperature_after(LATE_DOUGH, COLD_BENCH, bulk_min + 15))
    assert ready(bulk_min, minutes_until(HEARTH_PROOF, shaped, COLD_BENCH).minutes) == "15:01"


@pytest.mark.parametrize(("cabinet_c", "ready_at"), [("28", "14:00"), ("30", "13:52")])
def test_the_late_dough_from_a_warm_cabinet_is_bread_within_minutes_of_two(cabinet_c, ready_at):
    cabinet_c = Decimal(cabinet_c)
    legs = [Leg(COLD_BENCH, Decimal(20)), Leg(warm_cabinet(cabinet_c))]
    bulk_min = course(HEARTH_BULK, LATE_DOUGH, legs).minutes
    assert ready(bulk_min, time_at(HEARTH_PROOF, cabinet_c).minutes) == ready_at


def test_a_bulk_of_90_minutes_would_have_gone_less_far():
    written = Fermentation(Decimal(90), Decimal(25))
    assert f"{after(written, LATE_DOUGH, COLD_BENCH, Decimal(20)).done * 100:.1f}" == "16.8"


def test_time_constants_are_assumed_and_can_be_set():
    assert (bench(Decimal(20)).tau_min, warm_cabinet(Decimal(28)).tau_min) == (180, 60)
    assert bench(Decimal(20), Decimal(90)).tau_min == warm_cabinet(Decimal(28), Decimal(90)).tau_min


def test_a_gap_closes_by_63_percent_in_one_time_constant():
    dough = Dough(Decimal(26))
    assert f"{temperature_after(dough, COLD_BENCH, Decimal(180)):.2f}" == "19.68"
    assert temperature_after(dough, COLD_BENCH, Decimal(0)) == 26


@given(doughs, places, decimals("0", "600", 1))
def test_the_time_to_a_temperature_undoes_the_drift(dough, place, minutes):
    assume(abs(dough.temperature_c - place.temperature_c) >= Decimal("0.1"))
    assume(minutes < 20 * place.tau_min)
    reached_c = temperature_after(dough, place, minutes)
    assert abs(minutes_to_reach(dough, place, reached_c) - minutes) < Decimal("1e-9")


@pytest.mark.parametrize(
    "temperature_c",
    [
        pytest.param("16", id="only approached"),
        pytest.param("15", id="colder than the room"),
        pytest.param("22", id="warmer than the dough"),
    ],
)
def test_some_temperatures_are_never_reached(temperature_c):
    assert minutes_to_reach(LATE_DOUGH, COLD_BENCH, Decimal(temperature_c)) is None


def test_dough_as_warm_as_the_room_stays_so():
    dough = Dough(Decimal(16))
    assert minutes_to_reach(dough, COLD_BENCH, Decimal(16)) == 0
    assert minutes_to_reach(dough, COLD_BENCH, Decimal(17)) is None


@given(fermentations, decimals("10", "30", 1), stays)
def test_without_drift_time_passes_evenly(fermentation, at_c, minutes):
    share = progress(fermentation, Dough(at_c), bench(at_c), minutes)
    assert abs(share - minutes / time_at(fermentation, at_c).minutes) < Decimal("1e-20")


def exponential_integral(fermentation, dough, place, minutes):
    """The progress by the doubling rule in closed form: a series for the integral of e^u / u."""
    slope = Decimal(2).ln() / fermentation.rule.every_c
    first = slope * (dough.temperature_c - place.temperature_c)
    last = first * (-minutes / place.tau_min).exp()
    total, factorial = Decimal(0), Decimal(1)
    for n in range(1, 40):
        factorial *= n
        total += (first**n - last**n) / (n * factorial)
    at_the_end = (slope * (place.temperature_c - fermentation.temperature_c)).exp()
    return at_the_end * (minutes + place.tau_min * total) / fermentation.minutes


@given(decimals("18", "30", 1), doughs, places, stays)
def test_the_doubling_rule_agrees_with_its_closed_form(reference_c, dough, place, minutes):
    fermentation = Fermentation(Decimal(80), reference_c)
    exact = exponential_integral(fermentation, dough, place, minutes)
    assert abs(progress(fermentation, dough, place, minutes) - exact) < CLOSE * max(exact, 1)


def small_steps(fermentation, dough, place, minutes, steps=6000):
    """The progress by the midpoint rule, and how far a jump of the rate can lead it astray."""
    step = minutes / steps
    middles = ((n + Decimal("0.5")) * step for n in range(steps))
    speeds = [fermentation.speed(temperature_after(dough, place, at)) for at in middles]
    jump = max(abs(one - other) for one, other in pairwise(speeds))
    return sum(speeds) * step, jump * step


@pytest.mark.parametrize(
    ("dough_c", "place", "minutes"),
    [
        pytest.param("24", bench(Decimal(16)), "120", id="cooling on the bench"),
        pytest.param("20", warm_cabinet(Decimal(40)), "60", id="warming past the best"),
        pytest.param("24", DoughAt("freezer", Decimal(-18), Decimal(90)), "200", id="freezing"),
        pytest.param("1", bench(Decimal(22)), "240", id="out of the cold"),
        pytest.param(
            "20", DoughAt("oven", Decimal(60), Decimal(60)), "90", id="too hot in the end"
        ),
        pytest.param("50", bench(Decimal(20)), "600", id="too hot at first"),
    ],
)
@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.key)
def test_every_rule_agrees_with_small_steps(rule, dough_c, place, minutes):
    fermentation = Fermentation(Decimal(80), Decimal(25), rule)
    dough, minutes = Dough(Decimal(dough_c)), Decimal(minutes)
    expected, astray = small_steps(fermentation, dough, place, minutes)
    assert abs(progress(fermentation, dough, place, minutes) - expected) < CLOSE + astray


@given(fermentations, doughs, places, stays, stays)
def test_a_stay_in_two_parts_is_the_same_stay(fermentation, dough, place, first, second):
    parted = after(fermentation, after(fermentation, dough, place, first), place, second)
    whole = after(fermentation, dough, place, first + second)
    assert abs(parted.done - whole.done) < CLOSE * max(whole.done, 1)
    assert abs(parted.temperature_c - whole.temperature_c) < Decimal("1e-20")


@given(fermentations, doughs, places, decimals("0.1", "1.5", 2))
def test_the_time_until_a_share_undoes_the_progress(fermentation, dough, place, share):
    minutes = minutes_until(fermentation, dough, place, share).minutes
    assert abs(progress(fermentation, dough, place, minutes) - share) < CLOSE


@given(fermentations, doughs, places, decimals("1", "900", 1))
def test_the_progress_undoes_the_time_until_a_share(fermentation, dough, place, minutes):
    share = progress(fermentation, dough, place, minutes)
    again = minutes_until(fermentation, dough, place, share).minutes
    assert abs(again - minutes) < Decimal("0.001")


def test_what_is_done_needs_no_more_time():
    assert minutes_until(HEARTH_BULK, Dough(Decimal(20), Decimal(1)), COLD_BENCH).minutes == 0


def test_after_thirty_days_nobody_waits_any_longer():
    month = 30 * 24 * 60
    DoughAt("cellar", Decimal(10), Decimal(month))
    with pytest.raises(OutOfRange):
        DoughAt("cellar", Decimal(10), Decimal(month + 1))


@pytest.mark.parametrize(
    ("rule", "fridge_c"),
    [
        pytest.param(CARDINAL, "2", id="colder than the least"),
        pytest.param(CARDINAL, "2.8", id="at the least"),
        pytest.param(CARDINAL, "2.9", id="more than thirty days"),
        pytest.param(RULES[0], "1", id="where yeast rests"),
    ],
)
def test_a_dough_that_cools_down_too_soon_is_never_done(rule, fridge_c):
    overnight = Fermentation(Decimal(900), Decimal(20), rule)
    fridge = DoughAt("refrigerator", Decimal(fridge_c), Decimal(60))
    with pytest.raises(NoGrowth):
        minutes_until(overnight, Dough(Decimal(24)), fridge)


def test_a_dough_may_be_done_before_it_cools_down():
    fridge = DoughAt("refrigerator", Decimal(1), Decimal(180))
    assert minutes_until(HEARTH_BULK, Dough(Decimal(30)), fridge, Decimal("0.5")).minutes < 60


def test_a_cold_dough_waits_until_it_is_warm_enough():
    out_of_the_cold = Dough(Decimal(0))
    waits = minutes_to_reach(out_of_the_cold, bench(Decimal(20)), Decimal("1.1"))
    assert progress(HEARTH_BULK, out_of_the_cold, bench(Decimal(20)), waits) == 0
    assert minutes_until(HEARTH_BULK, out_of_the_cold, bench(Decimal(20))).minutes > waits


def test_the_warning_looks_at_both_ends_of_the_drift():
    warning = minutes_until(HEARTH_BULK, Dough(Decimal(25)), bench(Decimal(8), Decimal(60))).warning
    assert warning.coldest_c < 15
    assert warning.warmest_c == 25
    assert minutes_until(HEARTH_BULK, Dough(Decimal(25)), bench(Decimal(20))).warning is None


def test_a_course_has_a_point_every_step_and_at_the_end_of_each_leg():
    legs = [Leg(COLD_BENCH, Decimal(12)), Leg(warm_cabinet(Decimal(28)), Decimal(10))]
    followed = course(HEARTH_BULK, LATE_DOUGH, legs, step_min=Decimal(5))
    assert [point.minute for point in followed.points] == [0, 5, 10, 12, 17, 22]
    assert followed.minutes == 22
    assert followed.points[0] == (0, 0, LATE_DOUGH.temperature_c)
    last = followed.points[-1]
    assert (last.share, last.temperature_c) == (followed.dough.done, followed.dough.temperature_c)


@given(fermentations, doughs, places)
def test_an_open_leg_ends_when_the_fermentation_is_done(fermentation, dough, place):
    followed = course(fermentation, dough, [Leg(place)], step_min=Decimal(30))
    shares = [point.share for point in followed.points]
    assert shares == sorted(shares)
    assert abs(shares[-1] - 1) < 2 * CLOSE


def test_a_dough_with_a_head_start_begins_its_course_there():
    halfway = Dough(Decimal(20), Decimal("0.5"))
    followed = course(HEARTH_BULK, halfway, [Leg(bench(Decimal(20)))])
    assert followed.points[0].share == Decimal("0.5")
    assert abs(followed.minutes * 2 - time_at(HEARTH_BULK, Decimal(20)).minutes) < CLOSE


def test_a_course_says_which_step_would_do():
    with pytest.raises(OutOfRange) as caught:
        course(HEARTH_BULK, LATE_DOUGH, [Leg(COLD_BENCH, Decimal(3000))], step_min=Decimal(1))
    assert (caught.value.field, caught.value.least) == ("step_min", Decimal("1.5"))


@pytest.mark.parametrize(
    ("make", "error"),
    [
        pytest.param(lambda: Dough(21.5), NotDecimal, id="float temperature"),
        pytest.param(lambda: Dough(Decimal(90)), OutOfRange, id="boiled dough"),
        pytest.param(lambda: Dough(Decimal(20), Decimal(-1)), OutOfRange, id="less than nothing"),
        pytest.param(lambda: bench(Decimal(-40)), OutOfRange, id="no kitchen"),
        pytest.param(lambda: bench(Decimal(20), Decimal(0)), OutOfRange, id="no time constant"),
        pytest.param(
            lambda: temperature_after(LATE_DOUGH, COLD_BENCH, Decimal(-1)),
            OutOfRange,
            id="before it began",
        ),
        pytest.param(
            lambda: minutes_until(HEARTH_BULK, LATE_DOUGH, COLD_BENCH, Decimal(0)),
            OutOfRange,
            id="no share",
        ),
        pytest.param(
            lambda: course(
                HEARTH_BULK, LATE_DOUGH, [Leg(COLD_BENCH, Decimal(3000))], step_min=Decimal(1)
            ),
            OutOfRange,
            id="too many points",
        ),
        pytest.param(
            lambda: course(HEARTH_BULK, LATE_DOUGH, [Leg(COLD_BENCH, Decimal(-5))]),
            OutOfRange,
            id="a leg back in time",
        ),
    ],
)
def test_what_no_dough_does_is_refused(make, error):
    with pytest.raises(error):
        make()
