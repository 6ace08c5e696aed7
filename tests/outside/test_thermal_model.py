"""Specific heat by composition, against its published coefficients and three other hands.

Coefficients: data/component_thermal_model.csv (refrigeration handbook of 2006, ch. 9 table 1).
Values of the food components in CoolProp 8.0.0: data/coolprop_food_components.csv. Foods of SR28,
and figures measured by a process-engineering textbook (App. A.4-1):
data/specific_heat_by_composition.csv. See data/README.md.
"""

import csv
import re
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.core.composition import Composition
from recipes.core.heat.thermal import SOLIDS, WaterTerm, specific_heat

Row = dict[str, str]

FIXTURES = Path(__file__).parent / "data"
TENTH_OF_A_PERCENT = Decimal("0.001")
AGAINST_MEASURED = Decimal("0.15")
ZERO, ALL = Decimal(0), Decimal(100)


def read_rows(name: str) -> list[Row]:
    with (FIXTURES / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


COEFFICIENTS = {
    row["component"].replace("fibre", "fiber"): row
    for row in read_rows("component_thermal_model.csv")
    if row["property"] == "specific_heat"
}
COOLPROP = read_rows("coolprop_food_components.csv")
COMPONENTS = [row for row in COOLPROP if row["component"] != "real water"]
REAL_WATER = [row for row in COOLPROP if row["component"] == "real water"]
SR28 = {row["ndb_no"]: row for row in read_rows("sr28_composition.csv")}
FOODS = read_rows("specific_heat_by_composition.csv")
MEASURED = [row for row in FOODS if row["published_measured_kJ_kgK"]]


def pure(component: str) -> Composition:
    """A food of one component; fiber is part of carbohydrate."""
    holds = {component, "carbohydrate"} if component == "fiber" else {component}
    names = ("water", "protein", "fat", "carbohydrate", "fiber", "ash")
    return Composition(*(ALL if part in holds else ZERO for part in names))


def sr28(ndb_no: str) -> Composition:
    row = SR28[ndb_no]
    columns = (
        "water_g_per_100g",
        "protein_g_per_100g",
        "fat_g_per_100g",
        "carb_by_diff_g_per_100g",
        "fibre_g_per_100g",
        "ash_g_per_100g",
    )
    return Composition(*(Decimal(row[column] or 0) for column in columns))


def apart(one: Decimal, other: Decimal) -> Decimal:
    return abs(one / other - 1)


@pytest.mark.parametrize("component", SOLIDS)
def test_coefficients_are_the_published_ones(component: str) -> None:
    ours, row = SOLIDS[component], COEFFICIENTS[component]
    published = (row["a0"], row["a1_per_degC"], row["a2_per_degC2"])
    assert (ours.a0, ours.a1, ours.a2) == tuple(map(Decimal, published))


@pytest.mark.parametrize(
    ("term", "component"),
    [
        (WaterTerm.HANDBOOK_2006, "water_above_0C"),
        (WaterTerm.ORIGINAL_1986, "water_1986_original_above_0C"),
    ],
)
def test_both_constants_of_water_are_published(term: WaterTerm, component: str) -> None:
    ours, row = term.specific_heat, COEFFICIENTS[component]
    published = (row["a0"], row["a1_per_degC"], row["a2_per_degC2"])
    assert (ours.a0, ours.a1, ours.a2) == tuple(map(Decimal, published))


def test_the_slope_of_fat_and_the_signs_of_water_are_not_those_of_the_faulty_copy() -> None:
    water = WaterTerm.HANDBOOK_2006.specific_heat
    assert SOLIDS["fat"].a1 == Decimal("0.0014733")
    assert water.a1 < 0 < water.a2


@pytest.mark.parametrize(
    "row", COMPONENTS, ids=lambda row: f"{row['component']} at {row['temperature_c']}"
)
def test_a_component_agrees_with_coolprop_within_a_tenth_of_a_percent(row: Row) -> None:
    """CoolProp's food water has the handbook's constant, so that one is compared."""
    assert row["coolprop_version"] == "8.0.0"
    ours = specific_heat(
        pure(row["component"]), Decimal(row["temperature_c"]), WaterTerm.HANDBOOK_2006
    )
    assert apart(ours, Decimal(row["specific_heat_kj_per_kg_k"])) < TENTH_OF_A_PERCENT


def test_every_component_is_compared() -> None:
    assert {row["component"] for row in COMPONENTS} == {*SOLIDS, "water"}


@pytest.mark.parametrize("row", REAL_WATER, ids=lambda row: row["temperature_c"])
def test_our_water_is_nearer_to_real_water_than_the_handbooks(row: Row) -> None:
    real, at = Decimal(row["specific_heat_kj_per_kg_k"]), Decimal(row["temperature_c"])
    ours = apart(specific_heat(pure("water"), at), real)
    handbook = apart(specific_heat(pure("water"), at, WaterTerm.HANDBOOK_2006), real)
    assert ours < Decimal("0.008")
    assert ours < handbook


@pytest.mark.parametrize("row", FOODS, ids=lambda row: row["ndb_no"])
def test_a_food_comes_out_as_computed_elsewhere(row: Row) -> None:
    """The other computation has the handbook's water."""
    for column, temperature_c in (("cp_4C", 4), ("cp_20C", 20)):
        ours = specific_heat(sr28(row["ndb_no"]), Decimal(temperature_c), WaterTerm.HANDBOOK_2006)
        assert apart(ours, Decimal(row[column])) < TENTH_OF_A_PERCENT


def test_115_foods_are_compared_and_eight_were_measured() -> None:
    assert (len(FOODS), len(MEASURED)) == (115, 8)


@pytest.mark.parametrize("row", MEASURED, ids=lambda row: row["description"])
def test_a_food_agrees_with_the_textbook_within_15_percent(row: Row) -> None:
    """A measured range counts from its nearer end; the textbook's egg is the farthest off."""
    figures = re.match(r"[\d.]+(-[\d.]+)?", row["published_measured_kJ_kgK"])
    assert figures
    ends = [Decimal(figure) for figure in figures[0].split("-")]
    ours = specific_heat(sr28(row["ndb_no"]), Decimal(20))
    nearest = min(max(ours, min(ends)), max(ends))
    assert apart(ours, nearest) < AGAINST_MEASURED
