"""Pieces in a pan: every way to lie, the same load elsewhere, and the pan for the pieces."""

from decimal import Decimal

import pytest

from recipes.core.errors import NotWhole, OutOfRange
from recipes.core.pans.balls import BallModel, Touch, ball_sizes
from recipes.core.pans.plan import (
    Filling,
    MostThatFit,
    at_load,
    lyings,
    most_that_fit,
    pans_for,
    published_fills,
    published_spread,
    usual_load_by,
)
from recipes.core.pans.sizes import DoughLoad, LoadBy, NoDepth, Pan, PanShape

ROUND = Pan.in_cm(PanShape.ROUND, Decimal("22.86"))
LOAF = Pan.in_cm(PanShape.LOAF, Decimal(21), Decimal(11), Decimal(6), Decimal(1300))
ROLLS = Filling(ROUND, 11, Decimal(58))


def test_eleven_rolls_lie_eight_around_three_in_two_ways():
    best, *others = lyings(ROLLS)
    assert best.arrangement.counts == (8, 3)
    assert (8, 3) in [lying.arrangement.counts for lying in others]


def test_rolls_that_touch_when_baked_are_farther_apart_when_proofed():
    best = lyings(ROLLS)[0]
    assert best.baked.touch is Touch.TOUCH
    assert best.proofed.gap_mm > best.baked.gap_mm
    assert best.proofed.sizes.baked_cm == ball_sizes(Decimal(58)).proofed_cm


def test_pieces_of_the_mass_at_which_they_meet_just_fill_their_room():
    best = lyings(ROLLS)[0]
    met = lyings(Filling(ROUND, 11, best.meet_from_g))[0]
    assert abs(met.baked.sizes.baked_cm - met.arrangement.room_cm) < Decimal("1e-9")


def test_the_assumptions_change_the_answer():
    flat = BallModel(proofed_volume=Decimal(1), baked_volume=Decimal(1))
    assert lyings(ROLLS, flat)[0].baked.touch is not Touch.TOUCH


def test_too_many_to_count_is_no_number():
    tray = Pan.in_cm(PanShape.TRAY, Decimal(100), Decimal(100))
    assert most_that_fit(tray, ball_sizes(Decimal(1))) is None
    assert most_that_fit(ROUND, ball_sizes(Decimal(58))).pieces > 11
    assert most_that_fit(ROUND, ball_sizes(Decimal(20000))) == MostThatFit(0, at_least=False)


def test_the_most_is_told_as_the_least_where_more_may_fit():
    """The table ends at 40, of which one more is no longer known; a dish has no table."""
    sizes = ball_sizes(Decimal(60))
    dish = Pan.in_cm(PanShape.TRAY, Decimal(40), Decimal(30))
    round_pans = {
        most.pieces: most.at_least
        for most in (
            most_that_fit(Pan.in_cm(PanShape.ROUND, Decimal(mm) / 10), sizes)
            for mm in range(300, 500)
        )
    }
    assert round_pans[39] is False
    assert round_pans[40] is True
    assert all(at_least is (pieces >= 40) for pieces, at_least in round_pans.items())
    assert most_that_fit(dish, sizes).at_least


@pytest.mark.parametrize(
    ("pans", "by"),
    [
        ([LOAF], LoadBy.VOLUME),
        ([LOAF, ROUND], LoadBy.AREA),
        ([Pan.in_cm(PanShape.LOAF, Decimal(21), Decimal(11))], LoadBy.AREA),
        ([], LoadBy.AREA),
    ],
)
def test_loaf_pans_are_counted_on_the_volume_where_it_is_known(pans, by):
    assert usual_load_by(*pans) is by


def test_the_same_load_in_its_own_pan_changes_nothing():
    same = at_load(ROLLS, ROLLS.load(LoadBy.AREA), ROLLS.dough_g)
    assert round(same.factor, 12) == 1
    assert round(same.by_pieces.piece_g, 12) == 58
    assert (same.by_mass.pieces, same.by_mass.left_over_g) == (11, 0)


def test_the_same_load_in_twice_the_pan_is_twice_the_dough():
    wide = Pan.in_cm(PanShape.RECTANGULAR, ROUND.area_cm2 / 10, Decimal(20))
    same = at_load(Filling(wide, 11, Decimal(58)), ROLLS.load(LoadBy.AREA), ROLLS.dough_g)
    assert round(same.factor, 12) == 2
    assert round(same.by_pieces.piece_g, 10) == 116
    assert same.by_mass.pieces == 22


def test_every_pan_for_the_pieces_holds_them_at_the_load():
    load = DoughLoad(Decimal("1.2"), LoadBy.AREA)
    found = pans_for(ROLLS, load)
    assert [pan.shape for pan in found] == [PanShape.ROUND, PanShape.SQUARE]
    for pan in found:
        assert round(load.dough_g(pan), 9) == 638


def test_pans_of_unknown_volume_are_left_out():
    no_depth = Pan.in_cm(PanShape.LOAF, Decimal(21), Decimal(11), water_ml=Decimal(1300))
    load = DoughLoad(Decimal("0.4"), LoadBy.VOLUME)
    assert [pan.shape for pan in pans_for(Filling(no_depth, 1, Decimal(520)), load)] == ["loaf"]
    deep = pans_for(Filling(LOAF, 1, Decimal(520)), load)
    assert [pan.shape for pan in deep] == ["loaf", "round", "square"]
    for pan in deep:
        assert round(load.dough_g(pan), 9) == 520


def test_published_loads_fill_the_measured_volume():
    least, *_, most = published_fills(LOAF)
    assert least.least_g == Decimal("0.228") * 1300
    assert most.most_g == Decimal("0.65") * 1300
    assert most.least_g < most.most_g


def test_published_loads_need_a_volume():
    with pytest.raises(NoDepth):
        published_fills(ROUND)


def test_the_spread_of_published_loads_is_nearly_threefold():
    assert round(published_spread(), 2) == Decimal("2.85")


@pytest.mark.parametrize(
    ("pieces", "piece_g", "error"), [(0, 58, OutOfRange), (1, 0, OutOfRange), ("2", 58, NotWhole)]
)
def test_a_filling_of_nothing_is_refused(pieces, piece_g, error):
    with pytest.raises(error):
        Filling(ROUND, pieces, Decimal(piece_g))
