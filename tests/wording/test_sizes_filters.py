"""Lengths, loads, gaps and arrangements in words."""

from dataclasses import replace
from decimal import Decimal

import pytest

from recipes.core.pans.balls import Touch, will_touch
from recipes.core.pans.packing import arrange, rings
from recipes.core.pans.plan import MostThatFit
from recipes.core.pans.sizes import DoughLoad, LoadBy, Pan, PanShape
from wording import figures, packing, sizes
from wording.figures import NBSP

ROUND = Pan.in_cm(PanShape.ROUND, Decimal(23))
SQUARE = Pan.in_cm(PanShape.SQUARE, Decimal(20))
WIDE = Pan.in_cm(PanShape.RECTANGULAR, Decimal(33), Decimal(23))
LONG = Pan.in_cm(PanShape.LOAF, Decimal(30), Decimal(10))
TALL = Pan.in_cm(PanShape.LOAF, Decimal(10), Decimal(30))
MET = will_touch(arrange(ROUND, 11), Decimal(58))


def plain(text):
    return text.replace(NBSP, " ")


@pytest.mark.parametrize(
    ("shown", "words"),
    [
        (sizes.length(Decimal("22.86")), "22.9 cm (9 in)"),
        (sizes.pan_size(ROUND), "23 cm (9.1 in)"),
        (sizes.pan_size(WIDE), "33 × 23 cm (13 × 9.1 in)"),
        (sizes.pan_words(Pan.in_cm(PanShape.TRAY, Decimal(40), Decimal(30))), "tray"),
        (sizes.load(DoughLoad(Decimal("1.545"), LoadBy.AREA)), "1.55 g/cm²"),
        (sizes.load(DoughLoad(Decimal("0.3971"), LoadBy.VOLUME)), "0.397 g/cm³"),
        (figures.times(Decimal(1) / 3), "× 0.33"),
        (sizes.liters(Decimal(1000)), "1.0 liters"),
        (sizes.us_cups(Decimal("1419.529419")), "6 US cups"),
    ],
)
def test_figures_carry_their_units(shown, words):
    assert plain(shown) == words


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (arrange(ROUND, 1), "one in the middle"),
        (arrange(ROUND, 5), "a ring of 5"),
        (arrange(ROUND, 7), "6 around 1"),
        (arrange(ROUND, 30), "16 around 14"),
        (arrange(ROUND, 50), "a honeycomb"),
        (arrange(SQUARE, 7), "as drawn, in no rows"),
        (rings(ROUND, 8, 3), "8 around 3"),
        (arrange(WIDE, 1), "one in the middle"),
        (arrange(WIDE, 2), "a zigzag of 2"),
        (arrange(LONG, 3), "one row of 3"),
        (arrange(TALL, 3), "one row of 3"),
        (arrange(WIDE, 12), "3 straight rows of 4"),
    ],
)
def test_an_arrangement_has_a_name(found, words):
    assert packing.lies(found) == words


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (arrange(ROUND, 40), "the best known places"),
        (arrange(ROUND, 41), "a good arrangement; a better one may exist"),
        (arrange(SQUARE, 7), "the best known places"),
        (
            arrange(Pan.in_cm(PanShape.TRAY, Decimal("20.2"), Decimal(20)), 7),
            "a good arrangement; a better one may exist",
        ),
        (rings(ROUND, 8, 3), "even rings"),
        (arrange(WIDE, 12), "our own computation"),
    ],
)
def test_it_is_said_where_an_arrangement_comes_from(found, words):
    assert packing.pattern_note(found) == words


@pytest.mark.parametrize(
    ("most", "words"),
    [
        (MostThatFit(0, at_least=False), "not even one fits"),
        (MostThatFit(1, at_least=False), "1 of them fits"),
        (MostThatFit(27, at_least=False), "27 of them fit"),
        (MostThatFit(44, at_least=True), "at least 44 of them fit"),
    ],
)
def test_it_is_said_how_many_fit_and_where_more_may(most, words):
    assert packing.how_many(most) == words


@pytest.mark.parametrize(
    ("closest", "widest", "words"),
    [
        ("4", "7.4", "4 to 7 mm apart"),
        ("4", "4.2", "4 mm apart"),
        ("-2", "3", "some touch, others up to 3 mm apart"),
        ("-6", "-3", "pressing 3 to 6 mm into each other"),
    ],
)
def test_gaps_are_told_in_words(closest, widest, words):
    met = replace(MET, closest_gap_mm=Decimal(closest), gap_mm=Decimal(widest))
    assert plain(packing.gap(met)) == words


@pytest.mark.parametrize(
    ("gap_mm", "words"),
    [("-3", "at the wall"), ("0.3", "at the wall"), ("2.6", "3 mm from the wall")],
)
def test_the_wall_is_near_or_not(gap_mm, words):
    assert plain(packing.wall(replace(MET, wall_gap_mm=Decimal(gap_mm)))) == words


def test_a_verdict_is_a_shape_and_a_word():
    shown = [packing.verdict(replace(MET, touch=touch)) for touch in Touch]
    assert shown == ["● touch", "◐ nearly touch", "○ stay apart"]
    alone = will_touch(arrange(ROUND, 1), Decimal(58))
    assert packing.verdict(alone) == "○ a single piece"
    assert packing.gap(alone) == "no neighbors"
