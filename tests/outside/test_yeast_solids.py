"""Yeast factors against the dry matter of the yeasts themselves.

Composition: USDA SR28, compressed yeast (NDB 18374) and active dry yeast (18375). A gram of fresh
yeast holds 0.327 times the dry matter of a gram of active dry. Drying costs living cells, so more
dry yeast than that is needed; the instant kind, dried gently, comes close. The factors themselves
are published figures, named in the program.
"""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.core.exchange.kinds import TEXTBOOK, YEAST_FACTORS, YeastForm, exchange_yeast

TABLE = Path(__file__).parent / "data" / "sr28_composition.csv"
with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = {row["ndb_no"]: row for row in csv.DictReader(file, strict=True)}


def solids(ndb):
    return 1 - Decimal(ROWS[ndb]["water_g_per_100g"]) / 100


FRESH_SOLIDS, DRY_SOLIDS = solids("18374"), solids("18375")
SAME_DRY_MATTER = FRESH_SOLIDS / DRY_SOLIDS


def test_fresh_yeast_holds_a_third_of_the_dry_matter():
    assert f"{SAME_DRY_MATTER:.3f}" == "0.327"


def test_the_textbook_s_instant_yeast_brings_the_dry_matter_of_the_fresh():
    assert abs(TEXTBOOK.factor(YeastForm.INSTANT) / SAME_DRY_MATTER - 1) < Decimal("0.02")


PUBLISHED = [
    pytest.param(factors.factor(form), id=f"{form}, {factors.key}")
    for form in (YeastForm.ACTIVE_DRY, YeastForm.INSTANT)
    for factors in YEAST_FACTORS
    if factors.knows(form)
]
BOTH_DRY = [
    pytest.param(factors, id=factors.key)
    for factors in YEAST_FACTORS
    if factors.knows(YeastForm.ACTIVE_DRY, YeastForm.INSTANT)
]


@pytest.mark.parametrize("factor", PUBLISHED)
def test_no_factor_asks_for_less_dry_matter_than_the_fresh_yeast_has(factor):
    assert SAME_DRY_MATTER <= factor <= 2 * SAME_DRY_MATTER


@pytest.mark.parametrize("factors", BOTH_DRY)
def test_active_dry_is_never_the_stronger_dry_yeast(factors):
    assert factors.factor(YeastForm.INSTANT) <= factors.factor(YeastForm.ACTIVE_DRY)


def test_the_water_made_up_is_0_67_of_the_fresh_yeast_and_not_0_77_as_one_page_says():
    exchange = exchange_yeast(Decimal(100), YeastForm.FRESH, YeastForm.INSTANT)
    assert exchange.water_g == 67


def test_the_water_made_up_is_nearly_that_of_the_fresh_yeast_itself():
    water_g = 100 * (1 - FRESH_SOLIDS)
    exchange = exchange_yeast(Decimal(100), YeastForm.FRESH, YeastForm.INSTANT)
    assert abs(exchange.water_g - water_g) < 3


def test_a_packet_for_a_cake_is_the_trade_association_s_factor():
    packet = next(factors for factors in YEAST_FACTORS if factors.key == "packet-and-cake")
    assert abs(packet.factor(YeastForm.ACTIVE_DRY) - Decimal("0.25") / Decimal("0.6")) < Decimal(
        "1e-20"
    )
