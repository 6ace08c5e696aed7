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


PARTS = "            Poolish   Dough   Topping"
MATRIX = "Bread flour 200 g     400 g   -\nWater       200 g     -       -\nOats  -  -  30 g"


@pytest.mark.parametrize("table", [
    f"{PARTS}\n{MATRIX}",
    "Ingredient\tPoolish\tDough\tTopping\nBread flour\t200\t400\t\nWater\t200\t\t\nOats\t\t\t30",
    "Part\tIngredient\tg\nPoolish\tBread flour\t200\n\tWater\t200\nDough\tBread flour\t400\n"
    "Topping\tOats\t30",
])  # fmt: skip
def test_a_table_may_have_its_parts_in_columns_or_name_them_row_by_row(table, book):
    read = read_text(f"Loaf\n\n{table}\n{METHOD}", book)
    found = {
        (read.written.parts[line.part].kind.value, line.match.key, line.written.mass_g)
        for line in read.lines
    }
    assert found == {
        ("preferment", "bread-flour", 200), ("preferment", "water", 200),
        ("dough", "bread-flour", 400), ("topping", "rolled-oats", 30),
    }  # fmt: skip


def test_a_table_may_have_a_column_for_each_ingredient(book):
    table = "\tRye flour\tBread flour\tWater\tTable salt\nGrams\t300\t150\t310\t10"
    assert masses(read_text(f"Loaf\n\n{table}\n{METHOD}", book)) == list(ROWS.values())


@pytest.mark.parametrize(("row", "pieces", "piece_g"), [
    ("Spelt tin\tLoaves\t8\tUnit weight\t760", 8, 760),
    ("| Spelt tin | 8 pcs | 760 g each |", 8, 760),
    ("Spelt tin   8 pc @ 760g", 8, 760), ("Scaling 760 g, 8 loaves", 8, 760),
])  # fmt: skip
def test_a_yield_may_be_in_the_cells_of_a_row(row, pieces, piece_g, book):
    read = read_text(f"{row}\n\nSpelt flour\t4000 g\nWater\t2080 g\n{METHOD}", book).written
    assert (read.pieces, read.piece_g) == (pieces, piece_g)


def test_a_table_of_work_has_its_units_in_its_head(book):
    table = "Step\tProcess\tTime (min)\tTemp (C)\n1\tMix\t10\t\n2\tBulk\t40\t27\n3\tBake\t16\t220"
    read = read_text(f"Loaf\n\n500 g bread flour\n300 g water\n\n{table}\n", book)
    assert [(one.kind.value, one.hands_on_min, one.waiting_min) for one in read.written.steps] == [
        ("mix", 10, 0), ("bulk", 0, 40), ("bake", 0, 16),
    ]  # fmt: skip
    assert len(read.lines) == 2


@pytest.mark.parametrize(("row", "read_as"), [
    ("10 g salt / 3 g yeast", [10, 3]), ("100 g rye flour 60 g walnuts", [100, 60]),
    ("Mehl / flour 500 g", [500]), ("1.250 g water", [1250]), ("🥣 250 g water", [250]),
    ("five hundred grams of water", [500]), ("Baking soda ..... 60 g", [60]),
])  # fmt: skip
def test_pairs_languages_pictures_and_words_on_a_row(row, read_as, book):
    read = read_text(f"Loaf\n\n440 g bread flour\n{row}\n{METHOD}", book)
    assert masses(read)[1:] == read_as
    assert all(line.match.key for line in read.lines)


def test_an_amount_behind_a_name_that_no_line_has_is_asked_about(book):
    work = "Mix for 10 minutes. Sesame seeds: 25 g. Bake at 230 °C for 30 minutes."
    read = read_text(f"Loaf\n\n440 g bread flour\n300 g water\n\nMethod\n{work}\n", book)
    told = [one.text for one in read.doubts if one.kind == "NotRead"]
    assert told == ["25 g. Sesame seeds"]
