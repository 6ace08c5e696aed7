"""Where readings are marked in the source, and what has no reading."""

import pytest

from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.recipe import read_text
from recipes.review.marked import Mark, pieces_of, read_spans, spans_of, unread_in

TEXT = """Loaf

- 500 g flour
* ½ tsp salt

1) Mix for 10 minutes.  Let rise 1½ hours — covered — until doubled.
Bake at 220 °C for 35 minutes.
"""


def marked(text: str) -> tuple[list[str], list[str]]:
    """The lines and the steps of a text as they stand in it."""
    read = read_text(text, IngredientBook(()))
    spans = spans_of(read)
    return tuple(
        [read.source[start:end] for start, end in some] for some in (spans.lines, spans.steps)
    )


def test_readings_are_marked_by_their_own_words():
    lines, steps = marked(TEXT)
    assert lines == ["- 500 g flour", "* ½ tsp salt"]
    assert [step.strip(" .") for step in steps] == [
        "Mix for 10 minutes",
        "Let rise 1½ hours — covered — until doubled",
        "Bake at 220 °C for 35 minutes",
    ]


def test_the_same_words_twice_are_marked_one_after_the_other():
    text = "Loaf\n500 g flour\nMix for 5 minutes. Bake for 40 minutes. Mix for 5 minutes.\n"
    read = read_text(text, IngredientBook(()))
    first, _, last = spans_of(read).steps
    assert first[1] <= last[0]


def test_what_is_in_no_reading_is_told_unless_it_says_nothing():
    source = "Loaf\nStep 1: mix 500 g flour\n60 g water\nand then\nThis is for a cold day"
    spans = [(0, 4), (13, 16), (17, 28)]
    assert [text for text, _ in unread_in(source, spans)] == [
        "60 g water",
        "This is for a cold day",
    ]
    (_, (start, end)), _ = unread_in(source, spans)
    assert source[start:end].strip() == "60 g water"


def mark(start: int, end: int, anchor: str = "row") -> Mark:
    return Mark((start, end), anchor, "Check")


@pytest.mark.parametrize(
    ("marks", "expected"),
    [
        pytest.param([], [("one two\n", 0, True), ("three", 0, True)], id="nothing was read"),
        pytest.param([mark(0, 13)], [("one two\nthree", 1, False)], id="all of it"),
        pytest.param(
            [mark(4, 7)],
            [("one ", 0, True), ("two", 1, False), ("\n", 0, False), ("three", 0, True)],
            id="a word",
        ),
        pytest.param(
            [mark(0, 7), mark(4, 13)],
            [("one ", 1, False), ("two", 1, False), ("\nthree", 1, False)],
            id="two that overlap",
        ),
        pytest.param([mark(0, 13), mark(0, 13)], [("one two\nthree", 2, False)], id="twice"),
        pytest.param([mark(0, 99)], [("one two\n", 0, True), ("three", 0, True)], id="forged"),
    ],
)
def test_what_has_words_and_no_mark_is_unread(marks, expected):
    pieces = pieces_of("one two\nthree", marks)
    assert [
        (piece.text, bool(piece.mark) + len(piece.also), piece.unread) for piece in pieces
    ] == expected


def test_an_ingredient_within_a_step_has_its_own_mark():
    step, line = Mark((0, 20), "step", "Understood"), Mark((5, 10), "line", "Check")
    pieces = pieces_of("Take flour and mix it", [line, step])
    shown = [(piece.text, piece.mark and piece.mark.anchor, piece.begins) for piece in pieces]
    assert shown[:3] == [
        ("Take ", "step", True),
        ("flour", "line", True),
        (" and mix i", "step", False),
    ]


def test_only_spans_are_read_of_a_hidden_field():
    assert read_spans("3-8 9-2 x 99999999-1 5 4-4 10-12") == [(3, 8), (10, 12)]
