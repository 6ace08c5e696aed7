"""Amounts that are written twice, metric and imperial, against the definitions of the units.

600 pairs, made from units.csv: the imperial side of each is rounded to a quarter of an ounce, as
cooks print it. See tests/outside/data/README.md.
"""

import csv
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

from recipes.importing.text.lines import read_line

UNITS_CSV = Path(__file__).parents[2] / "outside" / "data" / "units.csv"
with UNITS_CSV.open(encoding="utf-8", newline="") as file:
    ONE = {row["unit"]: row["mL_or_g"] for row in csv.DictReader(file, strict=True)}
OUNCE_G = Decimal(ONE["ounce (avoirdupois)"])
POUND_G = Decimal(ONE["pound (avoirdupois)"])
HALF_A_STEP_G = OUNCE_G / 8
MOST_APART = Decimal("0.06")
QUARTERS = ("", "¼", "½", "¾")

METRIC_G = [*range(15, 100, 5), *range(110, 500, 15), *range(500, 2000, 100), 2250, 2500]
FRAMES = {
    "slash": "{metric}g/{imperial} bread flour",
    "spaced slash": "{metric} g / {imperial} bread flour",
    "bracket": "{metric} g ({imperial}) bread flour",
    "bracket behind the name": "{metric} g bread flour ({imperial}), sifted",
    "or": "{metric} g or {imperial} bread flour",
    "comma": "{metric}g, {imperial} bread flour",
    "dash": "{metric}g – {imperial} bread flour",
    "cells": "Bread flour\t{metric} g\t{imperial}",
    "imperial first": "{imperial}/{metric}g bread flour",
    "metric in a bracket": "{imperial} ({metric} g) bread flour",
}


def imperial(grams):
    """Pounds and ounces to the nearest quarter, as printed: `1lb 5oz`, `3½oz`."""
    quarters = int((grams / OUNCE_G * 4).quantize(Decimal(1), ROUND_HALF_UP))
    pounds, rest = divmod(quarters, 64)
    ounces = f"{rest // 4 or ''}{QUARTERS[rest % 4]}oz" if rest else ""
    return " ".join(filter(None, (f"{pounds}lb" if pounds else "", ounces)))


PAIRS = [(grams, imperial(Decimal(grams))) for grams in METRIC_G]


def rounded(grams):
    """What the imperial side of a pair weighs."""
    return (grams / HALF_A_STEP_G / 2).quantize(Decimal(1), ROUND_HALF_UP) * HALF_A_STEP_G * 2


def test_there_are_more_than_five_hundred():
    assert len(PAIRS) * len(FRAMES) >= 500
    assert Decimal(16) * OUNCE_G == POUND_G


@pytest.mark.parametrize("frame", FRAMES)
def test_the_metric_side_is_taken_and_doubted_where_rounding_takes_over_6_percent(frame, book):
    for grams, other in PAIRS:
        text = FRAMES[frame].format(metric=grams, imperial=other)
        line = read_line(text, book)
        assert (line.match.key, line.written.mass_g) == ("bread-flour", grams), text
        apart = abs(rounded(grams) - grams) > MOST_APART * grams
        assert [doubt.kind for doubt in line.doubts] == ["AmountsDisagree"] * apart, text


def test_the_imperial_side_alone_is_off_by_its_own_rounding_at_most(book):
    for grams, other in PAIRS:
        line = read_line(f"{other} bread flour", book)
        assert abs(line.written.mass_g - grams) <= HALF_A_STEP_G, other


@pytest.mark.parametrize("factor", ["0.9", "1.1", "2"])
def test_sides_that_do_not_belong_together_are_doubted(factor, book):
    for grams in (number for number in METRIC_G if number > 100):
        other = imperial(grams * Decimal(factor))
        for frame in FRAMES.values():
            text = frame.format(metric=grams, imperial=other)
            line = read_line(text, book)
            assert line.written.mass_g == grams, text
            assert [doubt.kind for doubt in line.doubts] == ["AmountsDisagree"], text
