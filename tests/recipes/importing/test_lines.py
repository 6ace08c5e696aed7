"""Ingredient lines: what is right on hundreds of them, and what is said to be in doubt."""

import csv
import sys
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.importing import doubts
from recipes.importing.text.headings import read_heading
from recipes.importing.text.lines import LONGEST_LINE, lines_in, read_line
from recipes.importing.text.matching import IngredientBook
from recipes.importing.values import Sureness

DATA = Path(__file__).parent / "data"
GOAL = Decimal("0.95")


def rows(name):
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


LINES = rows("lines.csv")
LATER_LINES = rows("later_lines.csv")


def miss(row, book):
    """What was read in place of the expected quantity, unit and ingredient; empty if right."""
    line = read_line(row["line"], book)
    got = (line.quantity, line.unit.name if line.unit else "", line.match.key)
    quantity = Decimal(row["quantity"]) if row["quantity"] else None
    named = (
        row["ingredient"]
        or not row.get("name")
        or line.written.ingredient.name.lower() == row["name"].lower()
    )
    if got == (quantity, row["unit"], row["ingredient"]) and named:
        return ""
    return f"{row['line']!r}: read {got} as {line.written.ingredient.name!r}"


def share(table, book):
    """The share of lines that are right, and the misses, printed for whoever looks."""
    misses = [one for row in table if (one := miss(row, book))]
    right = len(table) - len(misses)
    sys.stdout.write(f"\n{right} of {len(table)} lines right\n" + "\n".join(misses))
    return Decimal(right) / len(table), misses


def test_at_least_150_lines_in_10_styles_were_written():
    assert len(LINES) >= 150
    assert len({row["style"] for row in LINES}) >= 10


@pytest.mark.parametrize("name", ["lines.csv", "later_lines.csv"])
def test_quantity_unit_and_ingredient_are_right_on_95_percent(name, book):
    found, misses = share(rows(name), book)
    assert found >= GOAL, "\n".join(misses)


@pytest.mark.parametrize("style", sorted({row["style"] for row in LINES}))
def test_no_style_falls_far_behind(style, book):
    found, misses = share([row for row in LINES if row["style"] == style], book)
    assert found >= Decimal("0.85"), "\n".join(misses)


def test_notes_are_right_on_95_percent(book):
    wrong = [
        row["line"] for row in LINES if read_line(row["line"], book).written.note != row["note"]
    ]
    assert len(wrong) <= len(LINES) * (1 - GOAL), wrong


@pytest.mark.parametrize("under", sorted({row["under"] for row in LINES if row["under"]}))
def test_a_heading_says_which_component_its_lines_are_of(under):
    heading = read_heading(under)
    expected = {row["component"] for row in LINES if row["under"] == under}
    assert {f"{heading.kind}: {heading.name}"} == expected


def test_every_wrong_line_carries_a_doubt(book):
    silent = [
        row["line"]
        for row in LINES + LATER_LINES
        if miss(row, book) and not read_line(row["line"], book).doubts
    ]
    assert silent == []


def test_without_ingredients_hardly_any_line_is_right():
    assert share(LINES, IngredientBook([]))[0] < Decimal("0.1")


def kinds(text, book):
    return {doubt.kind for doubt in read_line(text, book).doubts}


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("salt to taste", "NoAmount"),
        ("500 bread flour", "NoUnit"),
        ("2-3 cups bread flour", "RangeRead"),
        ("100 g - 120 g sugar", "RangeRead"),
        ("1 T honey", "LetterUnit"),
        ("1 t honey", "LetterUnit"),
        ("2 c bread flour", "LetterUnit"),
        ("2 C bread flour", "LetterUnit"),
        ("1,000 g bread flour", "TwoReadings"),
        ("9999999999999 g bread flour", "NumberUnread"),
        ("1.2.3 g bread flour", "NumberUnread"),
        ("1 scant cup sugar", "RoughAmount"),
        ("a couple of cups of sugar", "RoughAmount"),
        ("1 tablespon honey", "MistypedUnit"),
        ("1 tsp coarse flake salt, light", "NoDensityKnown"),
        ("1 cup fairy dust", "NoDensityKnown"),
        ("a handful of walnuts", "NoPieceMassKnown"),
        ("1 packet instant yeast", "PacketAssumed"),
        ("2 eggs", "SizeAssumed"),
        ("2 medium eggs", "SizeAssumed"),
        ("1 large onion", "SizeAssumed"),
        ("8 oz whole milk", "OunceOfLiquid"),
        ("1 cup (300 g) bread flour", "AmountsDisagree"),
        ("2 tbsp honey or sugar", "OtherChoice"),
        ("1 egg, beaten with 1 tbsp milk", "AlsoNamed"),
        ("2 large eggs plus 1 egg yolk", "AlsoNamed"),
        ("2 cups flour", "LikelyIngredient"),
        ("2 cups bread fluor", "LikelyIngredient"),
        ("100 g marrowfat", "UnknownIngredient"),
        ("1 cup almond milk", "UnknownIngredient"),
        ("x" * (LONGEST_LINE + 1), "LineTooLong"),
    ],
)
def test_what_is_unsure_is_marked(text, kind, book):
    assert kind in kinds(text, book)


@pytest.mark.parametrize(
    "text",
    [
        "500 g bread flour",
        "1 cup (240 ml) water",
        "2 large eggs",
        "113 g unsalted butter, softened",
        "2 1/4 tsp active dry yeast",
        "1 tbsp granulated sugar",
    ],
)
def test_what_is_plain_carries_no_doubt(text, book):
    assert read_line(text, book).doubts == ()


@pytest.mark.parametrize(
    ("text", "other"),
    [
        ("almond flour", "almonds"),
        ("oat milk", "whole-milk"),
        ("coconut cream", "heavy-cream"),
        ("vegan butter", "butter"),
        ("gluten-free bread flour", "bread-flour"),
        ("peanut butter", "butter"),
        ("rice milk", "whole-milk"),
        ("egg substitute", "egg"),
        ("garlic powder", "garlic"),
        ("walnut oil", "sunflower-oil"),
        ("fresh ginger", "ginger"),
        ("mixed seeds", "sesame-seeds"),
    ],
)
def test_another_thing_of_a_like_name_is_not_taken_for_it(text, other, book):
    match = read_line(f"100 g {text}", book).match
    assert (match.key, match.sureness) == ("", Sureness.NONE)
    assert len(match.candidates) <= 3


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("1 cup whole milk", "244"),
        ("2 large eggs", "100"),
        ("2 medium eggs", "88"),
        ("1 extra large egg", "56"),
        ("1 packet instant yeast", "7"),
        ("3 cloves garlic", "9"),
        ("1 lb 2 oz bread flour", "510.3"),
        ("1 lb 2 oz (500 g) bread flour", "500"),
        ("1 cup plus 2 tbsp (135 g) bread flour", "135"),
        ("2 x 7 g sachets instant yeast", "14"),
        ("2 eggs (55 g each)", "110"),
        ("1 (12 oz) bottle beer", "340.2"),
        ("1 stick butter", "113.4"),
        ("a dozen large eggs", "600"),
    ],
)
def test_grams_are_computed_where_they_can_be(text, grams, book):
    found = read_line(text, book).written.mass_g
    assert abs(found - Decimal(grams)) < Decimal("0.5")


def test_the_low_end_of_a_range_is_taken_and_the_high_one_told(book):
    line = read_line("330–350 g water", book)
    assert (line.quantity, line.written.mass_g) == (330, 330)
    assert doubts.RangeRead(Decimal(330), Decimal(350)) in line.doubts


def test_a_number_with_a_thousands_comma_is_read_by_its_unit(book):
    assert read_line("1,500 g bread flour", book).quantity == 1500
    assert read_line("1,500 kg bread flour", book).quantity == Decimal("1.5")


@pytest.mark.parametrize(
    ("text", "percent"),
    [
        ("Bread flour 500 g 100 %", "100"),
        ("| Salt | 10 g | 2 % |", "2"),
        ("65% water", "65"),
        ("Honey (3%) 15 g", "3"),
    ],
)
def test_a_bakers_percentage_is_told_from_the_amount(text, percent, book):
    assert read_line(text, book).percent == Decimal(percent)


def test_a_percentage_in_a_name_is_no_bakers_percentage(book):
    line = read_line("2 cups 100% whole wheat flour", book)
    assert (line.quantity, line.percent, line.match.key) == (2, None, "whole-wheat-flour")


@pytest.mark.parametrize(
    ("text", "entered"),
    [
        ("500 g bread flour", ""),
        ("2 1/4 tsp active dry yeast", "2.25 tsp"),
        ("1/3 cup sugar", "1/3 cup"),
        ("1 2/3 cups buttermilk", "1 2/3 cup"),
        ("2 large eggs", "2 each"),
        ("2 medium eggs", ""),
        ("1 packet instant yeast", ""),
        ("1 cup fairy dust", ""),
    ],
)
def test_the_amount_for_the_form_is_given_only_where_it_means_the_same_grams(text, entered, book):
    assert read_line(text, book).written.entered == entered


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("100 g acorn flour", "flour"),
        ("1 cup almond milk", "liquid"),
        ("50 g hemp seeds", "seed"),
        ("100 g marrowfat", "other"),
        ("500 g bread flour", "flour"),
    ],
)
def test_a_new_ingredient_comes_with_the_kind_its_name_suggests(text, kind, book):
    assert read_line(text, book).written.ingredient.kind == kind


def test_several_ingredients_on_one_line_become_lines(book):
    assert lines_in("400 g flour, 240 g water, 10 g salt", book) == [
        "400 g flour",
        "240 g water",
        "10 g salt",
    ]


@pytest.mark.parametrize(
    "text", ["500 g butter, 50 g of it melted", "2 large eggs, beaten", "1 cup flour, 120 g"]
)
def test_a_line_with_a_note_stays_one_line(text, book):
    assert lines_in(text, book) == [text]


@pytest.mark.parametrize(
    "text", ["", " ", "()", "%", "1/0", "½", "-", "500 g", "g", "of the", "\0"]
)
def test_what_says_little_is_read_without_a_fault(text, book):
    line = read_line(text, book)
    assert line.match.key == ""
    assert line.doubts
