"""Boiling points by height.

Published: a table in an encyclopedia that cites the standard atmosphere. Computed apart from the
program: the other columns of the table. Saturation temperatures: verification values of the IAPWS
Industrial Formulation 1997 (from memory). See data/README.md.
"""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.core.heat.altitude import boiling_point_at_kpa, boiling_point_c, meters, pressure_kpa
from recipes.core.units import to_fahrenheit

TABLE = Path(__file__).parent / "data" / "boiling_point_altitude.csv"
with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file, strict=True))
PUBLISHED = [row for row in ROWS if row["bp_F_published_table"] and Decimal(row["ft"]) <= 12000]


def boiling_f(row):
    return to_fahrenheit(boiling_point_c(meters(Decimal(row["ft"]))))


def test_the_published_table_reaches_up_to_12000_feet():
    assert len(PUBLISHED) >= 9
    assert {"0", "5000", "10000", "12000"} <= {row["ft"] for row in PUBLISHED}


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: f"{row['ft']} ft")
def test_boiling_points_are_within_0_2_fahrenheit_of_the_published(row):
    assert abs(boiling_f(row) - Decimal(row["bp_F_published_table"])) <= Decimal("0.2")


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['ft']} ft")
def test_pressure_and_boiling_point_agree_with_an_independent_computation(row):
    height = meters(Decimal(row["ft"]))
    assert abs(pressure_kpa(height) - Decimal(row["std_atm_kPa"])) <= Decimal("0.01")
    assert abs(boiling_point_c(height) - Decimal(row["bp_C_computed"])) <= Decimal("0.02")
    assert abs(boiling_f(row) - Decimal(row["bp_F_computed"])) <= Decimal("0.1")


@pytest.mark.parametrize(
    "row", [row for row in ROWS if Decimal(row["ft"]) <= 10000], ids=lambda row: f"{row['ft']} ft"
)
def test_the_rule_of_one_fahrenheit_in_500_feet_is_off_by_less_than_1_7_up_to_10000(row):
    assert abs(boiling_f(row) - Decimal(row["rule_1F_per_500ft"])) < Decimal("1.7")


@pytest.mark.parametrize(("kpa", "kelvin"), [("100", "372.755919"), ("1000", "453.035632")])
def test_saturation_temperatures_meet_the_formulation_s_own_values(kpa, kelvin):
    boiling_k = boiling_point_at_kpa(Decimal(kpa)) + Decimal("273.15")
    assert abs(boiling_k - Decimal(kelvin)) < Decimal("0.000001")
