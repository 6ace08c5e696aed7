"""Whatever is pasted, the importer answers: with a recipe, or with an error by name.

2,000 texts in the usual run; BAKEBENCH_LONG=1 makes it 10,000.
"""

import os
import sys
import time
from contextlib import suppress
from decimal import Decimal
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipes.importing.errors import ImportingError
from recipes.importing.intake import read_pasted
from recipes.importing.text.lines import read_line
from recipes.importing.text.recipe import MOST_CHARACTERS, read_text
from recipes.importing.values import Reading

TEXTS = 10_000 if os.environ.get("BAKEBENCH_LONG") else 2_000
MANY = settings(max_examples=TEXTS, deadline=None, suppress_health_check=list(HealthCheck))

NUMBERS = ["1", "2", "0", "00", "1/2", "1 1/2", "½", "2½", "1/0", "250", "2-3", "2–3", "3,5"]
NUMBERS += ["1,000", ".5", "9" * 15, "1.2.3", "١٢", "one", "half", "a", "x", "100 %"]
WORDS = ["g", "kg", "ml", "cup", "cups", "c.", "T", "t", "fl oz", "large", "pinch", "packet"]
WORDS += ["flour", "bread flour", "water", "salt", "yeast", "eggs", "butter", "almond", "each"]
WORDS += ["or", "and", "plus", "to", "for", "the", "of", "about", "type", "between", "E471"]
WORDS += ["mix", "knead", "bake", "rest", "rise", "shape", "overnight", "hour", "min", "every"]
WORDS += ["degrees", "°C", "°F", "gas mark", "Poolish", "Dough:", "Method:", "Makes", "Notes"]
MARKS = ["(", ")", "[", "]", ",", ";", ":", "|", "/", "-", "–", "+", "%", "=", "~", ".", "..."]
MARKS += ["*", "**", "#", ">", "\t", "\u00a0", "&frac12;", "&amp;", "<li>", "</td>", "[a](b)"]
MARKS += [
    "\n",
    "\n\n",
    "\r",
    "\x00",
    "\u2028",
    "é",
    "中",
    "🍞",
    "\\",
    '"',
    "'",
    "{",
    "[{",
    "<script",
]
PIECES = NUMBERS + WORDS + MARKS


def like_a_recipe(seed):
    """Up to 30 pieces in a row; a list drawn piece by piece takes as long as reading it."""
    chance = Random(seed)  # noqa: S311
    return chance.choice([" ", "", "\n"]).join(chance.choices(PIECES, k=chance.randint(0, 30)))


LIKE_RECIPES = st.builds(like_a_recipe, st.integers(0, 2**32))
PASTED = LIKE_RECIPES | st.text(max_size=120)


@MANY
@given(text=PASTED)
def test_no_pasted_text_crashes_the_importer_and_what_is_read_is_sound(text, book):
    with suppress(ImportingError):
        _, read = read_pasted(text, book)
        assert isinstance(read, Reading)
        assert all(line.written in read.written.parts[line.part].lines for line in read.lines)
        assert len(read.step_doubts) == len(read.written.steps)
        for line in read.lines:
            is_sound(line)


def is_sound(line):
    assert line.quantity is None or (line.quantity.is_finite() and line.quantity >= 0)
    assert line.written.mass_g is None or isinstance(line.written.mass_g, Decimal)
    assert len(line.match.candidates) <= 5
    assert not line.match.key or line.match.key in line.match.candidates


@settings(MANY, max_examples=300)
@given(text=PASTED)
def test_the_same_text_is_read_the_same_way_again(text, book):
    assert read_text(text, book) == read_text(text, book)


@settings(MANY, max_examples=300)
@given(
    number=st.integers(1, 9999),
    unit=st.sampled_from(["g", "kg", "oz", "lb", "ml", "cup", "tsp", "tbsp"]),
    name=st.sampled_from(["bread flour", "water", "whole milk", "sugar", "olive oil", "honey"]),
    frame=st.sampled_from(["{n} {u} {i}", "{n}{u} {i}", "- {n} {u} {i}", "{i}: {n} {u}",
                           "{i}\t{n} {u}", "* **{n} {u}** {i}", "{n} {u} of {i}, sifted"]),
)  # fmt: skip
def test_a_plain_line_is_read_in_every_frame(number, unit, name, frame, book):
    line = read_line(frame.format(n=number, u=unit, i=name), book)
    known = book.get(line.match.key)
    assert (line.quantity, line.unit.name, known.name.lower().partition(",")[0]) == (
        number,
        unit,
        name,
    )


HARD = {
    "one long word": "a" * MOST_CHARACTERS,
    "open brackets": "(" * MOST_CHARACTERS,
    "square brackets": "[" * MOST_CHARACTERS,
    "open tags": "<a" * (MOST_CHARACTERS // 2),
    "entities": "&amp;" * (MOST_CHARACTERS // 5),
    "bullets": "- 1. " * (MOST_CHARACTERS // 5),
    "multiples": "2x" * (MOST_CHARACTERS // 2),
    "short sentences": "Method\n" + "A. " * 19_000,
    "times": "Method\nMix for " + "1 hour and " * 5_000,
    "ingredient lines": "2 cups qwertyuiopas zxcvbnmasdf lkjhgfdsa, and butter (250 g)\n" * 390,
    "long method lines": "Method\n" + ("Let it rise 5 min at 23 °C. " * 5 + "\n") * 390,
    "wrapped lines": "Method\n" + ("mix the flour and the water and the salt until smooth\n" * 390),
}


@pytest.mark.parametrize("name", sorted(HARD))
def test_the_longest_texts_are_read_in_the_time_of_a_page(name, book):
    read_text("1 cup water", book)
    begun = time.process_time()
    read_text(HARD[name][:MOST_CHARACTERS], book)
    assert time.process_time() - begun < 3


LONGEST_HOSTILE = 20_000
# Single lines that repeat what each reader looks behind or ahead of.
REPEATED = [
    "1 lb 5 oz ", "600g/1lb 5oz ", "(1 lb ", "1 cup plus ", "2 x ", "100 g water + ", "or 7 g ",
    "soaked in 30 g ", "between 1 and ", "1 and a half ", "1/", "1.", "½", "a ", "about ", "of ",
    "each and ", "100 g each of rye and ", "US cup ", "imperial metric large ", "Makes 12 x ",
    "Bake 5 min ", "1-1½ hours and ", "230 °C (450 ", "<b", "&#", "[a](", "`*_", "\u00a0", "é",
    "aa", ", ", "| ", "- ", "() ", "x", "2x", ".", "flour, ", "E471 ",
]  # fmt: skip


def work_on(text, book):
    """How many calls reading a text takes, which says the same on every machine."""
    count = 0

    def called(frame, event, argument):
        nonlocal count
        count += event in ("call", "c_call")

    sys.setprofile(called)
    try:
        with suppress(ImportingError):
            read_pasted(text, book)
    finally:
        sys.setprofile(None)
    return count


@pytest.mark.parametrize("piece", REPEATED)
def test_a_line_twice_as_long_takes_about_twice_the_work(piece, book):
    line = (piece * LONGEST_HOSTILE)[:LONGEST_HOSTILE]
    half = line[: LONGEST_HOSTILE // 2]
    work_on("1 cup water", book)
    assert work_on(line, book) < 2.3 * work_on(half, book) + 20_000


@pytest.mark.parametrize("piece", REPEATED)
def test_no_line_of_20_000_characters_takes_longer_than_a_second(piece, book):
    line = (piece * LONGEST_HOSTILE)[:LONGEST_HOSTILE]
    begun = time.process_time()
    with suppress(ImportingError):
        read_pasted(line, book)
    assert time.process_time() - begun < 1


# Lines that repeat what is held against the other lines of a text.
ROWS = [
    "Bread flour\t50\t443\n", "Poolish: 250 T65, 250 water. 12 h at 20.\n", "Makes 12 x 70 g\n",
    "Levain (build 8 h at 25 C)\n10 g rye flour\n", "all of the levain, 100 g\n", "Filling:\n",
    "Divide into 8 pieces of 70 g and rest 20 min.\n", "Home   Breads   About   Search\n",
    "Dry: 350 g flour, 100 g oats, 1 tsp salt\n", "DOUGH   g   %\nsalt   22   2\n",
    "Brush with 60 g honey, 20 g butter and 5 g water.\n", "Love,\nMay\n", "Total   1884   171\n",
    "water ~~360 g~~ 390 g\n", "DDT 24 C     PFF 15 %\n", "10:00 Weigh and mix 5 min.\n",
    "2 cups qwertyuiopas zxcvbnmasdf lkjhgfdsa, and butter (250 g)\n",
    "Let it rise 5 min at 23 °C. Let it rise 5 min at 23 °C. Rise 5 min.\n", "A. A. A. A. A.\n",
]  # fmt: skip
HEADS = {
    "table": "Loaf\nIngredient\t%\tg\n",
    "list": "Loaf\nLevain\n20 g rye flour\nDough\n500 g flour\n",
    "method": "Loaf\n500 g bread flour\nMethod\nMix it for 5 minutes.\n",
    "letter": "Hi Jo,\n",
}
MANY_ROWS, MOST_ROWS = 60, 360


def rows(head, row, lines):
    return HEADS[head] + row * (lines // row.count("\n"))


@pytest.mark.parametrize("head", ["list", "method"])
@pytest.mark.parametrize("row", ROWS)
def test_a_text_of_twice_the_lines_takes_about_twice_the_work(head, row, book):
    work_on(rows(head, row, 10), book)
    whole, half = (work_on(rows(head, row, lines), book) for lines in (MANY_ROWS, MANY_ROWS // 2))
    assert whole < 2.5 * half + 5_000


@pytest.mark.parametrize("head", ["table", "letter"])
def test_no_text_of_20_000_characters_takes_longer_than_a_second(head, book):
    for row in ROWS:
        text = rows(head, row, MOST_ROWS)[:LONGEST_HOSTILE]
        begun = time.process_time()
        with suppress(ImportingError):
            read_pasted(text, book)
        assert time.process_time() - begun < 1, row
