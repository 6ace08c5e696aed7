"""A whole pasted recipe: what is title, part, line, step, note, and what is refused."""

from decimal import Decimal

import pytest

from recipes.core.errors import Unsettled
from recipes.core.written import WrittenRecipe
from recipes.exporting.jsonld import jsonld
from recipes.importing import doubts
from recipes.importing.errors import TooMuchText
from recipes.importing.text.makes import read_makes
from recipes.importing.text.recipe import MOST_CHARACTERS, MOST_LINES, read_text
from recipes.importing.values import LeftOver, Place

ROLLS = """Pillow Rolls

Soft rolls with a cooked roux.
Makes 12 rolls of 70 g
Prep time: 40 min
Total time: 3 hours

Ingredients

For the roux:
- 25 g bread flour
- 125 g whole milk

For the dough:
- 475 g bread flour (3 ½ cups)
- 185 g cold milk
- all of the roux
- 50 g sugar
- 1 egg
- 60 g butter, softened
- 9 g salt (1 ½ tsp)
- 8 g instant yeast

Egg wash
1 egg yolk
1 tbsp milk

Equipment
- 13 x 9 in pan
- scale

Method
1. Whisk the flour and milk over medium heat to 65 °C, about 5 minutes.
2. Mix everything but the butter, rest 20 minutes, then knead in the butter, 10 minutes.
3. Let rise 90 minutes at 26 °C.
4. Divide into 12 pieces and shape, 15 minutes. Proof 45-60 min.
5. Bake at 375 °F for 18 minutes, to 92 °C inside. Cool 30 minutes.

Notes
Best on the day.

Nutrition
Calories: 190
"""


def kinds(read):
    return {doubt.kind for doubt in read.doubts}


def test_a_recipe_is_taken_apart(book):
    read = read_text(ROLLS, book)
    found = read.written
    assert (found.title, found.summary) == ("Pillow Rolls", "Soft rolls with a cooked roux.")
    assert (found.pieces, found.piece_name, found.piece_g) == (12, "roll", 70)
    assert [(part.kind, part.name) for part in found.parts] == [
        ("roux", "Roux"),
        ("dough", "Dough"),
        ("wash", "Egg wash"),
    ]
    assert [line.part for line in read.lines] == [0] * 2 + [1] * 7 + [2] * 2
    assert [step.kind for step in found.steps] == [
        "prepare", "mix", "rest", "mix", "bulk", "divide", "rest", "proof", "bake", "cool",
    ]  # fmt: skip
    assert "KindGuessed" in {doubt.kind for doubt in read.step_doubts[6]}
    assert (found.equipment, found.note) == ("13 x 9 in pan\nscale", "Best on the day.")
    assert found.core_temperature_c == 92
    assert [left.text for left in read.left_over] == [
        "- all of the roux",
        "Nutrition",
        "Calories: 190",
    ]
    assert kinds(read) == {"PiecesForPart", "YieldAndLines"}


def test_a_line_that_names_a_part_is_told_and_not_counted_twice(book):
    read = read_text(ROLLS, book)
    assert read.left_over[0].doubt == doubts.PartOfRecipe(0)
    lines = [line for part in read.written.parts for line in part.lines]
    assert all(line.ingredient.name != "roux" for line in lines)
    assert [line.written for line in read.lines] == lines


def test_the_reading_is_the_recipe_in_grams(book):
    written = read_text(ROLLS, book).written
    masses = {line.ingredient.key: line.mass_g for part in written.parts[:2] for line in part.lines}
    assert masses["egg"] == 50
    assert masses["bread-flour"] == 475
    assert written.parts[2].for_pieces is None
    assert written.piece_g == 70
    assert written.parts[1].lines[3].entered == "1 each"


def test_without_headings_the_first_sentence_begins_the_method(book):
    read = read_text("500 g bread flour\n350 g water\nMix and bake at 230 °C for 40 min.", book)
    assert [line.match.key for line in read.lines] == ["bread-flour", "water"]
    assert [step.kind for step in read.written.steps] == ["mix", "bake"]


def test_a_part_after_a_piece_of_method_goes_on_with_ingredients(book):
    text = "Poolish\n100 g bread flour\n100 g water\nMix and leave 12 hours.\n"
    read = read_text(f"{text}Dough\n400 g bread flour\n240 g water\nMix and bake it all.", book)
    assert [(part.kind, part.name) for part in read.written.parts] == [
        ("preferment", "Poolish"),
        ("dough", "Dough"),
    ]
    assert len(read.lines) == 4


def test_what_a_page_puts_around_its_ingredients_is_no_ingredient(book):
    text = (
        "Sandwich Bread\n5 from 12 votes\nA soft loaf for the week. It keeps well.\n"
        "Servings: 1 loaf\nIngredients US - Metric\n1x 2x 3x\n2 eggs\n400 g bread flour\n"
        "Instructions\nMix. Bake at 400 12 to 15 min. Makes 2 doz."
    )
    read = read_text(text, book)
    assert [line.match.key for line in read.lines] == ["egg", "bread-flour"]
    assert read.written.summary == "A soft loaf for the week. It keeps well."
    assert (read.written.pieces, read.written.piece_name) == (1, "loaf")
    assert read.left_over == (
        LeftOver("5 from 12 votes", place=Place(2, 2)),
        LeftOver("1x 2x 3x", place=Place(6, 6)),
    )


def test_a_yield_at_the_end_of_the_method_is_found(book):
    read = read_text("500 g bread flour\nMix and bake it well at 230 °C. Makes 2 doz.", book)
    assert read.written.pieces == 24


def test_headings_within_the_method_are_no_steps(book):
    text = "Bread\n500 g flour\nMethod\nPoolish:\nStir it.\nFinal dough: Mix it all.\nBake it."
    read = read_text(text, book)
    assert [step.text for step in read.written.steps] == ["Stir it.", "Mix it all.", "Bake it."]


def test_a_table_is_read_row_by_row(book):
    text = (
        "# Baguette\n| Ingredient | Weight | % |\n|---|---|---|\n| **Poolish** | | |\n"
        "| Bread flour | 300 g | 30% |\n| Water | 300 g | 30% |\n| **Final dough** | | |\n"
        "| Bread flour | 700 g | 70 % |\n"
    )
    read = read_text(text, book)
    assert read.written.title == "Baguette"
    assert [(line.written.mass_g, line.percent, line.part) for line in read.lines] == [
        (300, 30, 0),
        (300, 30, 0),
        (700, 70, 1),
    ]


def test_sentences_broken_by_the_page_are_joined(book):
    text = (
        "Bread\n500 g flour\nMethod\n"
        "1. Mix the flour with the water and the salt until no dry\n   spots are left. Bake it.\n"
    )
    read = read_text(text, book)
    assert read.written.steps[0].text.endswith("no dry spots are left.")


def test_several_ingredients_on_a_line_are_taken_apart(book):
    read = read_text("400 g flour, 240 g water, 10 g salt", book)
    assert [line.written.mass_g for line in read.lines] == [400, 240, 10]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Bread\nMix it all and bake it well.", "NothingRead"),
        ("500 g bread flour", "NothingRead"),
        ("Bread\nMakes 12 to 14 rolls\n500 g flour\nMix.", "YieldRange"),
        ("Bread\nServes 8\n500 g flour\nMix.", "YieldUnclear"),
        ("B" * 150 + "\n500 g flour", "TextCut"),
    ],
)
def test_what_is_unsure_about_the_whole_is_marked(text, kind, book):
    assert kind in kinds(read_text(text, book))


@pytest.mark.parametrize(
    ("text", "pieces", "name", "piece_g"),
    [
        ("Makes 12 rolls", 12, "roll", None),
        ("Yield: 2 loaves", 2, "loaf", None),
        ("1 large loaf (about 900 g)", 1, "loaf", None),
        ("Makes 16 dinner rolls of 58 g", 16, "dinner roll", 58),
        ("8 buns, 80 g each", 8, "bun", 80),
        ("12", 12, "", None),
        ("Serves 8", None, "", None),
        ("8 servings", None, "", None),
        ("a few", None, "", None),
        ("100000 rolls", None, "", None),
        ("1 1/2 loaves", None, "", None),
        ("", None, "", None),
    ],
)
def test_a_yield_is_read_in_pieces(text, pieces, name, piece_g):
    made = read_makes(text)
    assert (made.pieces, made.piece_name, made.piece_g) == (pieces, name, piece_g)


def test_a_text_longer_than_any_recipe_is_refused(book):
    read_text("x" * MOST_CHARACTERS, book)
    with pytest.raises(TooMuchText) as refused:
        read_text("x" * (MOST_CHARACTERS + 1), book)
    assert (refused.value.counted, refused.value.most) == ("characters", MOST_CHARACTERS)


def test_a_text_of_more_lines_than_any_recipe_is_refused(book):
    read_text("\n" * (MOST_LINES - 1), book)
    with pytest.raises(TooMuchText) as refused:
        read_text("x\n" * (MOST_LINES + 1), book)
    assert (refused.value.counted, refused.value.found) == ("lines", MOST_LINES + 1)


@pytest.mark.parametrize(
    ("text", "counted"),
    [
        ("Bread\n500 g flour\nMethod\n" + "Mix. Bake. " * 300, "steps"),
        ("2 g salt, 3 g sugar, 4 g honey, 5 g water\n" * 150, "ingredients"),
    ],
)
def test_more_steps_or_ingredients_than_any_recipe_has_are_refused(text, counted, book):
    with pytest.raises(TooMuchText) as refused:
        read_text(text, book)
    assert (refused.value.counted, refused.value.found) == (counted, 600)


def test_lines_without_grams_or_name_are_not_complete(book):
    read = read_text("500 g bread flour\nsalt to taste\n20 g\n300 g sourdough starter", book)
    assert [line.is_complete for line in read.lines] == [True, False, False, True]
    with pytest.raises(Unsettled):
        jsonld(read.written)


def test_a_piece_weighs_its_share_of_the_dough_unless_told(book):
    read = read_text("Makes 2 loaves\n500 g bread flour\n300 g water\nTopping\n50 g oats", book)
    assert read.piece_g == Decimal("400.0")


def test_nothing_is_read_from_nothing(book):
    read = read_text("", book)
    assert (read.written, read.lines) == (WrittenRecipe(), ())
    assert read.piece_g is None


def test_every_line_of_the_source_has_a_reading(book):
    read = read_text(ROLLS.replace("\n", "\r\n"), book)
    source = read.source.split("\n")
    for line in read.lines:
        assert source[line.place.first - 1] == line.text
    readings = [*read.step_places, *read.head_places]
    readings += [one.place for one in (*read.lines, *read.left_over)]
    taken = {n for place in readings for n in range(place.first, place.last + 1)}
    assert taken == {n for n, text in enumerate(source, start=1) if text}


def test_a_sentence_over_several_lines_stands_at_all_of_them(book):
    text = (
        "Loaf\n500 g bread flour\n\n"
        "Mix the flour with the water in a large bowl until it comes\n"
        "together and leave it for 30 minutes.\nBake for 40 minutes.\n"
    )
    read = read_text(text, book)
    assert read.step_places == (Place(4, 5), Place(4, 5), Place(6, 6))
