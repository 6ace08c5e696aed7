"""Ice in place of water against a printed trade table of 103 cells.

data/ice_table_published.csv, see data/README.md: latent heat 144 BTU a pound, rounded to 0.001
in rounded steps. The worked example is from an article whose figure is wrong.
"""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.core.heat.water import IceAndWater, ice_for, iced_c

FIXTURE = Path(__file__).parent / "data" / "ice_table_published.csv"
with FIXTURE.open(encoding="utf-8", newline="") as file:
    CELLS = list(csv.DictReader(file, strict=True))

TOLERANCE = Decimal("0.007")


def celsius(fahrenheit: str) -> Decimal:
    return (Decimal(fahrenheit) - 32) * 5 / 9


def test_the_table_has_103_cells() -> None:
    assert len(CELLS) == 103


@pytest.mark.parametrize(
    "cell", CELLS, ids=lambda cell: f"{cell['tap_water_F']} to {cell['calculated_water_F']}"
)
def test_ice_to_a_pound_of_water_is_as_printed(cell: dict[str, str]) -> None:
    tap_c, wanted_c = celsius(cell["tap_water_F"]), celsius(cell["calculated_water_F"])
    amounts = ice_for(Decimal(1), tap_c, wanted_c)
    printed = Decimal(cell["published_lb_ice_per_lb_water"])
    assert abs(amounts.ice_g - printed) <= TOLERANCE


def test_the_trades_own_formula_is_ours() -> None:
    for cell in CELLS:
        tap_f, wanted_f = Decimal(cell["tap_water_F"]), Decimal(cell["calculated_water_F"])
        by_hand = (tap_f - wanted_f) / (tap_f + 112)
        ours = ice_for(Decimal(1), celsius(cell["tap_water_F"]), celsius(str(wanted_f)))
        assert abs(ours.ice_g - by_hand) < Decimal("1e-20")


def test_forty_kilos_from_20_to_10_degrees_take_four_of_ice_and_not_the_printed_4_4() -> None:
    amounts = ice_for(Decimal(40000), Decimal(20), Decimal(10))
    assert (amounts.ice_g, amounts.water_g) == (4000, 36000)
    as_printed = IceAndWater(Decimal(4400), Decimal(35600))
    assert round(iced_c(as_printed, Decimal(20)), 1) == Decimal("9.0")


def test_measured_constants_change_the_example_by_less_than_half_a_percent() -> None:
    """Latent heat 334.6 kJ/kg and 4.186 kJ/(kg K), the closer figures for water."""
    ours = ice_for(Decimal(40000), Decimal(20), Decimal(10)).ice_g
    closer = 40000 * Decimal("4.186") * 10 / (Decimal("334.6") + Decimal("4.186") * 20)
    assert abs(closer / ours - 1) < Decimal("0.005")
