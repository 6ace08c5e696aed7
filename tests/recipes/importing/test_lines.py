"""Ingredient lines: what is right on hundreds of them, and what is said to be in doubt."""

import csv
import sys
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.importing import doubts
from recipes.importing.text.headings import read_heading
from recipes.importing.text.lines import LONGEST_LINE, read_line
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.several import lines_in
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
        ("500 g (1 lb 4 oz) bread flour", "AmountsDisagree"),
        ("25g/1oz walnuts", "AmountsDisagree"),
        ("2 cups bread flour", "FlourByVolume"),
        ("4 cups (500 g) bread flour plus 3 tbsp", "FlourByVolume"),
        ("1 stick plus 2 tbsp (200 g) butter", "AmountsDisagree"),
        ("a pinch of salt", "NotMeasured"),
        ("20 g fresh yeast (or 7 g dried)", "OtherChoice"),
        ("500 g bread flour plus 25 g more for dusting", "AmountAside"),
        ("500 g bread flour, plus 25 g for dusting", "AmountAside"),
        ("500 g flour (400 g bread flour, 100 g rye flour)", "AmountAside"),
        ("2 tbsp honey or sugar", "OtherChoice"),
        ("1 egg, beaten with 1 tbsp milk", "AlsoNamed"),
        ("2 large eggs plus 1 egg yolk", "AlsoNamed"),
        ("2 cups flour", "LikelyIngredient"),
        ("2 cups bread fluor", "LikelyIngredient"),
        ("100 g marrowfat", "UnknownIngredient"),
        ("1 cup cashew milk", "UnknownIngredient"),
        ("x" * (LONGEST_LINE + 1), "LineTooLong"),
    ],
)
def test_what_is_unsure_is_marked(text, kind, book):
    assert kind in kinds(text, book)


@pytest.mark.parametrize(
    "text",
    [
        "500 g bread flour",
        "75g/2¾oz walnuts",
        "600ml/1 pint water",
        "350 g water plus 25 g more",
        "250 g sugar (1 cup + 1/4 cup)",
        "500 g bread flour, plus extra for dusting",
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
        ("hemp milk", "whole-milk"),
        ("rice cream", "heavy-cream"),
        ("vegan butter", "butter"),
        ("gluten-free bread flour", "bread-flour"),
        ("cashew butter", "butter"),
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
    assert len(match.candidates) <= 5


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
        ("1 stick plus 2 tablespoons butter", "141.8"),
        ("1 stick plus 2 tablespoons (28 g) butter", "141.4"),
        ("1 stick plus 2 tablespoons (142 g) butter", "142"),
        ("3 cups (360 g) plus 2 tbsp bread flour", "375"),
        ("3 cups (360 g) plus 2 tbsp almond flour", "375"),
        ("350 g water plus 25 g more", "375"),
        ("350 g water, plus 25 g more", "375"),
        ("325 + 25 g water", "350"),
        ("350 g water (300 g + 50 g)", "350"),
        ("600 g bread flour (1 lb 5 oz)", "600"),
        ("1kg/2lb 4oz bread flour", "1000"),
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
        ("a pinch of salt", ""),
        ("1 stick plus 2 tablespoons butter", "1 stick + 2 tbsp"),
        ("350 g water plus 25 g more", "350 g + 25 g"),
        ("1 lb 2 oz bread flour", "1.125 lb"),
    ],
)
def test_the_amount_as_entered_means_the_same_grams(text, entered, book):
    assert read_line(text, book).written.entered == entered


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("100 g acorn flour", "flour"),
        ("1 cup cashew milk", "liquid"),
        ("50 g hemp seeds", "seed"),
        ("100 g marrowfat", "other"),
        ("500 g bread flour", "flour"),
    ],
)
def test_a_new_ingredient_comes_with_the_kind_its_name_suggests(text, kind, book):
    assert read_line(text, book).written.ingredient.kind == kind


@pytest.mark.parametrize(
    ("text", "amounts"),
    [
        ("400 g flour, 240 g water, 10 g salt", "400 all-purpose-flour|240 water|10 table-salt"),
        ("400 g water + 100 g ice", "400 water|100 water"),
        ("350 g water + 25 g (bassinage)", "350 water|25 water"),
        ("350 g water plus 25 g for bassinage", "350 water|25 water"),
        ("300 g water, plus 20 g more with the salt", "300 water|20 water"),
        ("100 g whole wheat flour, a small bunch of chives, 5 g instant yeast",
         "100 whole-wheat-flour|None |5 instant-yeast"),
        ("400 g bread flour + 50 g spelt flour + 50 g oat flour",
         "400 bread-flour|50 spelt-flour|50 oat-flour"),
        ("raisins 100 g, soaked in 30 g rum", "100 raisins|30 "),
        ("100 g raisins (soaked overnight in 30 g of rum)", "100 raisins|30 "),
        ("7 g instant yeast dissolved in 50 g warm water", "7 instant-yeast|50 water"),
        ("2 large eggs plus 1 egg yolk", "100 egg|17 egg-yolk"),
        ("1 large egg, beaten with a splash of milk", "50 egg|None whole-milk"),
        ("100 g water and 5 g salt", "100 water|5 table-salt"),
        ("50 g each of rye and spelt flour", "50 rye-flour|50 spelt-flour"),
    ],
)  # fmt: skip
def test_several_ingredients_on_one_line_become_lines(text, amounts, book):
    lines = [read_line(one, book) for one in lines_in(text, book)]
    found = [(line.written.mass_g, line.match.key) for line in lines]
    assert "|".join(f"{grams and round(grams)} {key}" for grams, key in found) == amounts


@pytest.mark.parametrize(
    "text",
    [
        "500 g butter, 50 g of it melted",
        "200 g butter, 50 g melted",
        "500 g bread flour, 50 g of it whole wheat flour",
        "2 large eggs, beaten",
        "1 cup flour, 120 g",
        "1 cup plus 2 tbsp bread flour",
        "1 pound and 4 ounces bread flour",
        "350 g water plus 25 g more",
        "500 g bread flour plus 25 g more for dusting",
        "7 g instant yeast dissolved in 50 g of the water",
        "1 1/2 cups milk, warmed and cooled",
    ],
)
def test_a_line_of_one_ingredient_stays_one_line(text, book):
    assert lines_in(text, book) == [text]


def test_more_of_the_same_is_one_sum(book):
    (text,) = lines_in("400 g water + 50 g water", book)
    line = read_line(text, book)
    assert (line.written.mass_g, line.written.entered) == (450, "400 g + 50 g")


@pytest.mark.parametrize(
    "text", ["", " ", "()", "%", "1/0", "½", "-", "500 g", "g", "of the", "\0"]
)
def test_what_says_little_is_read_without_a_fault(text, book):
    line = read_line(text, book)
    assert line.match.key == ""
    assert line.doubts


@pytest.mark.parametrize("text", ["200 ml oat milk", "200 ml double cream", "200 ml lemon juice"])
def test_a_liquid_of_no_known_density_is_weighed_like_water_with_a_doubt(text, book):
    line = read_line(text, book)
    assert line.written.mass_g == 200
    assert [doubt.kind for doubt in line.doubts] == ["TakenLikeWater"]
    assert read_line("2 tbsp golden syrup", book).written.mass_g is None
