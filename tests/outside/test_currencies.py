"""Places of currencies against the standard's list (data/README.md).

Both come from ISO 4217 list one of 2026-01-01; the fixture was taken from the list by a script,
the program's table is kept by places.
"""

import csv
from pathlib import Path

import pytest

from classes.core.money import PLACES

TABLE = Path(__file__).parent / "data" / "iso4217_minor_units.csv"
with TABLE.open(encoding="utf-8", newline="") as file:
    LISTED = {row["code"]: int(row["places"]) for row in csv.DictReader(file, strict=True)}


def test_every_currency_of_the_list_has_its_places_and_there_is_no_other():
    assert dict(PLACES) == LISTED
    assert len(LISTED) == 165


@pytest.mark.parametrize(
    ("code", "places"),
    [("USD", 2), ("EUR", 2), ("JPY", 0), ("KRW", 0), ("KWD", 3), ("BHD", 3), ("CLF", 4)],
)
def test_the_best_known_are_as_everybody_knows_them(code, places):
    assert PLACES[code] == places
