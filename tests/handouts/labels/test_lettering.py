"""The estimate of how wide text is, held against the font itself, and how text is cut to fit."""

import subprocess
from decimal import Decimal

import pytest
from PIL import ImageFont

from handouts.labels.lettering import cut, cut_label, lines_needed
from wording.lettering import width_of

SIZE = Decimal(10)
TEXTS = (
    "Bread flour",
    "Tub empty _______ g + contents 1253.3 g = gross _______ g",
    "Weighed on ____ by ____",
    "WWWMMM@@@%%% QUITE LOUD",
    "Holds: milk, egg, wheat, cereals containing gluten",
    "Zoë's crème brûlée, Žluťoučký kůň",
    "iiiiillll....||||((()))",
    "0123456789 × 12 °C – 41 °F…",
)


@pytest.fixture(scope="module", params=["regular", "bold"])
def font(request):
    """Lato as the papers print it, measured by another program than ours."""
    done = subprocess.run(
        ["fc-match", "-f", "%{family[0]}\n%{file}", f"Lato:{request.param}"],
        capture_output=True,
        text=True,
        check=True,
    )
    family, file = done.stdout.split("\n")
    assert family == "Lato"
    return ImageFont.truetype(file, 1000)


@pytest.mark.parametrize("text", TEXTS)
def test_no_text_is_wider_than_the_estimate_nor_a_third_narrower(font, text):
    real = Decimal(font.getlength(text)) / 1000 * SIZE
    assert real <= width_of(text, SIZE) <= real * Decimal("1.35")


@pytest.mark.parametrize("letter", [chr(code) for code in range(32, 127)])
def test_no_letter_is_wider_than_the_estimate(font, letter):
    assert Decimal(font.getlength(letter)) / 1000 <= width_of(letter, Decimal(1))


def test_text_from_other_scripts_counts_as_wide():
    assert width_of("パン", SIZE) > width_of("MM", SIZE)


def test_words_go_to_the_next_line_and_long_ones_are_broken():
    assert lines_needed("a b", SIZE, Decimal(100)) == 1
    assert lines_needed("flour " * 10, SIZE, Decimal(100)) > 2
    assert lines_needed("f" * 100, SIZE, Decimal(100)) == 4


def test_a_no_break_space_keeps_a_mass_and_its_unit_together():
    free, held = "contents 1253.3 g", "contents 1253.3\u00a0g"
    wide = width_of("contents 1253.3 ", SIZE)
    assert lines_needed(free, SIZE, wide) == 2
    assert lines_needed(held, SIZE, width_of(held, SIZE)) == 1


def test_a_text_that_fits_is_left_alone():
    assert cut("Bench 1", SIZE, Decimal(100)) == "Bench 1"


@pytest.mark.parametrize("lines", [1, 2, 3])
def test_a_text_that_is_too_long_is_cut_to_its_lines(lines):
    shown = cut("many words that go on and on " * 400, SIZE, Decimal(150), lines)
    assert shown.endswith("…")
    assert lines_needed(shown, SIZE, Decimal(150)) == lines


def test_a_label_loses_its_title_before_its_number():
    label = f"{'Loaf ' * 30}, revision 12, variant No sesame"
    shown = cut_label(label, SIZE, Decimal(200))
    assert shown.startswith("Loaf")
    assert shown.endswith("…, revision 12, variant No sesame")
    assert width_of(shown, SIZE) <= 200


def test_a_label_without_a_number_is_cut_at_its_end():
    assert cut_label("Saturday class " * 20, SIZE, Decimal(100)).startswith("Saturday")
