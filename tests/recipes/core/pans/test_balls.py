"""A piece's width from its mass, and whether neighbors meet."""

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.core.errors import NotDecimal, OutOfRange
from recipes.core.pans.balls import (
    RING,
    RING_HOLE,
    BallModel,
    Touch,
    ball_sizes,
    piece_for_diameter,
    will_touch,
)
from recipes.core.pans.packing import Arrangement, Pattern, Spot, arrange, rings
from recipes.core.pans.sizes import Pan, PanShape
from tests.recipes.core.strategies import decimals

SPHERE = BallModel(
    density=Decimal(1),
    height_to_diameter=Decimal(1),
    proofed_volume=Decimal(8),
    baked_volume=Decimal(27),
)
HALF_BALL = BallModel(density=Decimal(1), height_to_diameter=Decimal("0.5"))
# A sphere three centimeters wide when baked, of one that was one centimeter wide when shaped.
THREE_CM = SPHERE.volume_cm3(Decimal(3)) / 27

models = st.builds(
    BallModel,
    decimals("0.8", "1.4"),
    decimals("0.3", "1"),
    decimals("1", "4"),
    decimals("1", "5"),
)
masses = decimals("1", "2000")


def pair(apart_cm: str) -> Arrangement:
    """Two pieces whose centers are so far apart."""
    apart = Decimal(apart_cm)
    pan = Pan.in_cm(PanShape.TRAY, apart * 2, apart)
    places = Spot(apart / 2, apart / 2), Spot(apart * 3 / 2, apart / 2)
    return Arrangement(pan, Pattern.STRAIGHT, places, apart, (2,))


def test_a_ball_has_the_volume_of_a_sphere():
    assert float(SPHERE.volume_cm3(Decimal(2))) == pytest.approx(4 / 3 * math.pi, rel=1e-15)


def test_half_a_ball_has_half_of_it():
    assert float(HALF_BALL.volume_cm3(Decimal(2))) == pytest.approx(2 / 3 * math.pi, rel=1e-15)


def test_a_piece_grows_by_the_cube_root_of_its_volume():
    sizes = ball_sizes(THREE_CM, SPHERE)
    assert [round(float(size), 12) for size in (sizes.shaped_cm, sizes.proofed_cm)] == [1, 2]
    assert float(sizes.baked_cm) == pytest.approx(3, abs=1e-12)


@given(masses, models)
def test_mass_and_baked_diameter_are_inverse_to_each_other(piece_g, model):
    baked_cm = ball_sizes(piece_g, model).baked_cm
    assert piece_for_diameter(baked_cm, model) == pytest.approx(piece_g, rel=Decimal("1e-20"))


@given(masses, models)
def test_a_flatter_piece_is_wider(piece_g, model):
    flatter = BallModel(
        model.density,
        model.height_to_diameter / 2,
        model.proofed_volume,
        model.baked_volume,
    )
    assert ball_sizes(piece_g, flatter).baked_cm > ball_sizes(piece_g, model).baked_cm


@pytest.mark.parametrize(
    ("apart_cm", "touch", "gap_mm"),
    [
        pytest.param("2.9", Touch.TOUCH, "-1", id="pressing"),
        pytest.param("3.1", Touch.NEARLY, "1", id="a millimeter apart"),
        pytest.param("3.5", Touch.NEARLY, "5", id="five are still near"),
        pytest.param("3.51", Touch.APART, "5.1", id="a hair more is apart"),
        pytest.param("5", Touch.APART, "20", id="well apart"),
    ],
)
def test_the_gap_decides(apart_cm, touch, gap_mm):
    met = will_touch(pair(apart_cm), THREE_CM, SPHERE)
    assert met.touch is touch
    assert met.gap_mm == met.closest_gap_mm == pytest.approx(Decimal(gap_mm), abs=Decimal("1e-9"))


def test_how_near_is_nearly_can_be_set():
    assert will_touch(pair("3.5"), THREE_CM, SPHERE, near_mm=Decimal(2)).touch is Touch.APART


def test_pieces_touch_only_when_each_meets_another():
    pan = Pan.in_cm(PanShape.ROUND, Decimal(30))
    found = rings(pan, 10, 1)
    outside, middle = found.spots[0], found.spots[-1]
    lonely = outside.to(middle)
    between = found.spots[0].to(found.spots[1])
    assert lonely > between + Decimal(2)
    baked_cm = (lonely + between) / 2
    met = will_touch(found, piece_for_diameter(baked_cm, SPHERE), SPHERE)
    assert met.touch is Touch.NEARLY
    assert met.closest_gap_mm < 0 < met.gap_mm


def test_a_single_piece_meets_nobody_but_the_wall():
    alone = arrange(Pan.in_cm(PanShape.ROUND, Decimal(4)), 1)
    met = will_touch(alone, THREE_CM, SPHERE)
    assert (met.touch, met.gap_mm, met.closest_gap_mm) == (Touch.APART, None, None)
    assert met.wall_gap_mm == pytest.approx(Decimal(5), abs=Decimal("1e-9"))


@pytest.mark.parametrize(("apart_cm", "fits"), [("1.1", True), ("0.9", False)])
def test_shaped_pieces_must_fit_their_places(apart_cm, fits):
    assert will_touch(pair(apart_cm), THREE_CM, SPHERE).fits is fits


@given(masses, models, st.integers(2, 20))
def test_the_gap_is_what_the_second_hand_measures(piece_g, model, pieces):
    found = arrange(Pan.in_cm(PanShape.ROUND, Decimal(25)), pieces)
    met = will_touch(found, piece_g, model)
    spots = [(float(spot.x_cm), float(spot.y_cm)) for spot in found.spots]
    nearest = [
        min(math.dist(one, other) for j, other in enumerate(spots) if i != j)
        for i, one in enumerate(spots)
    ]
    baked_cm = float(met.sizes.baked_cm)
    assert float(met.gap_mm) == pytest.approx(10 * (max(nearest) - baked_cm), abs=1e-6)
    assert float(met.closest_gap_mm) == pytest.approx(10 * (min(nearest) - baked_cm), abs=1e-6)


@pytest.mark.parametrize(
    ("field", "value", "error"),
    [
        pytest.param("density", Decimal(0), OutOfRange, id="no density"),
        pytest.param("height_to_diameter", Decimal("1.1"), OutOfRange, id="higher than wide"),
        pytest.param("height_to_diameter", Decimal(0), OutOfRange, id="no height"),
        pytest.param("proofed_volume", Decimal("0.9"), OutOfRange, id="shrinks in the proof"),
        pytest.param("baked_volume", Decimal("0.9"), OutOfRange, id="shrinks in the oven"),
        pytest.param("density", 1.1, NotDecimal, id="a float"),
    ],
)
def test_an_impossible_model_is_refused_by_name(field, value, error):
    with pytest.raises(error) as caught:
        BallModel(**{field: value})
    assert caught.value.field == field


@pytest.mark.parametrize("grams", ["0", "-5"])
def test_no_mass_is_refused(grams):
    with pytest.raises(OutOfRange):
        ball_sizes(Decimal(grams))


@pytest.mark.parametrize("rope_cm", [1.0, 3.7, 10.0])
def test_a_ring_has_the_volume_of_a_torus(rope_cm):
    """A torus holds 2 pi^2 R r^2; the hole is two ropes wide, so R is one and a half."""
    volume_cm3 = 2 * math.pi**2 * 1.5 * rope_cm * (rope_cm / 2) ** 2
    across_cm = float(RING.diameter_cm(Decimal(volume_cm3)))
    assert across_cm == pytest.approx(4 * rope_cm)
    assert across_cm * float(RING_HOLE) == pytest.approx(2 * rope_cm)
