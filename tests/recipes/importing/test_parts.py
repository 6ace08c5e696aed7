"""Which part of a recipe a line belongs to, and what kind of part that is."""

from __future__ import annotations

import pytest

from recipes.importing.text.recipe import read_text

DOUGH = "500 g bread flour\n325 g water\n10 g table salt\n"
METHOD = "\nMethod\nMix for 10 minutes. Bake at 230 °C for 30 minutes.\n"


def kinds(read):
    """Each part's kind with how many lines it has, and whether its lines are said to be a guess."""
    guessed = {
        line.part for line in read.lines if "PartGuessed" in {one.kind for one in line.doubts}
    }
    return [
        (part.kind.value, len(part.lines), n in guessed)
        for n, part in enumerate(read.written.parts)
    ]


@pytest.mark.parametrize(("heading", "lines", "kind", "guessed"), [
    ("Icing", "100 g icing sugar\n15 g whole milk", "topping", False),
    ("Topping", "1 egg\n20 g sesame seeds", "topping", False),
    ("For the top", "80 g cheddar, grated", "topping", False),
    ("On top", "200 g black olives\n60 g olive oil", "topping", False),
    ("For the top", "1 egg\n15 g whole milk", "wash", False),
    ("To finish", "1 egg yolk\n30 g flaked almonds", "wash", True),
    ("For the top", "30 g butter\n20 g honey", "wash", True),
    ("To fold in", "150 g walnuts\n100 g raisins", "dough", False),
    ("Add-ins", "150 g walnuts", "dough", False),
    ("Fruity bits", "150 g raisins", "dough", True),
    ("Ribbon", "40 g butter\n80 g brown sugar", "filling", True),
    ("Swirl", "40 g butter\n80 g brown sugar", "filling", False),
    ("Ears", "40 g bread flour\n20 g water", "dough", True),
    ("Lye", "1000 g water", "wash", False),
])  # fmt: skip
def test_a_part_is_what_its_heading_says_and_a_guess_is_doubted(
    heading, lines, kind, guessed, book
):
    read = read_text(f"Buns\nDough:\n{DOUGH}{heading}:\n{lines}\n{METHOD}", book)
    assert kinds(read) == [("dough", 3, False), (kind, len(lines.splitlines()), guessed)]


@pytest.mark.parametrize(("work", "kind"), [
    ("Roll it out, spread the nuts over it and roll it up.", "filling"),
    ("Sprinkle with the nuts.", "topping"),
    ("Knead the nuts in.", "dough"),
])  # fmt: skip
def test_the_method_says_where_a_part_of_another_name_goes(work, kind, book):
    method = f"Method\nMix for 10 minutes. {work} Bake at 230 °C for 30 minutes.\n"
    read = read_text(f"Buns\nDough:\n{DOUGH}Nutty part:\n150 g walnuts\n{method}", book)
    assert kinds(read) == [("dough", 3, False), (kind, 1, True)]


BIGA = "Biga:\n400 g bread flour\n220 g water\n"


@pytest.mark.parametrize("reference", ["the biga", "Biga", "all of the biga", "The preferment"])
@pytest.mark.parametrize("behind", [False, True])
def test_a_line_that_takes_a_part_leaves_the_dough_open(reference, behind, book):
    listed = f"{DOUGH}{reference}\n20 g olive oil" if behind else f"{reference}\n{DOUGH}"
    read = read_text(f"Slippers\n{BIGA}\nDough:\n{listed}{METHOD}", book)
    assert kinds(read) == [("preferment", 2, False), ("dough", 3 + behind, False)]


def test_lines_set_apart_from_a_part_made_ahead_are_taken_as_the_dough(book):
    read = read_text(f"Slippers\n{BIGA}\n{DOUGH}{METHOD}", book)
    assert kinds(read) == [("preferment", 2, False), ("dough", 3, True)]


def test_lines_all_set_apart_stay_in_their_part(book):
    spaced = BIGA.replace("\n", "\n\n")
    read = read_text(f"Slippers\n\n{spaced}1 g instant yeast\n\nDough:\n\n{DOUGH}{METHOD}", book)
    assert kinds(read) == [("preferment", 3, False), ("dough", 3, False)]


def test_a_table_below_each_heading_is_in_its_part(book):
    head = "| ingredient | weight |\n|---|---|\n"
    text = (
        f"# Slab\n\n## Poolish\n{head}| bread flour | 500 g |\n| water | 500 g |\n\n"
        f"## Dough\n{head}| bread flour | 1000 g |\n{METHOD}"
    )
    assert kinds(read_text(text, book)) == [("preferment", 2, False), ("dough", 1, False)]


def test_bare_rows_of_parts_with_their_times_between_them(book):
    text = (
        "SEEDED TIN\n\nSOUR (FRI 16:00)\nRYE FLOUR   240\nWATER   240\n16 HRS @ 24C\n\n"
        "SOAKER\nLINSEED   40\nWATER   160\n16 HRS\n\nDOUGH\nSTRONG WHITE   600\nWATER   560\n"
        f"SALT   9\n{METHOD}"
    )
    read = read_text(text, book)
    assert kinds(read) == [
        ("preferment", 2, False), ("soaker", 2, False), ("dough", 3, False),
    ]  # fmt: skip
    assert [line.written.mass_g for line in read.lines] == [240, 240, 40, 160, 600, 560, 9]
    assert all("TakenAsGrams" in {one.kind for one in line.doubts} for line in read.lines)
    assert [(step.kind.value, step.waiting_min) for step in read.written.steps[:2]] == [
        ("prepare", 960), ("prepare", 960),
    ]  # fmt: skip


@pytest.mark.parametrize(("first", "second"), [("a) Sour", "b) Main dough"), ("Sour", "Dough")])
def test_parts_may_be_lettered(first, second, book):
    read = read_text(
        f"Kneipp (2 kg)\n\n{first}\n100 g rye flour\n\n{second}\n{DOUGH}{METHOD}", book
    )
    assert kinds(read) == [("preferment", 1, False), ("dough", 3, False)]
    assert read.written.title == "Kneipp"


@pytest.mark.parametrize(("work", "asks"), [
    ("Put the onions on top.", True), ("Scatter the onion over it.", True),
    ("Knead in the onions.", False), ("Grease the tin and sprinkle it with flour.", False),
])  # fmt: skip
def test_what_the_method_strews_on_top_may_be_no_part_of_the_dough(work, asks, book):
    method = f"Method\nMix for 10 minutes. {work} Bake at 230 °C for 30 minutes.\n"
    read = read_text(f"Flat\n{DOUGH}300 g onions\n{method}", book)
    guessed = ["PartGuessed" in {one.kind for one in line.doubts} for line in read.lines]
    assert guessed == [False] * 3 + [asks]


def test_work_behind_an_ingredient_is_a_step_and_the_list_goes_on(book):
    read = read_text(f"Rolls\n7 g instant yeast\n5 g sugar. Let sit 5 min.\n{DOUGH}{METHOD}", book)
    assert kinds(read) == [("dough", 5, False)]
    assert read.written.steps[0].text == "Let sit 5 min."


def test_a_text_may_begin_with_all_of_its_dough(book):
    text = f"Onion bread: Bread flour (1 kg), water (600 g), fried onions (200 g)\n{METHOD}"
    assert kinds(read_text(text, book)) == [("dough", 3, False)]


def test_a_part_that_begins_the_text_is_no_line_of_its_own(book):
    read = read_text(f"Dough (makes 900g)\n{DOUGH}{METHOD}", book)
    assert kinds(read) == [("dough", 3, False)]


@pytest.mark.parametrize("gap", ["\t", "      ", " | "])
def test_a_list_beside_its_method_is_read_first(gap, book):
    rows = ["Ingredients", "500 g bread flour", "325 g water", "10 g table salt"]
    steps = ["Method", "1. Mix 8 min", "2. Rise 1 hour", "3. Bake 225 °C, 32 min"]
    both = "\n".join(f"{row}{gap}{step}" for row, step in zip(rows, steps, strict=True))
    read = read_text(f"Walnut loaf\n\n{both}\n", book)
    assert kinds(read) == [("dough", 3, False)]
    assert [step.kind.value for step in read.written.steps] == ["mix", "bulk", "bake"]


@pytest.mark.parametrize(
    "heading", ["", "Crunch", "Sugar mix:", "After baking", "~ Extras ~", "Extras"]
)
@pytest.mark.parametrize("gap", ["\n", ""])
def test_lines_under_what_names_no_part_ask_whether_they_are_dough(heading, gap, book):
    if not (heading or gap):
        return
    more = f"{gap}{heading}\n40 g sugar\n30 g butter\n"
    read = read_text(f"Buns\n\n{DOUGH}5 g instant yeast\n{more}{METHOD}", book)
    asked = {line.match.key for line in read.lines if "PartGuessed" in doubts_of(line)}
    assert asked >= {"sugar", "butter"}
    assert "bread-flour" not in asked


@pytest.mark.parametrize("heading", ["The evening before", "Stage 1", "Pre-mix", "Overnight:"])
@pytest.mark.parametrize("gap", ["\n", ""])
def test_of_two_groups_with_flour_the_smaller_may_be_made_ahead(heading, gap, book):
    ahead = f"{heading}\n100 g rye flour\n90 g whole milk\n{gap}Final dough\n"
    read = read_text(f"Buns\n\n{ahead}{DOUGH}{METHOD}", book)
    asked = {line.match.key for line in read.lines if "PartGuessed" in doubts_of(line)}
    assert asked == {"rye-flour", "whole-milk"}


def test_what_a_part_does_not_usually_have_asks(book):
    read = read_text(f"Buns\nDough:\n{DOUGH}Egg wash:\n1 egg\n20 g rye flour\n{METHOD}", book)
    assert ["PartGuessed" in doubts_of(line) for line in read.lines] == [False] * 4 + [True]


@pytest.mark.parametrize(("work", "kind"), [
    ("Brush with 20 g honey.", "wash"), ("Sprinkle with 20 g honey.", "topping"),
    ("Knead in 20 g honey.", "dough"),
])  # fmt: skip
def test_in_prose_the_verb_says_which_part_an_amount_goes_to(work, kind, book):
    told = f"Mix 500 g bread flour and 300 g water for 10 minutes. {work} Bake at 230 °C for 1 h."
    read = read_text(f"Buns\n{told}\n", book)
    honey = next(line for line in read.lines if line.match.key == "honey")
    assert read.written.parts[honey.part].kind.value == kind
    assert ("PartGuessed" in doubts_of(honey)) is (kind != "dough")


def doubts_of(line):
    return {one.kind for one in line.doubts}
