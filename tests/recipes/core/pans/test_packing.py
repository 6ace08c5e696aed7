"""Every arrangement is checked by a second hand: floats, no overlap, all inside."""

import math
import pickle
from decimal import Decimal
from itertools import combinations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from recipes.core.errors import NotDecimal, NotWhole, OutOfRange
from recipes.core.pans.packing import (
    MOST_PIECES,
    Arrangement,
    NotRound,
    Pattern,
    TooBigForPan,
    TooManyPieces,
    arrange,
    arrangements,
    fill,
    how_many,
    rings,
)
from recipes.core.pans.sizes import Pan, PanShape
from tests.recipes.core.strategies import decimals

ROUND = Pan.in_cm(PanShape.ROUND, Decimal(24))
DISH = Pan.in_cm(PanShape.RECTANGULAR, Decimal(33), Decimal(23))

SQUARE = Pan.in_cm(PanShape.SQUARE, Decimal(20))
UNCOUNTED = {Pattern.HONEYCOMB, Pattern.SCATTERED}

# What the twelve digits of the table of places leave open.
HAIR = Decimal("1e-9")

sides = decimals("5", "60", 1)
round_pans = st.builds(Pan.in_cm, st.just(PanShape.ROUND), sides)
rectangles = st.builds(Pan.in_cm, st.just(PanShape.TRAY), sides, sides)
numbers = st.integers(1, 60)


def assert_sound(found: Arrangement) -> None:
    """Pieces of the full diameter neither overlap nor reach through the wall, but some meet."""
    length, width, room = (
        float(found.pan.length_cm),
        float(found.pan.width_cm),
        float(found.room_cm),
    )
    spots = [(float(spot.x_cm), float(spot.y_cm)) for spot in found.spots]
    apart = [math.dist(a, b) for a, b in combinations(spots, 2)]
    if found.pan.shape is PanShape.ROUND:
        middle = (length / 2, length / 2)
        to_wall = [length / 2 - math.dist(spot, middle) for spot in spots]
    else:
        to_wall = [min(x, length - x, y, width - y) for x, y in spots]
    assert all(gap >= room - 1e-9 for gap in apart)
    assert all(gap >= room / 2 - 1e-9 for gap in to_wall)
    assert min([*apart, *(2 * gap for gap in to_wall)]) == pytest.approx(room, abs=1e-9)


@pytest.mark.parametrize("pieces", range(1, 61))
def test_every_arrangement_in_a_round_pan_is_sound(pieces):
    for found in arrangements(ROUND, pieces):
        assert found.pieces == pieces
        assert sum(found.counts) == (0 if found.pattern in UNCOUNTED else pieces)
        assert_sound(found)


@pytest.mark.parametrize("pieces", range(1, 61))
def test_every_arrangement_in_a_square_pan_is_sound(pieces):
    for found in arrangements(SQUARE, pieces):
        assert found.pieces == pieces
        assert sum(found.counts) == (0 if found.pattern in UNCOUNTED else pieces)
        assert_sound(found)


@given(rectangles, numbers)
def test_every_arrangement_in_a_rectangle_is_sound(pan, pieces):
    for found in arrangements(pan, pieces):
        assert found.pieces == pieces
        assert sum(found.counts) == (0 if found.pattern in UNCOUNTED else pieces)
        assert_sound(found)


@given(st.integers(1, 6), st.data())
def test_every_ring_around_a_few_is_sound(inner, data):
    outer = data.draw(st.integers(max(3, inner), 40))
    found = rings(ROUND, outer, inner)
    assert (found.pieces, found.counts) == (outer + inner, (outer, inner))
    assert_sound(found)


@given(round_pans | rectangles, numbers)
def test_the_wall_is_as_far_as_the_second_hand_finds_it(pan, pieces):
    found = arrange(pan, pieces)
    nearest = min(found.wall_cm(spot) for spot in found.spots)
    assert nearest >= found.room_cm / 2 - HAIR


@given(round_pans | rectangles, numbers)
def test_more_pieces_never_have_more_room(pan, pieces):
    assert arrange(pan, pieces + 1).room_cm <= arrange(pan, pieces).room_cm + HAIR


@given(sides, sides, numbers)
def test_a_turned_dish_has_the_same_room(length, width, pieces):
    one = arrange(Pan.in_cm(PanShape.TRAY, length, width), pieces)
    other = arrange(Pan.in_cm(PanShape.TRAY, width, length), pieces)
    assert one.room_cm == pytest.approx(other.room_cm, rel=Decimal("1e-20"))


@given(round_pans | rectangles, numbers, decimals("0.1", "8", 1))
def test_an_arrangement_grows_with_its_pan(pan, pieces, times):
    larger = Pan(pan.shape, pan.length_cm * times, pan.width_cm * times)
    room = arrange(larger, pieces).room_cm
    assert room == pytest.approx(arrange(pan, pieces).room_cm * times, rel=Decimal("1e-20"))


@given(round_pans | rectangles, numbers)
def test_as_many_fit_as_were_arranged(pan, pieces):
    assert how_many(pan, arrange(pan, pieces).room_cm) >= pieces


@given(round_pans | rectangles, decimals("1.5", "70", 1))
def test_no_more_fit_than_are_counted(pan, diameter_cm):
    assume(pan.area_cm2 < 250 * diameter_cm**2)
    pieces = how_many(pan, diameter_cm)
    if pieces:
        assert fill(pan, diameter_cm).pieces == pieces
        assert arrange(pan, pieces).holds(diameter_cm)
    assert not arrange(pan, pieces + 1).holds(diameter_cm)


def plain_count(length: float, width: float, diameter: float) -> int:
    """By hand: straight rows, and staggered ones that are not stretched, along the length."""
    if min(length, width) < diameter:
        return 0
    hair = 1e-9
    straight = int(length / diameter + hair) * int(width / diameter + hair)
    full = int(length / diameter + hair)
    shifted = int(length / diameter - 0.5 + hair)
    rows = 1 + int((width - diameter) / (diameter * math.sqrt(3) / 2) + hair)
    return max(straight, (rows + 1) // 2 * full + rows // 2 * shifted)


@given(rectangles, decimals("2", "20", 1))
def test_a_dish_takes_at_least_what_one_counts_by_hand(pan, diameter_cm):
    assume(pan.area_cm2 < 250 * diameter_cm**2)
    length, width, diameter = map(float, (pan.length_cm, pan.width_cm, diameter_cm))
    by_hand = max(plain_count(length, width, diameter), plain_count(width, length, diameter))
    most = pan.area_cm2 / (diameter_cm**2 * Decimal(3).sqrt() / 2)
    assert by_hand <= how_many(pan, diameter_cm) <= most


@pytest.mark.parametrize(
    ("length", "width", "pieces", "pattern", "counts", "room"),
    [
        pytest.param(33, 23, 1, Pattern.STRAIGHT, (1,), "23", id="one in the middle"),
        pytest.param(40, 30, 12, Pattern.STRAIGHT, (4, 4, 4), "10", id="a grid that fits"),
        pytest.param(30, 40, 12, Pattern.STRAIGHT, (3, 3, 3, 3), "10", id="the grid turned"),
        pytest.param(40, 30, 11, Pattern.STRAIGHT, (3, 4, 4), "10", id="a grid with one fewer"),
        pytest.param(60, 10, 6, Pattern.STRAIGHT, (6,), "10", id="one row"),
    ],
)
def test_rows_lie_as_a_baker_would_lay_them(length, width, pieces, pattern, counts, room):
    found = arrange(Pan.in_cm(PanShape.TRAY, Decimal(length), Decimal(width)), pieces)
    assert (found.pattern, found.counts, found.room_cm) == (pattern, counts, Decimal(room))


def test_staggered_rows_win_where_a_row_would_be_wasted():
    found = arrange(Pan.in_cm(PanShape.TRAY, Decimal(30), Decimal("27.5")), 8)
    assert found.pattern is Pattern.STAGGERED
    straight = Decimal("27.5") / 3
    assert found.room_cm > straight + Decimal("0.5")


def test_a_dish_that_is_nearly_square_borrows_from_the_square():
    found = arrange(Pan.in_cm(PanShape.TRAY, Decimal("20.2"), Decimal(20)), 7)
    assert found.pattern is Pattern.SCATTERED
    assert found.room_cm == arrange(SQUARE, 7).room_cm
    assert not found.is_best_known
    across = [spot.x_cm for spot in found.spots]
    assert min(across) + max(across) == pytest.approx(Decimal("20.2"), abs=HAIR)
    turned = arrange(Pan.in_cm(PanShape.TRAY, Decimal(20), Decimal("20.2")), 7)
    down = [spot.y_cm for spot in turned.spots]
    assert min(down) + max(down) == pytest.approx(Decimal("20.2"), abs=HAIR)


@pytest.mark.parametrize(
    ("pan", "pieces", "is_known"),
    [
        pytest.param(ROUND, 40, True, id="the last of the round table"),
        pytest.param(ROUND, 41, False, id="a honeycomb"),
        pytest.param(SQUARE, 22, True, id="a square"),
        pytest.param(SQUARE, 41, False, id="rows in a square"),
        pytest.param(DISH, 2, True, id="two in opposite corners"),
        pytest.param(DISH, 3, False, id="rows in a dish"),
    ],
)
def test_it_is_known_where_nobody_found_more_room(pan, pieces, is_known):
    assert arrange(pan, pieces).is_best_known is is_known


def test_rings_are_never_the_best_known():
    assert not rings(ROUND, 8, 3).is_best_known


def test_two_in_a_dish_have_the_room_of_opposite_corners():
    """Solved by hand: (33 - d)^2 + (23 - d)^2 = d^2."""
    expected = 56 - math.sqrt(56**2 - 33**2 - 23**2)
    wide = min(expected, 23)
    assert float(arrange(DISH, 2).room_cm) == pytest.approx(wide, rel=1e-12)


def plain_honeycombs(diameter: float, radius: float) -> int:
    """By hand: the most cells of a honeycomb within reach of any of a few thousand middles."""
    cells = [
        (diameter * (i + j / 2), diameter * j * math.sqrt(3) / 2)
        for j in range(-8, 9)
        for i in range(-12, 13)
    ]
    middles = [
        (diameter * a / 40, diameter * b * math.sqrt(3) / 120)
        for a in range(21)
        for b in range(a + 1)
    ]
    reach = radius - diameter / 2 + 1e-9
    return max(sum(math.dist(cell, at) <= reach for cell in cells) for at in middles)


@pytest.mark.parametrize("diameter", ["5.4", "5", "4.4", "4", "3.6", "3.1"])
def test_a_round_pan_takes_at_least_a_plain_honeycomb(diameter):
    """One piece in a hundred may be lost to the middles that are not tried."""
    pan = Pan.in_cm(PanShape.ROUND, Decimal(32))
    by_hand = plain_honeycombs(float(diameter), 16)
    assert how_many(pan, Decimal(diameter)) >= by_hand * Decimal("0.99")


def test_a_large_round_pan_takes_as_many_small_pieces_as_are_known_to_fit():
    """27 circles need a circle of 5.906 times their radius (from memory); here it is 5.926."""
    assert how_many(Pan.in_cm(PanShape.ROUND, Decimal(32)), Decimal("5.4")) == 27


def test_five_in_a_square_lie_as_on_a_die():
    found = arrange(Pan.in_cm(PanShape.SQUARE, Decimal(10)), 5)
    assert found.counts == (2, 1, 2)
    assert found.spots[2].x_cm == found.spots[2].y_cm == 5
    assert float(found.room_cm) == pytest.approx(10 * (math.sqrt(2) - 1), rel=1e-14)


def test_a_round_pan_offers_the_best_known_then_rings():
    found = arrangements(ROUND, 11)
    assert [(one.pattern, one.counts) for one in found] == [
        (Pattern.BEST_KNOWN, (8, 3)),
        (Pattern.RINGS, (9, 2)),
        (Pattern.RINGS, (8, 3)),
        (Pattern.RINGS, (10, 1)),
    ]


def test_rings_that_are_already_the_best_are_not_offered_twice():
    assert [one.counts for one in arrangements(ROUND, 7)] == [(6, 1)]


def test_arrangements_that_cannot_hold_the_pieces_are_left_out():
    every = arrangements(ROUND, 11)
    held = arrangements(ROUND, 11, diameter_cm=every[1].room_cm)
    assert held == every[:2]
    assert arrangements(ROUND, 11, diameter_cm=Decimal(12)) == ()


def test_a_dish_offers_the_other_kind_of_rows_when_it_comes_near():
    found = arrangements(Pan.in_cm(PanShape.TRAY, Decimal("33.02"), Decimal("22.86")), 12)
    assert [one.pattern for one in found] == [Pattern.STRAIGHT, Pattern.STAGGERED]


@given(round_pans | rectangles, numbers)
def test_the_best_comes_first_and_no_other_is_a_tenth_smaller(pan, pieces):
    best, *others = arrangements(pan, pieces)
    rooms = [other.room_cm for other in others]
    assert rooms == sorted(rooms, reverse=True)
    assert len(others) <= 3
    assert all(Decimal("0.9") * best.room_cm <= room <= best.room_cm for room in rooms)


def test_pieces_in_rings_go_round_evenly():
    found = rings(ROUND, 8, 3)
    around = [math.atan2(spot.y_cm - 12, spot.x_cm - 12) for spot in found.spots[:8]]
    steps = [(b - a) % math.tau for a, b in zip(around, [*around[1:], around[0]], strict=True)]
    assert steps == pytest.approx([math.tau / 8] * 8)
    assert {round(float(found.wall_cm(spot)), 9) for spot in found.spots[:8]} == {
        round(float(found.room_cm / 2), 9)
    }


def test_nothing_fits_that_is_wider_than_the_pan():
    assert how_many(DISH, Decimal("23.1")) == 0
    with pytest.raises(TooBigForPan) as caught:
        fill(DISH, Decimal("23.1"))
    assert (caught.value.diameter_cm, caught.value.room_cm) == (Decimal("23.1"), 23)


def test_one_piece_may_be_as_wide_as_the_pan():
    assert how_many(ROUND, Decimal(24)) == 1
    assert how_many(DISH, Decimal(23)) == 1


@pytest.mark.parametrize("pan", [ROUND, DISH], ids=["round", "rectangle"])
def test_crumbs_are_not_counted(pan):
    with pytest.raises(TooManyPieces) as caught:
        how_many(pan, Decimal("0.5"))
    assert caught.value.most == MOST_PIECES


@pytest.mark.parametrize(
    ("pieces", "error"),
    [(0, OutOfRange), (-1, OutOfRange), (401, OutOfRange), (Decimal(5), NotWhole), (5.0, NotWhole)],
)
@pytest.mark.parametrize("pan", [ROUND, DISH], ids=["round", "rectangle"])
def test_an_impossible_number_is_refused(pan, pieces, error):
    with pytest.raises(error):
        arrange(pan, pieces)


@pytest.mark.parametrize("pan", [ROUND, DISH], ids=["round", "rectangle"])
def test_the_most_pieces_can_be_arranged(pan):
    found = arrange(pan, MOST_PIECES)
    assert found.pieces == MOST_PIECES
    assert_sound(found)


@pytest.mark.parametrize(
    ("diameter_cm", "error"),
    [(Decimal(0), OutOfRange), (Decimal(-2), OutOfRange), (2.0, NotDecimal)],
)
def test_an_impossible_diameter_is_refused(diameter_cm, error):
    for refused in (
        lambda: how_many(ROUND, diameter_cm),
        lambda: fill(DISH, diameter_cm),
        lambda: arrangements(ROUND, 5, diameter_cm),
    ):
        with pytest.raises(error):
            refused()


@pytest.mark.parametrize(
    ("outer", "inner", "error"),
    [
        pytest.param(8, 0, OutOfRange, id="around nothing"),
        pytest.param(8, 7, OutOfRange, id="too many inside"),
        pytest.param(2, 1, OutOfRange, id="two are no ring"),
        pytest.param(4, 5, OutOfRange, id="fewer around than inside"),
        pytest.param(401, 1, OutOfRange, id="more than can be shown"),
        pytest.param(8, Decimal(3), NotWhole, id="not a whole number"),
    ],
)
def test_impossible_rings_are_refused(outer, inner, error):
    with pytest.raises(error):
        rings(ROUND, outer, inner)


def test_rings_need_a_round_pan():
    with pytest.raises(NotRound) as caught:
        rings(DISH, 8, 3)
    assert caught.value.shape is PanShape.RECTANGULAR


@pytest.mark.parametrize(
    "error",
    [TooBigForPan(Decimal(2), Decimal(1)), TooManyPieces(400), NotRound(PanShape.TRAY)],
    ids=lambda error: type(error).__name__,
)
def test_an_error_travels_between_processes(error):
    again = pickle.loads(pickle.dumps(error))  # noqa: S301  (made one line above)
    assert vars(again) == vars(error)
