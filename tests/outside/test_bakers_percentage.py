"""Worked examples of baker's percentage from published lessons (data/README.md).

Each row was recomputed when it was collected. Row F is wrong where it was published, and must
not be reproduced.
"""

import csv
import re
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.core.choices import ComponentKind
from recipes.core.formula import (
    Formula,
    FormulaComponent,
    FormulaIngredient,
    Line,
    component_card,
    overall,
    proportions,
)
from recipes.core.scaling import batch
from recipes.core.units import parse_unit, to_grams

EXAMPLES_CSV = Path(__file__).parent / "data" / "bakers_percentage_examples.csv"

with EXAMPLES_CSV.open(encoding="utf-8", newline="") as file:
    ROWS = {row["example"][0]: row for row in csv.DictReader(file, strict=True)}


def numbers(text):
    """The numbers in a cell, in their order."""
    return [Decimal(number) for number in re.findall(r"\d+(?:\.\d+)?", text)]


def ingredient(name):
    return FormulaIngredient(
        name,
        name,
        is_flour=name.startswith("flour"),
        is_added_liquid=name in ("water", "milk"),
        water_share=Decimal(name == "water"),
    )


def component(amounts, kind=ComponentKind.DOUGH):
    """A component from pairs of a name and grams or percent."""
    lines = tuple(Line(ingredient(name), Decimal(amount)) for name, amount in amounts)
    return FormulaComponent(kind, kind.title(), lines)


def formula(*components):
    return Formula("Example", components, Decimal(1000))


def given(row):
    """Names and amounts of a cell such as `flours 50/20/30, water 70; dough 1400 g`."""
    for words in row["given"].split(";")[0].split(","):
        name, _, amounts = words.strip().rpartition(" ")
        for n, amount in enumerate(amounts.split("/")):
            yield (f"flour {n}" if name == "flours" else name), amount


def masses(sheet):
    return [line.exact_g for part in sheet.components for line in part.lines]


def percents(bread):
    return {line.ingredient.key: line.percent for line in overall(bread)}


def test_the_rows_are_the_ones_compared_here_and_only_f_is_unsound():
    assert list(ROWS) == list("ABCDEFG")
    assert [key for key, row in ROWS.items() if not row["verdict"].startswith("ok")] == ["F"]


def test_row_a_percentages_to_grams_by_dough_mass():
    bread = formula(component(given(ROWS["A"])))
    (dough_g,) = numbers(ROWS["A"]["given"].split("dough")[1])
    flour_g, *line_g = numbers(ROWS["A"]["recomputed"])
    sheet = batch(bread, dough_g)
    assert proportions(bread).total == numbers(ROWS["A"]["expected"])[0]
    assert f"{sum(masses(sheet)[:3]):.3f}" == str(flour_g)
    assert [f"{mass:.2f}" for mass in masses(sheet)] == [str(mass) for mass in line_g]


def test_row_a_published_grams_are_ours_or_one_more_where_they_round_twice():
    bread = formula(component(given(ROWS["A"])))
    published = numbers(ROWS["A"]["expected"].split(";")[1])
    weighed = [line.weighed.grams for line in batch(bread, Decimal(1400)).components[0].lines]
    assert [theirs - ours for theirs, ours in zip(published, weighed, strict=True)] == [
        1,
        0,
        0,
        0,
        0,
        0,
    ]


def test_row_b_the_ingredient_that_runs_out_decides():
    bread = formula(component(given(ROWS["B"])))
    (milk_g,) = numbers(ROWS["B"]["given"].split("only")[1])
    flour_g, dough_g, *line_g = numbers(ROWS["B"]["expected"])
    assert milk_g * 100 / percents(bread)["milk"] == flour_g
    assert bread.dough_g_for_flour(flour_g) == dough_g
    assert masses(batch(bread, dough_g)) == line_g


def test_row_c_works_in_pounds_and_ounces():
    bread = formula(component(pair for pair in given(ROWS["C"])))
    (flour_lb,) = numbers(ROWS["C"]["given"].split(";")[1])
    total, salt_lb, salt_oz = numbers(ROWS["C"]["expected"])[:3]
    flour_g = to_grams(flour_lb, parse_unit("lb"))
    salt_g = masses(batch(bread, bread.dough_g_for_flour(flour_g)))[1]
    assert proportions(bread).total == total
    assert abs(salt_g - to_grams(salt_lb, parse_unit("lb"))) < Decimal("1e-20")
    assert abs(salt_g - to_grams(salt_oz, parse_unit("oz"))) < Decimal("1e-20")


def test_row_d_grams_to_percentages():
    flour_lb, water_lb = numbers(ROWS["D"]["given"])
    bread = formula(component([("flour", flour_lb), ("water", water_lb)]))
    assert [percents(bread)["water"]] == numbers(ROWS["D"]["expected"])


@pytest.fixture
def poolish_bread():
    poolish = [("flour", "468"), ("water", "468"), ("yeast", "0.3")]
    final = [("flour", "900"), ("water", "468"), ("yeast", "9"), ("salt", "27")]
    return formula(component(poolish, ComponentKind.PREFERMENT), component(final))


def test_row_e_is_built_from_the_published_grams(poolish_bread):
    written = [line.mass_g for line in poolish_bread.dough_lines()]
    published = numbers(ROWS["E"]["given"])
    assert written == published[:3] + published[4:8]


def test_row_e_flour_and_water_of_the_poolish_count_toward_the_whole(poolish_bread):
    flour_g, water_g, water, salt, yeast_g, yeast, prefermented, sum_g = numbers(
        ROWS["E"]["recomputed"]
    )
    shown, total = (
        percents(poolish_bread),
        {line.ingredient.key: line.mass_g for line in overall(poolish_bread)},
    )
    assert [total["flour"], total["water"], total["yeast"]] == [flour_g, water_g, yeast_g]
    assert f"{shown['water']:.2f}" == str(water)
    assert f"{shown['salt']:.3f}" == str(salt)
    assert f"{shown['yeast']:.3f}" == str(yeast)
    assert f"{proportions(poolish_bread).prefermented_flour:.2f}" == str(prefermented)
    assert proportions(poolish_bread).hydration == shown["water"]
    assert poolish_bread.dough_g == sum_g


def test_row_e_published_columns_are_of_each_component_own_flour(poolish_bread):
    poolish, final = poolish_bread.components
    published = numbers(ROWS["E"]["expected"])
    own = [line.own_percent for line in component_card(poolish_bread, final)]
    assert component_card(poolish_bread, poolish)[1].own_percent == published[0]
    assert own == published[1:5]
    assert f"{poolish.mass_g * 100 / final.flour_g:.0f}" == str(published[5])


def test_row_f_is_not_reproduced():
    flour_g = Decimal(25_000)
    bread = formula(component([("flour", "100"), ("water", "62")]))
    flour, water = masses(batch(bread, bread.dough_g_for_flour(flour_g)))
    published, recomputed = (
        Decimal(ROWS["F"][column].removesuffix(" g").replace(" ", ""))
        for column in ("expected", "recomputed")
    )
    assert (flour, water) == (flour_g, recomputed)
    assert water != published


def test_row_g_the_glossary():
    flour, water, yeast, salt = numbers(ROWS["G"]["given"])
    bread = formula(
        component([("flour", flour), ("water", water), ("yeast", yeast), ("salt", salt)])
    )
    assert list(percents(bread).values()) == numbers(ROWS["G"]["expected"])
