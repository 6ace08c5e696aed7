"""Rounding of nutrition amounts against the table of the FDA Food Labeling Guide, Appendix H.

The table's rules (21 CFR 101.9(c)) are read from data/label_rounding_us.csv and applied here by
their own small reader, amount by amount. See data/README.md.
"""

import csv
import re
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

from recipes.core.batch.nutrition import label_energy, label_fat, label_grams, label_sodium

TABLE = Path(__file__).parent / "data" / "label_rounding_us.csv"
with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = {row["nutrient"]: row for row in csv.DictReader(file, strict=True)}

ROUNDED_BY = {
    "energy kcal": label_energy,
    "total/sat/trans/poly/mono fat g": label_fat,
    "sodium, potassium(*) mg": label_sodium,
    "total carbohydrate, dietary fibre, sugars g": label_grams,
    "protein g": label_grams,
}
# No ingredient here has a figure for it, so no estimate names it.
NOT_ESTIMATED = "cholesterol mg"


def test_every_row_of_the_table_has_its_rounding():
    assert set(ROWS) == set(ROUNDED_BY) | {NOT_ESTIMATED}


def number(text):
    return Decimal(re.search(r"[0-9.]+", text).group())


def by_the_table(row, amount):
    """`amount` as the row's words say: a number, or the words in quotation marks."""
    if amount < number(row["below"]):
        return Decimal(row["declare_as"])
    above, limit = row["above"], number(row["above"])
    is_above = amount >= limit if ">=" in above else amount > limit
    increment = row["increment_above" if is_above else "increment"]
    if '"' in increment:
        return increment.split('"')[1]
    step = Decimal(increment)
    return (amount / step).quantize(Decimal(1), ROUND_HALF_UP) * step


def amounts():
    """From nothing to 12 by hundredths, around 50 and 140 by tenths, and beyond by sevenths."""
    yield from (Decimal(n) / 100 for n in range(1200))
    yield from (Decimal(n) / 10 for n in (*range(440, 620), *range(1340, 1520)))
    yield from (Decimal(n) * 1000 / 7 for n in range(2, 22))


@pytest.mark.parametrize("nutrient", ROUNDED_BY)
def test_amounts_are_declared_as_the_table_says(nutrient):
    for amount in amounts():
        label = ROUNDED_BY[nutrient](amount)
        expected = by_the_table(ROWS[nutrient], amount)
        shown = str(label) if label.less_than else label.amount
        assert shown == expected, amount


def test_the_reader_of_the_table_knows_the_words_in_it():
    assert by_the_table(ROWS["protein g"], Decimal("0.7")) == "less than 1 g"
    assert by_the_table(ROWS["energy kcal"], Decimal(50)) == 50
    assert by_the_table(ROWS["energy kcal"], Decimal(51)) == 50
    assert by_the_table(ROWS["energy kcal"], Decimal("55")) == 60
