"""Whether a dough suits a pan, how much the pan takes, and how high the dough stands in it."""

from decimal import Decimal

import pytest

from recipes.core.heat.doneness import BreadKind
from recipes.core.pans.fit import Suits, good_load, level_in
from recipes.core.pans.plan import Filling
from recipes.core.pans.sizes import PUBLISHED_LOADS, LoadBy, Pan, PanShape
from recipes.core.pans.tin_drawing import draw_tin

IN3_CM3 = Decimal("16.387064")
TIN = Pan.in_cm(PanShape.LOAF, Decimal("21.59"), Decimal("11.43"), Decimal("6.35"))
ROUND = Pan.in_cm(PanShape.ROUND, Decimal(23), depth=Decimal(5))
TRAY = Pan.in_cm(PanShape.RECTANGULAR, Decimal(40), Decimal(30))
ROLLS = Filling(ROUND, 6, Decimal(70))
LOAF = Filling(TIN, 1, Decimal(520))


def test_a_tin_without_an_own_pan_is_judged_by_the_published_loads_of_pan_bread():
    """5.35 g to a cubic inch is printed for pan bread; the tin has 95.6 of them."""
    good = good_load(TIN, None, BreadKind.LEAN)
    assert (good.least, good.most, good.by) == (Decimal("0.228"), Decimal("0.397"), LoadBy.VOLUME)
    assert good.dough_g(TIN) == pytest.approx(
        Decimal("5.35") * TIN.volume_cm3 / IN3_CM3, rel=Decimal("0.002")
    )
    assert not good.is_own


def test_whole_grain_bread_is_denser():
    lean, dense = (good_load(TIN, None, kind) for kind in (BreadKind.LEAN, BreadKind.DENSE))
    assert dense.least > lean.most
    assert dense.aim == Decimal("0.60")


def test_every_published_load_is_used_for_one_kind_of_bread():
    goods = [good_load(TIN, None, kind) for kind in ("", BreadKind.DENSE)]
    for one in PUBLISHED_LOADS:
        assert any(good.least <= one.least and one.most <= good.most for good in goods)


def test_the_recipes_own_pan_comes_first():
    good = good_load(TRAY, ROLLS, BreadKind.SOFT)
    assert good.is_own
    assert good.by is LoadBy.AREA
    assert good.aim == ROLLS.load(LoadBy.AREA).grams
    assert good.dough_g(ROUND) == pytest.approx(420)


def test_a_loaf_tin_is_not_judged_by_rolls_in_a_round_pan():
    assert not good_load(TIN, ROLLS, BreadKind.SOFT).is_own
    assert good_load(ROUND, LOAF, BreadKind.LEAN) is None


def test_of_other_pans_nothing_is_known_without_an_own_pan():
    assert good_load(ROUND, None, BreadKind.LEAN) is None
    shallow = Pan.in_cm(PanShape.LOAF, Decimal(20), Decimal(10))
    assert good_load(shallow, None, BreadKind.LEAN) is None


@pytest.mark.parametrize(
    ("dough_g", "suits"),
    [
        (300, Suits.TOO_LITTLE), (357, Suits.TOO_LITTLE), (358, Suits.WELL), (520, Suits.WELL),
        (622, Suits.WELL), (623, Suits.TOO_MUCH), (1000, Suits.TOO_MUCH),
    ],
)  # fmt: skip
def test_a_dough_is_told_to_be_too_little_or_too_much(dough_g, suits):
    good = good_load(TIN, None, BreadKind.LEAN)
    assert good.suits(Filling(TIN, 1, Decimal(dough_g)).load(LoadBy.VOLUME)) is suits


@pytest.mark.parametrize(("percent", "suits"), [(74, "too little"), (76, "well"), (124, "well")])
def test_a_quarter_more_or_less_than_in_the_own_pan_is_well(percent, suits):
    other = Filling(ROUND, 6, Decimal(70 * percent) / 100)
    good = good_load(ROUND, ROLLS, BreadKind.SOFT)
    assert good.suits(other.load(good.by)).value == suits


def test_a_dough_stands_as_high_as_its_volume_over_the_floor():
    level = level_in(LOAF)
    assert level.shaped_cm == pytest.approx(520 / Decimal("1.1") / (TIN.length_cm * TIN.width_cm))
    assert level.doubled_cm == pytest.approx(2 * level.shaped_cm)
    assert level_in(Filling(TRAY, 1, Decimal(520))) is None


def test_a_tin_is_drawn_to_scale():
    level = level_in(LOAF)
    drawn = draw_tin(level, TIN.length_cm)
    scale = 360 / TIN.length_cm
    assert drawn.floor_y - drawn.rim_y == pytest.approx(TIN.depth_cm * scale, abs=Decimal("0.1"))
    assert drawn.floor_y - drawn.shaped_y == pytest.approx(
        level.shaped_cm * scale, abs=Decimal("0.1")
    )
    assert drawn.floor_y - drawn.doubled_y == pytest.approx(
        level.doubled_cm * scale, abs=Decimal("0.1")
    )
    assert drawn.height > drawn.floor_y > drawn.shaped_y > drawn.doubled_y > drawn.rim_y > 0


def test_what_rises_over_the_rim_stays_in_the_drawing():
    over = level_in(Filling(TIN, 1, Decimal(1500)))
    drawn = draw_tin(over, TIN.length_cm)
    assert 0 < drawn.doubled_y < drawn.rim_y
    assert f"{drawn.doubled_y}" in drawn.doubled
    assert f"{drawn.rim_y}" in drawn.wall
