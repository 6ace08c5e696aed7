"""Where lines, ticks and words of a rise chart stand, so that every template draws the same."""

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from recipes.core.errors import NotDecimal, NotWhole, OutOfRange
from recipes.core.rise.chart import At, Box, Curve, rise_chart
from recipes.core.rise.drift import Dough, Leg, bench, course
from recipes.core.rise.fermentation import Fermentation
from tests.recipes.core.strategies import decimals

# A plot of 400 by 200.
PLAIN_BOX = Box(
    Decimal(450), Decimal(250), Decimal(40), Decimal(10), top=Decimal(20), bottom=Decimal(30)
)


def curve(*points, label="Bench"):
    return Curve(label, tuple((Decimal(minute), Decimal(share)) for minute, share in points))


EVEN = curve(("0", "0"), ("50", "0.5"), ("100", "1"))


def test_a_curve_runs_from_bottom_left_to_the_top_right_of_the_plot():
    chart = rise_chart([EVEN], PLAIN_BOX)
    assert (chart.origin, chart.corner) == (At(40, 220), At(440, 20))
    assert chart.polylines[0].points == ((40, 220), (240, 120), (440, 20))
    assert chart.whole_y == 20


def test_ticks_stand_at_quarters_and_round_times():
    chart = rise_chart([EVEN], PLAIN_BOX)
    assert [(tick.at, tick.label) for tick in chart.y_ticks] == [
        (220, "0 %"),
        (170, "25 %"),
        (120, "50 %"),
        (70, "75 %"),
        (20, "100 %"),
    ]
    assert [(tick.at, tick.label) for tick in chart.x_ticks] == [
        (40, "0"),
        (160, "30 min"),
        (280, "1 h"),
        (400, "1 h 30 min"),
    ]


def test_clock_ticks_stand_on_round_times_of_the_clock():
    chart = rise_chart([EVEN], PLAIN_BOX, starts_at_min=10 * 60 + 55)
    assert [(tick.at, tick.label) for tick in chart.x_ticks] == [
        (60, "11:00"),
        (180, "11:30"),
        (300, "12:00"),
        (420, "12:30"),
    ]


def test_the_clock_goes_round_at_midnight():
    chart = rise_chart([EVEN], starts_at_min=23 * 60)
    assert [tick.label for tick in chart.x_ticks] == ["23:00", "23:30", "0:00", "0:30"]


@pytest.mark.parametrize(
    ("points", "done_at", "done_label"),
    [
        pytest.param((("0", "0"), ("100", "1")), (440, 20), "1 h 40 min", id="at the end"),
        pytest.param((("0", "0.5"), ("100", "1.5")), (240, 86.7), "50 min", id="on the way"),
        pytest.param((("0", "1"), ("100", "1")), (40, 20), "0", id="from the start"),
        pytest.param((("0", "0"), ("90", "0.9")), None, "", id="never"),
    ],
)
def test_a_curve_says_where_it_is_done(points, done_at, done_label):
    line = rise_chart([curve(*points)], PLAIN_BOX).polylines[0]
    assert line.done_label == done_label
    if done_at is None:
        assert line.done_at is None
    else:
        assert [f"{length:.1f}" for length in line.done_at] == [f"{x:.1f}" for x in done_at]


def test_the_late_dough_reads_its_times_off_the_chart():
    bulk, dough = Fermentation(Decimal(80), Decimal(25)), Dough(Decimal("21.5"))
    followed = course(bulk, dough, [Leg(bench(Decimal(16)), Decimal(130))])
    line = Curve("Bench", tuple((point.minute, point.share) for point in followed.points))
    chart = rise_chart([line], starts_at_min=10 * 60 + 55)
    assert chart.polylines[0].done_label == "12:50"
    assert chart.y_ticks[-1].label == "125 %"


def test_keys_stand_below_each_other_in_the_order_of_the_curves():
    chart = rise_chart([EVEN, curve(("0", "0"), ("80", "1"), label="Cabinet")], PLAIN_BOX)
    first, second = chart.polylines
    assert [first.label, second.label] == ["Bench", "Cabinet"]
    assert second.key_from.y - first.key_from.y == 16
    assert (second.label_at, second.key_from, second.key_to) == (
        (400, 212),
        (408, 212),
        (432, 212),
    )
    assert chart.origin.y == 220
    assert chart.corner.x == 440


def test_the_usual_box_leaves_room_for_ticks():
    chart = rise_chart([EVEN])
    assert (chart.origin, chart.corner) == (At(48, 208), At(464, 24))


curves = st.lists(
    st.lists(st.tuples(decimals("0", "6000", 1), decimals("0", "3", 3)), min_size=2, max_size=9),
    min_size=1,
    max_size=3,
).map(
    lambda many: [
        Curve("any", ((Decimal(0), Decimal(0)), *sorted(points), (Decimal(6001), Decimal(1))))
        for points in many
    ]
)
boxes = st.builds(Box, decimals("200", "900", 1), decimals("120", "500", 1))


@given(curves, boxes, st.none() | st.integers(0, 1439))
def test_everything_stands_inside_the_box_to_a_tenth(many, box, starts_at_min):
    chart = rise_chart(many, box, starts_at_min=starts_at_min)
    points = [point for line in chart.polylines for point in line.points]
    points += [line.done_at for line in chart.polylines if line.done_at]
    points += [At(tick.at, chart.origin.y) for tick in chart.x_ticks]
    points += [At(chart.origin.x, tick.at) for tick in chart.y_ticks]
    for x, y in points:
        assert chart.origin.x <= x <= chart.corner.x
        assert chart.corner.y <= y <= chart.origin.y
        assert x.as_tuple().exponent == y.as_tuple().exponent == -1


@given(curves, st.none() | st.integers(0, 1439))
def test_ticks_are_few_and_apart(many, starts_at_min):
    chart = rise_chart(many, starts_at_min=starts_at_min)
    assert 1 <= len(chart.x_ticks) <= 7
    assert 4 <= len(chart.y_ticks) <= 7
    assert all(two.at - one.at > 20 for one, two in pairwise(chart.x_ticks))
    assert all(one.at - two.at > 20 for one, two in pairwise(chart.y_ticks))


@example(Decimal(11500))
@given(decimals("1", "30000", 1))
def test_any_length_of_time_has_its_ticks(minutes):
    ticks = rise_chart([curve(("0", "0"), (minutes, "1"))]).x_ticks
    assert 1 <= len(ticks) <= 7


@pytest.mark.parametrize(("minutes", "last"), [("119", "1 h 30 min"), ("120", "2 h")])
def test_the_last_tick_is_not_beyond_the_end(minutes, last):
    """A tick a minute after the end would stand outside the plot."""
    chart = rise_chart([curve(("0", "0"), (minutes, "1"))], PLAIN_BOX)
    assert chart.x_ticks[-1].label == last
    assert chart.x_ticks[-1].at <= chart.corner.x


@pytest.mark.parametrize(
    ("make", "error"),
    [
        pytest.param(lambda: rise_chart([]), OutOfRange, id="no curve"),
        pytest.param(lambda: rise_chart([Curve("empty", ())]), OutOfRange, id="no point"),
        pytest.param(lambda: rise_chart([curve(("0", "1"))]), OutOfRange, id="no time"),
        pytest.param(lambda: rise_chart([EVEN], starts_at_min=1.5), NotWhole, id="half a minute"),
        pytest.param(lambda: Box(width=Decimal(50)), OutOfRange, id="no room for a plot"),
        pytest.param(lambda: Box(left=Decimal(-1)), OutOfRange, id="margin below zero"),
        pytest.param(lambda: Box(left=48.0), NotDecimal, id="float margin"),
    ],
)
def test_a_chart_of_nothing_is_refused(make, error):
    with pytest.raises(error):
        make()
