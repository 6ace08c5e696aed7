"""Lists in columns and without units: batches, percentages, one unit for all."""

from __future__ import annotations

import pytest

from recipes.importing.text.recipe import read_text
from recipes.importing.whole.looks import is_by_clock

METHOD = "\nMethod\nMix for 10 minutes. Bake at 230 °C for 30 minutes.\n"
ROWS = {"Rye flour": 300, "Bread flour": 150, "Water": 310, "Table salt": 10}


def masses(read):
    return [line.written.mass_g for line in read.lines]


def doubted(read, kind):
    return [kind in {one.kind for one in line.doubts} for line in read.lines]


def columns(times, gap="     "):
    return "\n".join(
        gap.join([name, *(f"{grams * one} g" for one in times)]) for name, grams in ROWS.items()
    )


@pytest.mark.parametrize("head", ["            x1     x3", "Ingredient\t1 loaf\t3 loaves", ""])
@pytest.mark.parametrize("gap", ["     ", "\t", " / "])
@pytest.mark.parametrize(("makes", "taken"), [
    ("Makes 3 tins of 770 g", 3), ("Makes 1 tin of 770 g", 1), ("", None),
])  # fmt: skip
def test_of_columns_for_several_batches_the_yield_says_which(head, gap, makes, taken, book):
    read = read_text(f"Rye\n{makes}\n\n{head}\n{columns((1, 3), gap)}\n{METHOD}", book)
    assert masses(read) == [grams * (taken or 1) for grams in ROWS.values()]
    assert doubted(read, "OtherBatch") == [taken is None] * 4
    assert not any(doubted(read, "AmountsDisagree"))


def test_amounts_that_disagree_each_in_its_own_way_are_no_batches(book):
    rows = "Rye flour 300 g / 900 g\nBread flour 150 g / 160 g\nWater 310 g / 400 g\n"
    read = read_text(f"Rye\n{rows}{METHOD}", book)
    assert masses(read) == [300, 150, 310]
    assert doubted(read, "AmountsDisagree") == [True] * 3


BARE = "Rye flour 12\nBread flour 8\nWater 14\nTable salt 0.4\n"


@pytest.mark.parametrize(("said", "grams", "asks"), [
    ("All weights in kg", [12000, 8000, 14000, 400], False),
    ("Quantities in grams", [12, 8, 14, None], False),
    ("", [None] * 4, None),
])  # fmt: skip
def test_a_unit_named_once_is_that_of_all_numbers(said, grams, asks, book):
    read = read_text(f"Rye\n{said}\n\nIngredients\n{BARE}{METHOD}", book)
    assert masses(read)[:3] == grams[:3]
    assert doubted(read, "NoUnit") == [asks is None] * 4
    assert not any(doubted(read, "TakenAsGrams"))


@pytest.mark.parametrize(("makes", "grams", "kind"), [
    ("Makes 2 loaves of 177 g", [160, 40, 150, 4], "WorkedOutByPercent"),
    ("Makes 1 loaf of 177 g", [80, 20, 75, 2], "TakenAsGrams"),
    ("Makes 2 loaves", [None] * 4, "OnlyPercent"),
])  # fmt: skip
def test_bare_numbers_whose_flours_add_to_100_are_percentages(makes, grams, kind, book):
    rows = "Bread flour 80\nRye flour 20\nWater 75\nTable salt 2\n"
    read = read_text(f"Rye\n{makes}\n\n{rows}{METHOD}", book)
    assert masses(read) == grams
    assert doubted(read, kind) == [True] * 4


def test_percentages_of_a_stated_flour_are_worked_out_with_a_doubt(book):
    rows = "Flour 100%\nWater 66%\nTable salt 2%\n"
    read = read_text(f"Formula (10 kg flour)\n\n{rows}{METHOD}", book)
    assert masses(read) == [10000, 6600, 200]
    assert doubted(read, "WorkedOutByPercent") == [True] * 3


@pytest.mark.parametrize("rows", [
    "flour 500, yogurt 150, water 160, table salt 9\n",
    "500\tg\tflour\n150\tg\tyogurt\n160\tg\twater\n9\tg\ttable salt\n",
    "| flour | 500 | g |\n| yogurt | 150 | g |\n| water | 160 | g |\n| table salt | 9 | g |\n",
    "Flour\t500\t100%\nYogurt\t150\t30%\nWater\t160\t32%\nTable salt\t9\t1.8%\nTotal\t819\n",
    "flour 0.5 kg, yogurt 150, water 160 g, table salt 9.\n",
    "Flat dough: Flour (500 g), yogurt (150 g), water (160 g), table salt (9 g)\n",
    "Dough: flour 500 g, yogurt 150 g, water 160 g, table salt 9 g\n",
    "Flour.......500\nYogurt......150\nWater..160\nTable salt....9\n",
    "500 flour\n150 yogurt\n160 water\n9 table salt\n",
])  # fmt: skip
def test_rows_of_names_and_numbers_in_any_order(rows, book):
    read = read_text(f"Flat\n\n{rows}{METHOD}", book)
    assert [line.match.key for line in read.lines[1:]] == ["yogurt", "water", "table-salt"]
    assert masses(read) == [500, 150, 160, 9]


def test_a_total_under_bare_rows_is_compared_with_them(book):
    read = read_text(f"Flat\n\nFlour 500\nWater 300\nTotal 900\n{METHOD}", book)
    assert masses(read) == [500, 300]
    assert [one.said_g for one in read.doubts if one.kind == "TotalDisagrees"] == [900]


@pytest.mark.parametrize("line", ["08:10 Mix", "Sat 8 am   Add the flour", "Fri 21:00 - feed it"])
def test_a_line_by_the_clock_may_name_its_day(line):
    assert is_by_clock(line)


def test_what_is_drunk_and_not_on_the_list_weighs_as_water_with_a_doubt(book):
    read = read_text(f"Flat\n500 g flour\n80 ml strong tea\n80 ml green stuff\n{METHOD}", book)
    assert masses(read) == [500, 80, None]
    assert doubted(read, "TakenLikeWater") == [False, True, False]
