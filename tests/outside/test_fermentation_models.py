"""Fermentation rules against published rules of thumb and the cardinal temperature model.

Doubling in 17 °F: an oven maker's article. Ten percent a degree: a trade article. Cardinal
temperature model of 1993 with the optimum and maximum of Appl. Environ. Microbiol. 2011;77:2292;
the minimum is from memory, so a low and a high one of the genus are checked too. The table was
computed for this project, apart from the program. See data/README.md.
"""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.core.rise.fermentation import (
    CARDINAL,
    DOUBLING,
    RULES,
    TEN_PERCENT,
    CardinalTemperatures,
    Doubling,
)

TABLE = Path(__file__).parent / "data" / "fermentation_rate_relative_to_24C.csv"
with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file, strict=True))

PRINTED = Decimal("0.00006")
COLUMNS = {
    "rule_double_per_17F": Doubling(every_c=Decimal(17) * 5 / 9),
    "rule_10pct_per_C": TEN_PERCENT,
    "CTMI_Tmin1.3": CardinalTemperatures(grows_from_c=Decimal("1.3")),
    "CTMI_Tmin2.8": CARDINAL,
    "CTMI_Tmin4.3": CardinalTemperatures(grows_from_c=Decimal("4.3")),
}


def relative(rule, temperature_c):
    return rule.rate(temperature_c) / rule.rate(Decimal(24))


def test_the_table_spans_cold_to_hot():
    assert [ROWS[0]["T_C"], ROWS[-1]["T_C"]] == ["4", "45"]


@pytest.mark.parametrize("column", COLUMNS)
def test_rates_against_24_degrees_are_as_tabled(column):
    for row in ROWS:
        rate = relative(COLUMNS[column], Decimal(row["T_C"]))
        assert abs(rate - Decimal(row[column])) <= PRINTED, row["T_C"]


def test_the_share_of_the_best_rate_is_as_tabled():
    for row in ROWS:
        rate = CARDINAL.rate(Decimal(row["T_C"]))
        assert abs(rate - Decimal(row["CTMI_Tmin2.8_frac_of_opt"])) <= PRINTED, row["T_C"]


def test_the_default_is_the_published_17_fahrenheit_to_a_tenth_of_a_degree():
    assert round(Decimal(17) * 5 / 9, 1) == DOUBLING.every_c


@pytest.mark.parametrize("temperature_c", range(20, 28))
def test_all_rules_agree_within_12_percent_from_20_to_27_degrees(temperature_c):
    rates = [relative(rule, Decimal(temperature_c)) for rule in RULES]
    middle = (max(rates) + min(rates)) / 2
    assert (max(rates) - middle) / middle <= Decimal("0.12")


@pytest.mark.parametrize("temperature_c", [8, 12, 34, 40])
def test_the_rules_disagree_where_they_warn(temperature_c):
    at_c = Decimal(temperature_c)
    rates = [relative(rule, at_c) for rule in RULES]
    assert max(rates) / min(rates) > Decimal("1.5")
    assert all(rule.warning(at_c) for rule in RULES)
