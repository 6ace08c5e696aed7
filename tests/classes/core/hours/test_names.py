"""Names said together, and letters measured."""

from decimal import Decimal
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from classes.core.hours.drawing.lettering import (
    ELLIPSIS,
    cut,
    fitting,
    width_of,
    wrapped,
)
from classes.core.hours.problem.names import (
    joined,
    listed,
    numbers_of,
)

FONTS = Path(__file__).parents[4] / "static" / "fonts"
TEN = Decimal(10)


@pytest.mark.parametrize(
    ("names", "said"),
    [
        ([], ""),
        (["Bench 1"], "Bench 1"),
        (["Bench 1", "Bench 2"], "Bench 1 and 2"),
        (["Bench 3", "Bench 1", "Bench 2"], "Bench 1, 2 and 3"),
        (["Bench 1", "Bench 2", "Bench 3", "Bench 4"], "Bench 1 to 4"),
        ([f"Bench {n}" for n in (1, 2, 3, 4, 7, 9, 10, 11, 12)], "Bench 1 to 4, 7 and 9 to 12"),
        (["Bench 1", "Bench 1"], "Bench 1"),
        (["Instructor", "Bench 3"], "Instructor and Bench 3"),
        (["Window", "Door", "Sink"], "Window, Door and Sink"),
        (["Instructor", "Bench 1", "Bench 2"], "Instructor, Bench 1 and 2"),
        (["Table 01", "Table 02"], "Table 01 and Table 02"),
        (["Bench ", "Bench 1"], "Bench  and Bench 1"),
        (["1", "2"], "1 and 2"),
        (["Bench ٣", "Bench 2"], "Bench ٣ and Bench 2"),
    ],
)
def test_names_are_said_together(names, said):
    assert joined(names) == said


@given(st.sets(st.integers(1, 60), min_size=1))
def test_no_number_is_lost_and_none_is_added(numbers):
    said = joined(f"Bench {n}" for n in numbers).removeprefix("Bench ").replace(" and ", ", ")
    found = set()
    for part in said.split(", "):
        first, _, last = part.partition(" to ")
        found |= set(range(int(first), int(last or first) + 1))
    assert found == numbers


def test_a_list_of_words_ends_with_and():
    assert [listed(["a", "b", "c"][:n]) for n in range(4)] == ["", "a", "a and b", "a, b and c"]


@pytest.mark.parametrize(
    ("names", "numbers"),
    [
        (["Bench 1", "Bench 20"], {"Bench 1": "1", "Bench 20": "20"}),
        (["Bench 1", "Table 1"], {}),
        (["Bench 1", "Window"], {}),
        (["Window"], {}),
        ([], {}),
    ],
)
def test_numbers_stand_for_names_only_where_they_tell_them_apart(names, numbers):
    assert numbers_of(names) == numbers


@pytest.mark.parametrize("cut_of_type", ["regular", "bold"])
def test_no_letter_is_wider_in_print_than_we_think(cut_of_type):
    font = TTFont(FONTS / f"lato-{cut_of_type}.woff2")
    glyphs, advances = font.getBestCmap(), font["hmtx"]
    letters = [chr(code) for code in range(32, 127)] + list("\u00a0°×–—’·…äöüßéèñç½")
    for letter in letters:
        printed = Decimal(advances[glyphs[ord(letter)]][0]) * 10 / font["head"].unitsPerEm
        assert printed <= width_of(letter, TEN) <= 3 * printed, letter


def test_an_unknown_letter_is_taken_to_be_wide():
    assert width_of("麦", TEN) == TEN


@pytest.mark.parametrize(
    ("text", "width", "most", "lines"),
    [
        ("Divide and shape", 1000, 1, ("Divide and shape",)),
        ("Divide and shape", 40, 3, ("Divide", "and", "shape")),
        ("Divide and shape", 40, 2, None),
        ("Divide and shape", 60, 3, ("Divide and", "shape")),
        ("Divide", 10, 5, None),
        ("5\u00a0of\u00a06", 20, 3, None),
    ],
)
def test_words_are_wrapped_at_spaces_or_do_not_fit(text, width, most, lines):
    assert wrapped(text, Decimal(width), TEN, most) == lines


def test_the_first_text_that_fits_is_taken():
    assert fitting(["Divide and shape", "Shape", "S"], Decimal(30), TEN) == ("Shape",)
    assert fitting(["Divide and shape"], Decimal(30), TEN) is None
    assert fitting([], Decimal(30), TEN) is None


@given(
    st.text(st.characters(codec="ascii", categories=["L", "N"]), min_size=1), st.integers(12, 90)
)
def test_what_is_cut_fits_and_begins_as_the_text_does(text, width):
    lines = cut(text, Decimal(width), TEN)
    assert len(lines) <= 1
    for line in lines:
        assert width_of(line, TEN) <= width
        assert line == text or text.startswith(line.removesuffix(ELLIPSIS))
    if not lines:
        assert width_of(text[0] + ELLIPSIS, TEN) > width
