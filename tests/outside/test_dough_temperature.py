"""Worked examples of the bakers' formula: data/ddt_examples.csv, see data/README.md.

Three rows are wrong in their source; for them the recomputed figure counts and the printed one
must not come out.
"""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.core.composition import Composition
from recipes.core.heat.balance import Portion, water_by_balance
from recipes.core.heat.thermal import WaterTerm
from recipes.core.heat.water import (
    Friction,
    Model,
    Surroundings,
    difference_c,
    friction_by_sum,
    water_by_sum,
)

Row = dict[str, str]

FIXTURE = Path(__file__).parent / "data" / "ddt_examples.csv"
with FIXTURE.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file, strict=True))
SOUND = [row for row in ROWS if row["check"] == "ok"]
WRONG = [row for row in ROWS if row["check"] != "ok"]

# All-purpose flour, SR28 row 20081.
FLOUR = Composition(
    water_g=Decimal("11.92"),
    protein_g=Decimal("10.33"),
    fat_g=Decimal("0.98"),
    carbohydrate_g=Decimal("76.31"),
    fiber_g=Decimal("2.7"),
    ash_g=Decimal("0.47"),
)


def name(row: Row) -> str:
    return row["source"]


def celsius(fahrenheit: str) -> Decimal:
    return (Decimal(fahrenheit) - 32) * 5 / 9


def fahrenheit(temperature_c: Decimal) -> Decimal:
    return temperature_c * 9 / 5 + 32


def surroundings(row: Row) -> Surroundings:
    preferment = row["preferment_F"]
    return Surroundings(
        celsius(row["flour_F"]),
        celsius(row["room_F"]),
        celsius(preferment) if preferment else None,
    )


def water_f(row: Row) -> Decimal:
    friction = Friction(difference_c(Decimal(row["friction_F"])))
    water = water_by_sum(celsius(row["ddt_F"]), surroundings(row), friction)
    assert water.model is Model.TRADE_SUM
    return round(fahrenheit(water.temperature_c), 12)


def test_seven_examples_are_sound_and_three_are_not() -> None:
    assert (len(SOUND), len(WRONG)) == (7, 3)


@pytest.mark.parametrize("row", SOUND, ids=name)
def test_a_sound_example_comes_out_as_printed(row: Row) -> None:
    assert surroundings(row).terms == int(row["n"])
    assert water_f(row) == Decimal(row["published_water_F"])


@pytest.mark.parametrize("row", WRONG, ids=name)
def test_a_wrong_example_comes_out_as_recomputed_and_not_as_printed(row: Row) -> None:
    assert water_f(row) == Decimal(row["recomputed_water_F"])
    assert water_f(row) != Decimal(row["published_water_F"])


@pytest.mark.parametrize("row", SOUND, ids=name)
def test_measured_back_an_example_has_its_friction(row: Row) -> None:
    water_c = celsius(row["published_water_F"])
    friction = friction_by_sum(celsius(row["ddt_F"]), surroundings(row), water_c)
    assert abs(friction.rise_c - difference_c(Decimal(row["friction_F"]))) < Decimal("1e-20")


def test_the_sum_and_the_balance_answer_differently_by_design() -> None:
    """Flour and room 21 °C, dough 24 °C, 68 % water: 30.0 by the sum.

    By hand, with 1.945 for flour and 4.18 kJ/(kg K) for water, the balance gives 26.05.
    """
    wanted_c = Decimal(24)
    around = Surroundings(Decimal(21), Decimal(21))
    assert water_by_sum(wanted_c, around, Friction(Decimal(0))).temperature_c == 30
    flour = Portion(Decimal(100), Decimal(21), FLOUR)
    no_rise = Friction(Decimal(0), Model.HEAT_BALANCE)
    balance = water_by_balance(
        wanted_c, Decimal(68), [flour], no_rise, water=WaterTerm.ORIGINAL_1986
    )
    assert float(balance.temperature_c) == pytest.approx(26.05, abs=0.02)
