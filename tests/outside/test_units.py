"""Kitchen units against their definitions.

US customary volumes and avoirdupois masses are exact by definition (NIST Handbook 44, App. C,
from memory); imperial volumes derive from the gallon of 4.546 09 liters. See data/README.md.
"""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.core.units import convert, parse_unit, to_celsius

UNITS_CSV = Path(__file__).parent / "data" / "units.csv"

with UNITS_CSV.open(encoding="utf-8", newline="") as file:
    ROWS = {row["unit"]: row for row in csv.DictReader(file, strict=True)}

COOKS_WORDS = {
    "cup (US)": "cup",
    "tablespoon (US)": "tbsp",
    "teaspoon (US)": "tsp",
    "fluid ounce (US)": "fl oz",
    "pint (US liquid)": "pint",
    "quart (US liquid)": "quart",
    "gallon (US)": "gallon",
    "fluid ounce (imperial)": "imperial fl oz",
    "pint (imperial)": "imperial pint",
    "cup (imperial, 10 fl oz)": "imperial cup",
    "pound (avoirdupois)": "lb",
    "ounce (avoirdupois)": "oz",
    "inch": "in",
}
TEMPERATURE = "degF->degC"


def ours(row_name):
    unit = parse_unit(COOKS_WORDS[row_name])
    return convert(Decimal(1), unit, unit.measures)


def test_every_row_of_the_table_is_compared():
    assert set(ROWS) == {*COOKS_WORDS, TEMPERATURE}


@pytest.mark.parametrize("row_name", COOKS_WORDS)
def test_a_unit_is_exactly_its_definition(row_name):
    assert ours(row_name) == Decimal(ROWS[row_name]["mL_or_g"])


@pytest.mark.parametrize("row_name", COOKS_WORDS)
def test_pint_in_floats_gives_the_same_to_15_digits(row_name):
    theirs = Decimal(ROWS[row_name]["pint_0.25.3_result"])
    assert abs(theirs / ours(row_name) - 1) < Decimal("1e-15")


@pytest.mark.parametrize("row_name", [name for name in COOKS_WORDS if ROWS[name]["fda_household"]])
def test_label_spoons_are_rounded_and_are_not_what_we_compute_with(row_name):
    label = Decimal(ROWS[row_name]["fda_household"].split()[0])
    assert Decimal("0.001") < abs(label / ours(row_name) - 1) < Decimal("0.02")


def test_78_degrees_fahrenheit_are_25_and_five_ninths():
    assert ROWS[TEMPERATURE]["exact_or_defined"] == "(F-32)*5/9"
    celsius = to_celsius(Decimal(78), parse_unit("F"))
    assert abs(celsius * 9 - 230) < Decimal("1e-24")
    assert f"{celsius:.13f}" == "25.5555555555556"
