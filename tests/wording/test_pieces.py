"""Pieces in words."""

import pytest

from wording.lists import pieces_in_words


@pytest.mark.parametrize(
    ("pieces", "name", "words"),
    [
        (1, "loaf", "1 loaf"),
        (12, "loaf", "12 loaves"),
        (2, "pan loaf", "2 pan loaves"),
        (0, "roll", "0 rolls"),
        (3, "batch", "3 batches"),
        (2, "cross", "2 crosses"),
    ],
)
def test_more_than_one_piece_has_its_plural(pieces, name, words):
    assert pieces_in_words(pieces, name) == words
