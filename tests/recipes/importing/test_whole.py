"""What concerns a pasted text as a whole: frame, yield, headings, tables, prose, totals."""

from __future__ import annotations

from decimal import Decimal

import pytest

from recipes.importing.tables.reading import read_head, read_row
from recipes.importing.text.headings import read_heading
from recipes.importing.text.makes import counted_pieces, read_makes, starts_yield, stated_makes
from recipes.importing.text.recipe import read_text
from recipes.importing.whole import doubts
from recipes.importing.whole.asides import is_greeting, is_web, is_work
from recipes.importing.whole.corrections import corrected, is_left_out
from recipes.importing.whole.facts import is_facts
from recipes.importing.whole.prose import in_figures, ingredients_in

DOUGH = "500 g bread flour\n350 g water\n10 g table salt\n"
METHOD = "Method\nMix for 10 minutes.\nBake at 230 °C for 30 minutes.\n"


def kinds(read):
    return [doubt.kind for doubt in read.doubts]


def masses(read):
    return {
        part.name: [(line.ingredient.key, line.mass_g) for line in part.lines]
        for part in read.written.parts
    }


@pytest.mark.parametrize(
    "text",
    [
        "Rolls\n\nKnead 10 minutes. Rise 1 hour. Bake 30 minutes at 220 °C.\n\n" + DOUGH,
        "Rolls\n\n" + DOUGH + "\nNotes\nKnead 10 minutes. Rise 1 hour. Bake 30 minutes at 220 °C.",
    ],
)
def test_a_method_above_the_ingredients_or_in_the_notes_is_read(book, text):
    read = read_text(text, book)
    assert [step.kind for step in read.written.steps] == ["mix", "bulk", "bake"]
    assert (read.written.summary, read.written.note) == ("", "")


# --- the frame --------------------------------------------------------------------------------


def test_what_stands_around_a_letter_is_left_out_and_listed(book):
    text = (
        "Dear Jo,\nMy roll, at last.\nRolls\nMakes 8 rolls\n" + DOUGH + METHOD
        + "Let them cool for 20 minutes.\nLots of love,\nMay\nPS The key is under the mat."
    )  # fmt: skip
    read = read_text(text, book)
    left = [rest.text for rest in read.left_over]
    assert {"Dear Jo,", "Lots of love,", "May", "PS The key is under the mat."} <= set(left)
    assert [step.kind for step in read.written.steps] == ["mix", "bake", "cool"]


def test_what_stands_around_a_page_is_left_out_and_listed(book):
    text = (
        "Home   Breads   About   Search\nRolls\nJump to recipe   Print   Save\n"
        "Prep 30 min | Rising 2 hrs | Makes 15 rolls\nIngredients\n" + DOUGH + METHOD
        + "2 comments\nWren: I gave mine 40 minutes at 180 °C.\nYou may also like: Flats · Rings"
    )  # fmt: skip
    read = read_text(text, book)
    assert (read.written.title, read.written.pieces) == ("Rolls", 15)
    assert [rest.text for rest in read.left_over] == [
        "Home Breads About Search",
        "Jump to recipe Print Save",
        "2 comments",
        "Wren: I gave mine 40 minutes at 180 °C.",
        "You may also like: Flats · Rings",
    ]
    assert [step.kind for step in read.written.steps] == ["mix", "bake"]


def test_a_story_before_the_recipe_is_no_title_and_no_method(book):
    text = (
        "A cold breakfast\nOne March we had no heating, and my girl took the 7:15 train for two "
        "days. She let it stand.\nPorridge Loaf\nMakes 2 loaves\n" + DOUGH + METHOD
    )  # fmt: skip
    read = read_text(text, book)
    assert read.written.title == "Porridge Loaf"
    assert len(read.left_over) == 2
    assert len(read.written.steps) == 2


@pytest.mark.parametrize(("text", "told"), [
    ("Home   Breads   Buns & Rolls   About", True), ("Jump to the comments | Print", True),
    ("★★★★☆ 4.6 from 38 votes", True), ("Did you make this? Tell us!", True),
    ("Bread flour | 300 g | 30%", False), ("Mix, then print the date on the bag", False),
    ("500 g bread flour", False), ("Rolls", False), ("Buns", False),
])  # fmt: skip
def test_links_and_menus_are_told_from_lines(text, told):
    assert is_web(text) is told


@pytest.mark.parametrize(("text", "told"), [
    ("Hi Anna,", True), ("hiya its jo from the allotment", True), ("Highland loaf", False),
    ("Dear Bread: a memoir of flour " * 5, False),
])  # fmt: skip
def test_greetings_are_told_from_titles(text, told):
    assert is_greeting(text) is told


@pytest.mark.parametrize(("text", "told"), [
    ("Bake at 230 °C for 30 minutes.", True), ("40 mins more under a tea towel", True),
    ("oven 200 or 180 fan for 18 mins", True), ("Brush while hot.", True),
    ("13:45 - 15:00  Bulk at 25 °C", True), ("see you sunday x", False),
    ("Good with baked beans.", False), ("Can be frozen for a month.", False),
    ("The next meeting is on the 14th at 7.30 in the hall.", False), ("Margaret", False),
])  # fmt: skip
def test_work_is_told_from_talk(text, told):
    assert is_work(text) is told


# --- the yield --------------------------------------------------------------------------------


@pytest.mark.parametrize(("text", "pieces", "name", "piece_g"), [
    ("Makes 12 loaves at about 840 g", 12, "loaf", 840), ("Makes 13 at 285 g", 13, "", 285),
    ("Yield: 24 pcs @ 650 g", 24, "pcs", 650), ("For two 2 lb tins", 2, "tin", None),
    ("For 18 pieces at 74 g", 18, "piece", 74), ("Makes 1 loaf | 12 slices", 1, "loaf", None),
])  # fmt: skip
def test_a_line_of_yield(text, pieces, name, piece_g):
    assert starts_yield(text)
    made = read_makes(text)
    assert (made.pieces, made.piece_name, made.piece_g) == (pieces, name, piece_g)


@pytest.mark.parametrize(("text", "pieces", "piece_g"), [
    ("It makes one 2 lb tin.", 1, None), ("one batch makes 12 rolls of 72 g", 12, 72),
    ("44 rolls at 6 oz (170 g)", 44, 170), ("for Bram (5 x 340)", 5, 340),
    ("scaled 10 x 700 g", 10, 700), ("makes one loaf of 860 g dough", 1, 860),
])  # fmt: skip
def test_a_yield_inside_a_sentence(text, pieces, piece_g):
    made = stated_makes(text)
    assert (made.pieces, made.piece_g) == (pieces, piece_g)


@pytest.mark.parametrize(
    "text", ["2 x 7g sachets yeast", "mix 5 x 20 g of salt", "Bake 2 loaves for 30 minutes"]
)
def test_a_number_in_a_sentence_is_no_yield(text):
    assert stated_makes(text) is None
    assert counted_pieces("A soft loaf for the week.") is None


def test_pieces_and_lines_that_do_not_agree_are_asked_about(book):
    read = read_text(f"Buns\nMakes 11 buns of 58 g\n{DOUGH}{METHOD}", book)
    assert doubts.YieldAndLines(11, Decimal(58), Decimal(860)) in read.doubts
    agreed = read_text(f"Buns\nMakes 10 buns of 86 g\n{DOUGH}{METHOD}", book)
    assert "YieldAndLines" not in kinds(agreed)


def test_pieces_of_the_method_count_with_a_doubt(book):
    read = read_text(f"Buns\n{DOUGH}Method\nMix it well.\nShape into 8 balls and bake.", book)
    assert read.written.pieces == 8
    assert "PiecesGuessed" in kinds(read)


# --- facts ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("text", "field", "value"), [
    ("DDT 24 C", "dough_temperature_c", 24), ("Dough temp 25C", "dough_temperature_c", 25),
    ("DDT 78°F", "dough_temperature_c", Decimal("25.6")),
    ("Dough temperature we aim for: 25 °C.", "dough_temperature_c", 25),
    ("Loses 12 %.", "bake_loss_percent", 12), ("Bake loss 13 %", "bake_loss_percent", 13),
])  # fmt: skip
def test_a_fact_goes_into_its_field(text, field, value, book):
    before = read_text(f"Bread\n{text}\n{DOUGH}{METHOD}", book)
    behind = read_text(f"Bread\n{DOUGH}{METHOD}{text}", book)
    assert getattr(before.written, field) == getattr(behind.written, field) == value
    assert len(before.written.steps) == len(behind.written.steps) == 2


@pytest.mark.parametrize(("text", "told"), [
    ("Prep: 25 min | Rise: 1 hr 45 min | Bake: 20 min | Yield: 15 rolls", True),
    ("DDT 25 C     PFF 15 %", True), ("Prep time: 20 min", True), ("Bake 30 min", False),
    ("Bake 20 min | then turn", False), ("500 g flour", False),
])  # fmt: skip
def test_a_line_of_facts(text, told):
    assert is_facts(text) is told


# --- headings ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("text", "kind", "name"), [
    ("Levain build", "preferment", "Levain build"), ("RYE SOUR  (14 h at 26 C)", "preferment",
     "Rye sour"), ("For the filling:", "filling", "Filling"), ("For brushing", "wash", "Brushing"),
    ("For the fruit, the night before:", "soaker", "Fruit, the night before"),
    ("Predough:", "preferment", "Predough"),
])  # fmt: skip
def test_a_heading_opens_a_part(text, kind, name):
    heading = read_heading(text)
    assert (heading.kind, heading.name) == (kind, name)


@pytest.mark.parametrize("text", ["DAY TWO", "Day 1", "DRY", "Wet ingredients:", "Saturday"])
def test_a_day_or_a_group_opens_no_part(text, book):
    read = read_text(f"Bread\n{DOUGH}{text}\n20 g honey\n{METHOD}", book)
    assert [(part.kind, len(part.lines)) for part in read.written.parts] == [("dough", 4)]
    assert len(read.written.steps) == 2


@pytest.mark.parametrize(("name", "line", "kind"), [
    ("For the top", "20 g honey\n30 g butter", "wash"), ("TOP", "40 g sesame seeds", "topping"),
    ("Topping", "30 g butter\n50 g sugar", "topping"),
])  # fmt: skip
def test_what_goes_on_top_is_brushed_or_strewn_by_what_it_is(name, line, kind, book):
    read = read_text(f"Bread\n{DOUGH}{name}\n{line}\n{METHOD}", book)
    assert read.written.parts[1].kind == kind


def test_a_list_behind_a_heading_is_its_lines_and_its_time_a_step(book):
    text = f"Sticks\nPoolish: 250 bread flour, 250 water. Leave 12 h at 20 C.\nDough:\n{DOUGH}"
    read = read_text(text + METHOD, book)
    assert masses(read)["Poolish"] == [("bread-flour", 250), ("water", 250)]
    assert {doubt.kind for doubt in read.lines[0].doubts} == {"TakenAsGrams"}
    assert read.written.steps[0].waiting_min == 720


# --- tables -----------------------------------------------------------------------------------

TABLE = """Loaf
Makes 10 loaves at 900 g

Total formula
Ingredient\t%\tkg
Bread flour\t100\t5.0
Water\t78\t3.9
Salt\t2\t0.1
Total\t180\t9.0

Poolish
Bread flour\t100\t1.0
Water\t100\t1.0

Final dough
Bread flour\t4.0
Water\t2.9
Salt\t0.1
Poolish\t2.0
"""


def test_tables_are_read_by_their_head_and_the_total_is_no_part(book):
    read = read_text(TABLE + METHOD, book)
    assert masses(read) == {
        "Poolish": [("bread-flour", 1000), ("water", 1000)],
        "Final dough": [("bread-flour", 4000), ("water", 2900), ("table-salt", 100)],
    }
    assert kinds(read) == []


@pytest.mark.parametrize(("old", "new", "kind"), [
    ("Water\t2.9", "Water\t2.5", "TotalDisagrees"),
    ("Total\t180\t9.0", "Total\t180\t9.5", "TotalDisagrees"),
    ("Poolish\t2.0", "Poolish\t1.5", "PartTakenOtherwise"),
    ("10 loaves at 900 g", "11 loaves at 900 g", "YieldAndLines"),
])  # fmt: skip
def test_tables_that_do_not_agree_are_asked_about(old, new, kind, book):
    assert old in TABLE
    assert kind in kinds(read_text(TABLE.replace(old, new) + METHOD, book))


def test_a_percentage_that_does_not_fit_its_mass_is_doubted(book):
    read = read_text(TABLE.replace("Water\t78\t3.9", "Water\t68\t3.9") + METHOD, book)
    assert "Poolish" in masses(read)
    alone = TABLE.partition("\nPoolish")[0].replace("Water\t78\t3.9", "Water\t68\t3.9")
    water = read_text(alone + METHOD, book).lines[1]
    assert "AmountsDisagree" in {doubt.kind for doubt in water.doubts}


PERCENTS = "                 %\nBread flour    100.0\nWater           73.0\nSalt   2.0\n"


@pytest.mark.parametrize(("head", "grams", "doubt"), [
    ("Total dough 3.5 kg", Decimal(2000), None), ("10 loaves at 350 g", Decimal(2000),
     "WorkedOutByPercent"), ("10 loaves", None, "OnlyPercent"),
])  # fmt: skip
def test_percentages_alone_need_a_total_or_a_yield(head, grams, doubt, book):
    flour = read_text(f"Rye\n{head}\n{PERCENTS}{METHOD}", book).lines[0]
    assert flour.written.mass_g == grams
    assert [one.kind for one in flour.doubts] == ([doubt] if doubt else [])


def test_columns_of_parts_and_empty_cells():
    head = read_head("Ingredient\tTotal %\tBiga g\tFinal dough g")
    row = read_row("Salt\t2\t\t40", head)
    assert [(column.label, value) for column, value in row.numbers] == [
        ("Total", 2),
        ("Final dough", 40),
    ]
    spaced = read_head("Item            %        g        lb")
    row = read_row("Water          58.0     2320     5.11", spaced)
    assert [value for _, value in row.numbers] == [58, 2320, Decimal("5.11")]
    assert read_row("Lard                    1,600", spaced).numbers[0][1] == 1600


@pytest.mark.parametrize(
    "text", ["500 g", "    500 g", "Bread flour   5 kg", "Salt", "Ingredients"]
)
def test_what_is_no_head_of_a_table(text):
    assert read_head(text) is None


# --- prose ------------------------------------------------------------------------------------


def test_ingredients_in_sentences_become_lines(book):
    text = (
        "Old loaf\nTake 500 g of strong flour and 50 g of rye flour, rub in 20 g of butter, then "
        "add 340 ml of water. Knead for ten minutes, put it into a 2 lb tin and let it rise for "
        "1 hour. Bake at 220 °C for 40 minutes."
    )  # fmt: skip
    read = read_text(text, book)
    assert masses(read)["Dough"] == [
        ("bread-flour", 500),
        ("rye-flour", 50),
        ("butter", 20),
        ("water", 340),
    ]


def test_amounts_in_a_method_with_a_list_are_no_further_lines(book):
    read = read_text(f"Bread\n{DOUGH}Method\nMix 300 g of the water in for 5 minutes.", book)
    assert len(read.lines) == 3


@pytest.mark.parametrize(("text", "figures"), [
    ("five hundred grams", "500 grams"), ("Three hundred and fifty of water", "350 of water"),
    ("thirty-five minutes", "35 minutes"), ("one of two", "one of two"),
])  # fmt: skip
def test_numbers_in_words_become_figures(text, figures):
    assert in_figures(text) == figures


def test_a_tin_or_a_piece_is_no_ingredient(book):
    text = "Divide into pieces of 60 g dough for a 2 lb loaf tin and roll to 40 cm."
    assert list(ingredients_in(text, book)) == []


# --- corrections ------------------------------------------------------------------------------


@pytest.mark.parametrize(("text", "now", "dropped"), [
    ("water ~~360 g~~ 390 g", "water 390 g", "360 g"),
    ("salt 10 g - no, make that 12 g", "salt 12 g", "10 g"), ("salt 10 g", "salt 10 g", ""),
])  # fmt: skip
def test_a_line_that_corrects_itself(text, now, dropped):
    assert corrected(text) == (now, dropped)


def test_a_line_that_no_longer_counts_is_listed(book):
    assert is_left_out("1 tbsp honey crossed out")
    read = read_text(f"Bread\n{DOUGH}20 g honey, leave it out\n{METHOD}", book)
    assert [rest.text for rest in read.left_over] == ["20 g honey, leave it out"]


# --- the net ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("step", "found"), [
    ("Brush with 60 g honey and bake.", ["60 g honey"]),
    ("Make a brine of 60 g water and 5 g salt.", ["60 g water", "5 g salt"]),
    ("Mix 300 g of the water in.", []), ("Add the last 100 g water.", []),
    ("Add 500 g bread flour.", []), ("Divide into pieces of 60 g dough.", []),
    ("Put it into a 2 lb tin.", []),
])  # fmt: skip
def test_an_amount_that_no_line_holds_is_asked_about(step, found, book):
    read = read_text(f"Bread\n{DOUGH}Method\nMix it for 10 minutes.\n{step}", book)
    assert [one.text for one in read.doubts if one.kind == "NotRead"] == found


def test_a_part_without_lines_is_asked_about(book):
    read = read_text(f"Buns\n{DOUGH}Filling:\nGlaze:\n20 g honey\n{METHOD}", book)
    assert doubts.EmptyPart("Filling") in read.doubts
    assert [part.kind for part in read.written.parts] == ["dough", "wash"]


def test_a_list_behind_a_piece_of_method_goes_on_with_ingredients(book):
    text = f"Bread\nEvening, levain\n50 g rye flour\n50 g water\nStir, leave 12 h.\nThen\n{DOUGH}"
    read = read_text(text + METHOD, book)
    assert [len(part.lines) for part in read.written.parts] == [2, 3]
    assert [part.kind for part in read.written.parts] == ["preferment", "dough"]


@pytest.mark.parametrize("line", ["Levain", "Levain (all)", "all of the levain", "100 g levain"])
def test_a_line_that_takes_a_part_opens_none(line, book):
    text = (
        f"Bread\nMakes 2 loaves\nLevain\n50 g rye flour\n50 g water\nDough\n{line}\n{DOUGH}{METHOD}"
    )
    read = read_text(text, book)
    assert [len(part.lines) for part in read.written.parts] == [2, 3]
    assert kinds(read) == []


# --- other wordings ---------------------------------------------------------------------------


def test_a_preferment_told_in_a_sentence_is_a_part(book):
    text = (
        "Loaf\nThe evening before I make a biga with 300 g bread flour and 180 g water, which "
        "sits for 14 hours. Next day I add 900 g bread flour and 650 g water and knead for 12 "
        "minutes. It bakes at 235 °C for 40 minutes."
    )  # fmt: skip
    assert masses(read_text(text, book)) == {
        "Biga": [("bread-flour", 300), ("water", 180)],
        "Dough": [("bread-flour", 900), ("water", 650)],
    }


def test_a_head_of_columns_may_name_the_part(book):
    text = f"Rings\nDOUGH       g      %\nstrong flour   1100   100\nwater   630    57.3\n{METHOD}"
    read = read_text(text, book)
    assert masses(read) == {"Dough": [("bread-flour", 1100), ("water", 630)]}


def test_groups_on_one_line_each_are_lines_of_the_dough(book):
    groups = "Dry: 350g bread flour, 1 tsp table salt\nWet: 400ml buttermilk, 20 g honey\n"
    read = read_text(f"Soda\n{groups}{METHOD}", book)
    keys = [line.ingredient.key for part in read.written.parts for line in part.lines]
    assert keys == ["bread-flour", "table-salt", "buttermilk", "honey"]


def test_a_heading_of_no_known_part_without_flour_is_a_doubted_filling(book):
    read = read_text(f"Loaf\nDough:\n{DOUGH}Ribbon:\n40 g butter\n80 g brown sugar\n{METHOD}", book)
    assert [part.kind for part in read.written.parts] == ["dough", "filling"]
    told = [{doubt.kind for doubt in line.doubts} for line in read.lines]
    assert ["PartGuessed" in one for one in told] == [False] * 3 + [True] * 2


def test_the_head_of_an_e_mail_and_letters_of_steps_are_nothing_of_the_recipe(book):
    text = f"From: Oskar\nTo: a list\nLoaf\n{DOUGH}Method:\nA. Mix for 10 min.\nB. Bake 30 min."
    read = read_text(text, book)
    assert read.written.title == "Loaf"
    assert [step.text for step in read.written.steps] == ["Mix for 10 min.", "Bake 30 min."]


@pytest.mark.parametrize(("text", "pieces", "piece_g"), [
    ("yield 20 pcs / 95 g", 20, 95), ("Rosemary Flatbread (makes four)", 4, None),
    ("16 baguettes x 330 g dough", 16, 330), ("(für 2 Brote zu je 1 kg)", 2, 1000),
])  # fmt: skip
def test_a_yield_in_other_words(text, pieces, piece_g):
    made = stated_makes(text)
    assert (made.pieces, made.piece_g) == (pieces, piece_g)


def test_bare_numbers_of_a_list_are_grams_with_a_doubt_and_counted_things_are_not(book):
    read = read_text(f"Flat\n500 bread flour, 325 water, 10 table salt, 2 eggs\n{METHOD}", book)
    assert [(line.match.key, line.written.mass_g) for line in read.lines] == [
        ("bread-flour", 500), ("water", 325), ("table-salt", 10), ("egg", 100),
    ]  # fmt: skip
    asked = ["TakenAsGrams" in {doubt.kind for doubt in line.doubts} for line in read.lines]
    assert asked == [True, True, True, False]


def test_a_list_and_its_work_in_one_paragraph_begin_the_dough_that_takes_the_rest(book):
    text = (
        "Loaf\n~ Day one, 18:00 ~\nFeed: 40 g rye flour + 40 g water. Leave at 24 °C for 5 hours.\n"
        "All the feed, 420 g bread flour, 355 g water. Mix 4 minutes.\nBake it at 230 °C for 1 h."
    )  # fmt: skip
    read = read_text(text, book)
    assert [(part.kind, len(part.lines)) for part in read.written.parts] == [
        ("preferment", 2),
        ("dough", 2),
    ]
    assert read.written.steps[0].waiting_min == 300
    assert read.written.steps[1].hands_on_min == 4


def test_lines_behind_a_preferments_step_are_of_the_dough(book):
    text = f"Loaf\nPoolish\n100 g bread flour\n100 g water\nStir it and leave 12 hours.\n{DOUGH}"
    read = read_text(text + METHOD, book)
    assert [(part.kind, len(part.lines)) for part in read.written.parts] == [
        ("preferment", 2),
        ("dough", 3),
    ]


def test_lists_side_by_side_are_read_one_behind_the_other(book):
    text = (
        "Flat\nFOR THE DOUGH           FOR THE TOP\n500 g bread flour       2 tbsp honey\n"
        "400 g water             40 g sesame seeds\n10 g table salt\n\n"
    )  # fmt: skip
    read = read_text(text + METHOD, book)
    assert [(part.kind, len(part.lines)) for part in read.written.parts] == [
        ("dough", 3),
        ("topping", 2),
    ]
    assert [line.place.first for line in read.lines] == [3, 4, 5, 3, 4]


def test_names_with_bare_numbers_behind_them_are_a_list(book):
    read = read_text(f"Tins\nflour 5000 (strong)\nwater 3100\nlard 100\n{METHOD}", book)
    assert masses(read) == {"Dough": [("bread-flour", 5000), ("water", 3100), ("lard", 100)]}
    assert all("TakenAsGrams" in {doubt.kind for doubt in line.doubts} for line in read.lines)


def test_a_line_behind_the_method_goes_into_its_part(book):
    read = read_text(f"Loaf\n{DOUGH}{METHOD}For sprinkling: powdered sugar 50 g.", book)
    assert [part.kind for part in read.written.parts] == ["dough", "topping"]
    assert len(read.written.steps) == 2


# --- titles and yields ------------------------------------------------------------------------


@pytest.mark.parametrize(("head", "title", "guessed"), [
    ("PRODUCTION SHEET - Burger buns, brioche type", "Burger buns, brioche type", False),
    ("Recipe card: Seeded rye", "Seeded rye", False),
    ("Recipe: Seeded rye", "Seeded rye", False),
    ("Sunflower rolls / 30 pieces at 95 g", "Sunflower rolls", False),
    ("Dark rye, three-loaf batch (one loaf in all columns)", "Dark rye", False),
    ("Focaccia, Fri, 6 trays of 700 g", "Focaccia", False),
    ("Evening course, session 3\nBaguettes with poolish", "Baguettes with poolish", True),
    ("Baguettes with poolish\nEvening course, session 3", "Baguettes with poolish", False),
    ("Evening course, session 3", "Evening course, session 3", False),
])  # fmt: skip
def test_a_title_is_without_what_stands_around_it_and_asks_if_it_is_one_of_several(
    head, title, guessed, book
):
    read = read_text(f"{head}\n\n{DOUGH}{METHOD}", book)
    assert read.written.title == title
    assert ("TitleGuessed" in kinds(read)) is guessed


@pytest.mark.parametrize(("text", "pieces", "piece_g"), [
    ("We do six at a time at 850 g, they sell out before ten.", 6, "850"),
    ("Two loaves, about 950 g of dough each", 2, "950"),
    ("Scale off 6 pieces at 1 lb 2 oz and round up.", 6, "510.29"),
    ("gives 8 stollen of 500g", 8, "500"), ("enough for 10 baguette rolls", 10, None),
    ("One full tray (60 x 40)", None, None), ("tin loaf, 9 x 5", None, None),
    ("24 x 900", 24, "900"), ("ROLLS x 40", 40, None), ("for boiling: 2 l water", None, None),
])  # fmt: skip
def test_a_count_with_what_one_weighs_and_no_measure_of_a_tray(text, pieces, piece_g):
    made = stated_makes(text)
    found = (made.pieces, made.piece_g) if made else (None, None)
    assert found == (pieces, piece_g and pytest.approx(Decimal(piece_g), abs=Decimal("0.01")))


def test_the_method_says_what_a_piece_of_the_stated_yield_weighs(book):
    text = f"Pita\nMakes: 10\n{DOUGH}Method\nMix it. Divide into 10 balls of 84 grams. Bake."
    read = read_text(text, book)
    assert (read.written.pieces, read.written.piece_g) == (10, 84)
    other = read_text(text.replace("Makes: 10", "Makes: 12"), book)
    assert (other.written.pieces, other.written.piece_g) == (12, None)


def test_what_the_text_does_not_say_of_the_whole_is_asked(book):
    read = read_text(f"{DOUGH}{METHOD}", book)
    assert [doubt.what for doubt in read.doubts] == ["title", "pieces"]
