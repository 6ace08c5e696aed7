"""Letters measured, held against the font files."""

from decimal import Decimal

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from tools import widths
from wording.lettering import ELLIPSIS, cut, fitting, width_of, wrapped
from wording.widths import WIDTHS

TEN = Decimal(10)


def test_the_table_is_what_the_font_files_say():
    """Measured again, letter by letter: the tool that made the table is not asked."""
    fonts = [TTFont(path) for path in widths.FONTS]
    for width, letters in WIDTHS.items():
        for letter in letters:
            advances = [font["hmtx"][font.getBestCmap()[ord(letter)]][0] for font in fonts]
            exact = [
                Decimal(advance) * 1000 / font["head"].unitsPerEm
                for advance, font in zip(advances, fonts, strict=True)
            ]
            assert max(exact) <= width < max(exact) + 1, letter


def test_every_letter_that_papers_are_likely_to_print_is_measured():
    measured = set("".join(WIDTHS.values()))
    assert measured >= {chr(code) for code in range(32, 127)} | set("\u00a0°×–—’·…äöüßéèñç½−")


def test_an_unknown_letter_is_taken_to_be_wider_than_any():
    assert width_of("麦", TEN) > max(WIDTHS) * TEN / 1000


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
