"""Amounts are read as cooks type them, and refused where a guess could be wrong."""

from decimal import Decimal

import pytest

from recipes.core.errors import BakingError, UnknownUnit, WrongMeasure
from recipes.core.reading import (
    AmbiguousNumber,
    TooManyDigits,
    Unreadable,
    read_celsius,
    read_minutes,
    read_number,
    read_quantity,
    read_whole,
)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("250", "250"),
        (" 250 ", "250"),
        ("2.5", "2.5"),
        ("2,5", "2.5"),
        (".5", "0.5"),
        ("5.", "5"),
        ("1/2", "0.5"),
        ("1 1/2", "1.5"),
        ("½", "0.5"),
        ("2½", "2.5"),
        ("2 ¼", "2.25"),
        ("1⁄4", "0.25"),
        ("２５０", "250"),
        ("0,125", "0.125"),
        ("1,0000", "1"),
        ("-3", "-3"),
        ("−3", "-3"),
        ("0", "0"),
    ],
)
def test_a_number_is_read_exactly(text, number):
    assert read_number(text) == Decimal(number)


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "-", "+", ".", "x", "1e400", "1e3", "NaN", "nan", "inf", "Infinity", "-inf",
        "1_000", "١٢", "१२", "1 2", "1/0", "1//2", "1.2.3", "0x10", "1/2/3", "½½", "2 1",
        "²", "2²", "2①",
    ],
)  # fmt: skip
def test_what_is_no_plain_number_is_refused(text):
    with pytest.raises(Unreadable):
        read_number(text)


def test_a_number_with_a_word_is_no_bare_number():
    with pytest.raises(Unreadable):
        read_number("2 cups")


@pytest.mark.parametrize(
    ("text", "readings"),
    [("1,000", ("1000", "1.000")), ("12,500", ("12500", "12.500"))],
)
def test_a_comma_that_could_be_either_is_asked_back(text, readings):
    with pytest.raises(AmbiguousNumber) as refused:
        read_number(text)
    assert refused.value.readings == readings


def test_a_number_longer_than_any_kitchen_amount_is_refused():
    assert read_number("9" * 12) == Decimal("9" * 12)
    with pytest.raises(TooManyDigits):
        read_number("9" * 13)


def test_a_very_long_text_is_refused_and_not_chewed():
    with pytest.raises(BakingError):
        read_number("1" * 100_000 + "x")


@pytest.mark.parametrize(
    ("text", "number", "word"),
    [
        ("250 g", "250", "g"),
        ("250g", "250", "g"),
        ("2 1/2 cups", "2.5", "cups"),
        ("2½ fl oz", "2.5", "fl oz"),
        ("25 °C", "25", "°C"),
        ("3", "3", ""),
    ],
)
def test_the_words_behind_a_number_are_kept(text, number, word):
    quantity = read_quantity(text)
    assert (quantity.number, quantity.word) == (Decimal(number), word)


@pytest.mark.parametrize("text", ["1e400", "1e3", "5 _", "5 -", "2 x 3", "1 cup 2", "5 /", "1%"])
def test_what_stands_behind_a_number_must_look_like_a_unit(text):
    with pytest.raises(Unreadable):
        read_quantity(text)


@pytest.mark.parametrize(("text", "number"), [("6", 6), ("6.0", 6), ("12/2", 6)])
def test_a_whole_number_is_read(text, number):
    assert read_whole(text) == number


@pytest.mark.parametrize("text", ["1.5", "1/2", "six"])
def test_a_part_of_a_piece_is_refused(text):
    with pytest.raises(Unreadable):
        read_whole(text)


@pytest.mark.parametrize(
    ("text", "minutes"),
    [("80", 80), ("80 min", 80), ("1 h 20 min", 80), ("1h20", 80), ("12 h", 720), ("0", 0)],
)
def test_a_duration_is_read_in_minutes(text, minutes):
    assert read_minutes(text) == minutes


@pytest.mark.parametrize("text", ["", "h", "soon", "-5", "1.5 h", "1 d", "123456", "١٢"])
def test_what_is_no_duration_is_refused(text):
    with pytest.raises(Unreadable):
        read_minutes(text)


@pytest.mark.parametrize(
    ("text", "celsius"),
    [("25", "25"), ("25 °C", "25"), ("25c", "25"), ("77 F", "25"), ("77 °F", "25"), ("-18", "-18")],
)
def test_a_temperature_is_read_in_celsius(text, celsius):
    assert read_celsius(text) == Decimal(celsius)


@pytest.mark.parametrize(
    ("text", "error"), [("25 g", WrongMeasure), ("25 degs", UnknownUnit), ("warm", Unreadable)]
)
def test_what_is_no_temperature_is_refused(text, error):
    with pytest.raises(error):
        read_celsius(text)


@pytest.mark.parametrize(
    "error", [Unreadable("x"), AmbiguousNumber("1,000", ("1000", "1.000")), TooManyDigits("9" * 40)]
)
def test_an_error_can_be_kept_in_a_set(error):
    assert error in {error}
