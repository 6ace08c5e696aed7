"""Pans by their measures, and what follows between a pan, its load and its pieces."""

import math
import pickle
from decimal import Decimal

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from recipes.core.errors import NotDecimal, NotWhole, OutOfRange
from recipes.core.pans.sizes import (
    PUBLISHED_LOADS,
    DoughLoad,
    LoadBy,
    NoDepth,
    Pan,
    PanShape,
    UnequalSides,
    bowl_for,
    fill_with_mass,
    fill_with_pieces,
    load_of,
    pan_for,
)
from tests.recipes.core.strategies import decimals

ROUND = Pan.in_cm(PanShape.ROUND, Decimal(20), depth=Decimal(5))
SQUARE = Pan.in_cm(PanShape.SQUARE, Decimal(20), depth=Decimal(5))
LOAF = Pan.in_mm(PanShape.LOAF, Decimal(216), Decimal(114), Decimal(66), water_ml=Decimal(1440))
TRAY = Pan.in_mm(PanShape.TRAY, Decimal(457), Decimal(330))

BY_VOLUME = DoughLoad(Decimal("0.4"), LoadBy.VOLUME)
BY_AREA = DoughLoad(Decimal(2), LoadBy.AREA)

HAIR = Decimal("1e-20")


def about(value: Decimal) -> object:
    """Equal but for what 28 digits cannot hold."""
    return pytest.approx(value, rel=HAIR)


sizes = decimals("1", "200", 1)


@st.composite
def pans(draw) -> Pan:
    shape = draw(st.sampled_from(PanShape))
    width = None if shape.has_one_size else draw(sizes)
    water_ml = draw(st.none() | decimals("10", "20000", 0))
    return Pan.in_cm(shape, draw(sizes), width, draw(sizes), water_ml)


loads = st.builds(DoughLoad, decimals("0.05", "5"), st.sampled_from(LoadBy))
pieces = st.integers(1, 60)
piece_masses = decimals("5", "2000")


def test_a_round_pan_has_the_area_of_a_circle():
    assert float(ROUND.area_cm2) == pytest.approx(math.pi * 100, rel=1e-15)
    assert float(ROUND.volume_cm3) == pytest.approx(math.pi * 500, rel=1e-15)


def test_other_pans_have_the_area_of_their_rectangle():
    assert (SQUARE.area_cm2, SQUARE.volume_cm3) == (400, 2000)
    assert TRAY.area_cm2 == Decimal("45.7") * 33


def test_measured_water_is_the_volume_of_a_tapered_pan():
    assert (LOAF.volume_cm3, LOAF.volume_is_measured) == (1440, True)
    by_size = Pan.in_mm(PanShape.LOAF, Decimal(216), Decimal(114), Decimal(66))
    assert not by_size.volume_is_measured
    assert by_size.volume_cm3 > Decimal("1.1") * LOAF.volume_cm3


def test_a_pan_without_depth_or_water_has_no_volume():
    with pytest.raises(NoDepth) as caught:
        _ = TRAY.volume_cm3
    assert caught.value.shape is PanShape.TRAY
    with pytest.raises(NoDepth):
        fill_with_pieces(TRAY, BY_VOLUME, 12)


def test_water_alone_makes_a_volume():
    assert Pan(PanShape.LOAF, Decimal(22), Decimal(11), None, Decimal(1400)).volume_cm3 == 1400


def test_millimeters_and_centimeters_give_the_same_pan():
    in_cm = Pan.in_cm(
        PanShape.LOAF, Decimal("21.6"), Decimal("11.4"), Decimal("6.6"), Decimal(1440)
    )
    assert in_cm == LOAF
    assert Pan.in_mm(PanShape.ROUND, Decimal(200), depth=Decimal(50)) == ROUND


@pytest.mark.parametrize("shape", [PanShape.ROUND, PanShape.SQUARE])
def test_a_round_or_square_pan_of_two_sizes_is_refused(shape):
    with pytest.raises(UnequalSides) as caught:
        Pan(shape, Decimal(20), Decimal(21))
    assert (caught.value.length_cm, caught.value.width_cm) == (20, 21)


@pytest.mark.parametrize("shape", [PanShape.RECTANGULAR, PanShape.LOAF, PanShape.TRAY])
def test_a_rectangle_needs_its_width(shape):
    with pytest.raises(NotDecimal) as caught:
        Pan.in_cm(shape, Decimal(20))
    assert caught.value.field == "width_cm"


@pytest.mark.parametrize(
    ("field", "size", "error"),
    [
        pytest.param("length_cm", Decimal(0), OutOfRange, id="no length"),
        pytest.param("width_cm", Decimal(-1), OutOfRange, id="less than no width"),
        pytest.param("depth_cm", Decimal(0), OutOfRange, id="no depth"),
        pytest.param("water_ml", Decimal(0), OutOfRange, id="no water"),
        pytest.param("length_cm", Decimal("1000.1"), OutOfRange, id="more than ten meters"),
        pytest.param("length_cm", None, NotDecimal, id="nothing as length"),
        pytest.param("width_cm", 20.0, NotDecimal, id="a float"),
        pytest.param("depth_cm", Decimal("NaN"), NotDecimal, id="not a number"),
    ],
)
def test_impossible_measures_are_refused_by_name(field, size, error):
    measures = {"length_cm": Decimal(30), "width_cm": Decimal(20), field: size}
    with pytest.raises(error) as caught:
        Pan(PanShape.RECTANGULAR, **measures)
    assert caught.value.field == field


@pytest.mark.parametrize(
    "error",
    [NoDepth(PanShape.TRAY), UnequalSides(PanShape.ROUND, Decimal(1), Decimal(2))],
    ids=lambda error: type(error).__name__,
)
def test_an_error_travels_between_processes(error):
    again = pickle.loads(pickle.dumps(error))  # noqa: S301  (made one line above)
    assert vars(again) == vars(error)


def test_a_load_puts_its_dough_on_floor_or_volume():
    assert BY_AREA.dough_g(SQUARE) == 800
    assert BY_VOLUME.dough_g(SQUARE) == 800
    assert BY_VOLUME.dough_g(LOAF) == 576


def test_equal_pieces_share_the_pans_dough():
    filled = fill_with_pieces(SQUARE, BY_AREA, 16)
    assert (filled.piece_g, filled.dough_g, filled.left_over_g) == (50, 800, 0)


def test_pieces_of_a_mass_leave_the_rest_over():
    filled = fill_with_mass(SQUARE, BY_AREA, Decimal(58))
    assert (filled.pieces, filled.left_over_g) == (13, 46)


def test_a_pan_too_small_for_a_piece_takes_none():
    filled = fill_with_mass(SQUARE, BY_AREA, Decimal(900))
    assert (filled.pieces, filled.left_over_g) == (0, 800)


@given(pans(), loads, pieces)
def test_pieces_and_their_mass_are_inverse_to_each_other(pan, load, number):
    by_number = fill_with_pieces(pan, load, number)
    by_mass = fill_with_mass(pan, load, by_number.piece_g)
    assert by_mass.pieces == number
    assert by_mass.left_over_g < Decimal("1e-6")


@given(pans(), loads, piece_masses)
def test_pieces_and_what_is_left_are_all_the_dough(pan, load, piece_g):
    filled = fill_with_mass(pan, load, piece_g)
    assert 0 <= filled.left_over_g < piece_g
    apart = filled.pieces * piece_g + filled.left_over_g - filled.dough_g
    assert abs(apart) <= Decimal("1e-9")


@given(pans(), loads, pieces, decimals("5", "100"))
def test_the_pan_from_pieces_holds_those_pieces(like, load, number, piece_g):
    try:
        pan = pan_for(number, piece_g, load, like)
    except OutOfRange:
        reject()  # longer than ten meters
    assert fill_with_pieces(pan, load, number).piece_g == about(piece_g)
    assert (pan.shape, pan.depth_cm) == (like.shape, like.depth_cm)
    assert pan.length_cm * like.width_cm == about(pan.width_cm * like.length_cm)


@given(pans(), loads, pieces)
def test_the_pan_for_its_own_pieces_is_the_pan_itself(pan, load, number):
    piece_g = fill_with_pieces(pan, load, number).piece_g
    again = pan_for(number, piece_g, load, pan)
    assert again.length_cm == about(pan.length_cm)
    assert again.volume_cm3 == about(pan.volume_cm3)


@given(pans(), st.sampled_from(LoadBy), decimals("1", "5000"))
def test_a_measured_load_puts_the_same_dough_back(pan, by, dough_g):
    assert load_of(pan, dough_g, by).dough_g(pan) == about(dough_g)


@pytest.mark.parametrize("number", [0, -3])
def test_no_pieces_are_refused(number):
    with pytest.raises(OutOfRange):
        fill_with_pieces(SQUARE, BY_AREA, number)
    with pytest.raises(OutOfRange):
        pan_for(number, Decimal(50), BY_AREA, SQUARE)


def test_a_part_of_a_piece_is_refused():
    with pytest.raises(NotWhole):
        fill_with_pieces(SQUARE, BY_AREA, Decimal("2.5"))


@pytest.mark.parametrize("grams", ["0", "-1"])
def test_no_mass_is_refused(grams):
    mass = Decimal(grams)
    for refused in (
        lambda: fill_with_mass(SQUARE, BY_AREA, mass),
        lambda: load_of(SQUARE, mass, LoadBy.AREA),
        lambda: DoughLoad(mass, LoadBy.AREA),
        lambda: bowl_for(mass),
    ):
        with pytest.raises(OutOfRange):
            refused()


def test_published_loads_differ_so_much_that_they_cannot_be_one_rule():
    least = min(load.least for load in PUBLISHED_LOADS)
    most = max(load.most for load in PUBLISHED_LOADS)
    assert most / least > Decimal("2.5")
    assert all(load.source and load.least <= load.most for load in PUBLISHED_LOADS)


@pytest.mark.parametrize(
    ("grams_per_in3", "bread"),
    [
        pytest.param(
            Decimal("28.349523125") / Decimal("7.6"),
            "plant pan bread, open top",
            id="an ounce in 7.6 cubic inches",
        ),
        pytest.param(Decimal("5.35"), "pan bread", id="5.35 g a cubic inch"),
        pytest.param(Decimal("6.5"), "pan bread, retail", id="6.5 g a cubic inch"),
    ],
)
def test_a_published_load_is_its_printed_figure_in_metric(grams_per_in3, bread):
    load = next(load for load in PUBLISHED_LOADS if load.bread == bread)
    assert load.least == load.most == round(grams_per_in3 / Decimal("16.387064"), 3)


def test_a_bowl_has_room_above_the_risen_dough():
    bowl = bowl_for(Decimal(1100))
    assert (bowl.dough_ml, bowl.risen_ml, bowl.bowl_ml) == (1000, 2000, 2200)


def test_a_bowl_follows_density_rise_and_head_room():
    bowl = bowl_for(
        Decimal(1000), density=Decimal("1.25"), rise=Decimal(3), head_room=Decimal("0.5")
    )
    assert (bowl.dough_ml, bowl.risen_ml, bowl.bowl_ml) == (800, 2400, 3600)


def test_a_dough_that_shrinks_is_refused():
    with pytest.raises(OutOfRange) as caught:
        bowl_for(Decimal(500), rise=Decimal("0.9"))
    assert caught.value.field == "rise"


@pytest.mark.parametrize("shape", [PanShape.ROUND, PanShape.SQUARE])
def test_a_second_size_that_differs_is_refused_and_never_dropped(shape):
    with pytest.raises(UnequalSides):
        Pan.in_cm(shape, Decimal(20), Decimal(25))
    with pytest.raises(UnequalSides):
        Pan.in_mm(shape, Decimal(200), Decimal(250))
