"""A pan and its pieces in a box: everything inside, to scale, and to a tenth."""

from decimal import Decimal

import pytest

from recipes.core.errors import OutOfRange
from recipes.core.pans.balls import ball_sizes
from recipes.core.pans.drawing import draw_pan
from recipes.core.pans.packing import arrange, rings
from recipes.core.pans.sizes import Pan, PanShape

ROUND = Pan.in_cm(PanShape.ROUND, Decimal(23))
WIDE = Pan.in_cm(PanShape.RECTANGULAR, Decimal(33), Decimal(23))


def drawn(pan, pieces=11, piece_g=58, **more):
    return draw_pan(arrange(pan, pieces), ball_sizes(Decimal(piece_g)), **more)


def test_the_longer_side_takes_the_length_asked_for():
    found = drawn(WIDE, longest=Decimal(330))
    assert (found.pan_width, found.pan_height) == (330, 230)
    assert not found.is_round


def test_pieces_are_drawn_to_the_scale_of_the_pan():
    found = drawn(ROUND, longest=Decimal(230))
    sizes = ball_sizes(Decimal(58))
    assert abs(found.shaped_radius - 5 * sizes.shaped_cm) <= Decimal("0.05")
    assert abs(found.baked_radius - 5 * sizes.baked_cm) <= Decimal("0.05")


def test_a_round_pan_stands_in_the_middle_of_its_box():
    found = drawn(ROUND)
    assert found.is_round
    assert found.middle == (found.width / 2, found.height / 2)
    assert found.pan_radius == 180


@pytest.mark.parametrize("pan", [ROUND, WIDE], ids=["round", "rectangular"])
@pytest.mark.parametrize(("pieces", "piece_g"), [(1, 58), (11, 58), (12, 120), (40, 5)])
def test_no_baked_piece_leaves_the_box(pan, pieces, piece_g):
    found = drawn(pan, pieces, piece_g)
    assert len(found.centers) == pieces
    for x, y in found.centers:
        assert found.baked_radius <= x <= found.width - found.baked_radius
        assert found.baked_radius <= y <= found.height - found.baked_radius


def test_every_figure_is_a_plain_number_to_a_tenth():
    found = draw_pan(rings(ROUND, 8, 3), ball_sizes(Decimal(58)))
    figures = [found.width, found.height, found.baked_radius, *found.middle]
    figures += [figure for center in found.centers for figure in center]
    assert all(figure.as_tuple().exponent == -1 for figure in figures)


def test_a_box_of_no_size_is_refused():
    with pytest.raises(OutOfRange):
        drawn(ROUND, longest=Decimal(0))
