"""Whether text fits a label, and how it is cut if it does not."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from wording.lettering import ELLIPSIS, width_of

LONGEST = 600


def lines_needed(text: str, size_pt: Decimal, wide_pt: Decimal) -> int:
    """How many lines of a width a text takes; words wider than a line are broken."""
    lines, left_pt = 1, wide_pt
    for word in _words(text):
        own_pt = width_of(word, size_pt)
        if own_pt > left_pt and left_pt < wide_pt:
            lines, left_pt = lines + 1, wide_pt
        if own_pt > wide_pt:
            broken = _broken(word, size_pt, wide_pt)
            lines, own_pt = lines + len(broken) - 1, width_of(broken[-1], size_pt)
        left_pt -= own_pt + width_of(" ", size_pt)
    return lines


def _words(text: str) -> list[str]:
    """The words between which lines break; a no-break space does not separate them."""
    return text.replace("\n", " ").split(" ")


def _broken(word: str, size_pt: Decimal, wide_pt: Decimal) -> list[str]:
    return list(_pieces(word, size_pt, wide_pt))


def _pieces(word: str, size_pt: Decimal, wide_pt: Decimal) -> Iterator[str]:
    piece, piece_pt = "", Decimal(0)
    for letter in word:
        letter_pt = width_of(letter, size_pt)
        if piece and piece_pt + letter_pt > wide_pt:
            yield piece
            piece, piece_pt = "", Decimal(0)
        piece, piece_pt = piece + letter, piece_pt + letter_pt
    yield piece


def cut(text: str, size_pt: Decimal, wide_pt: Decimal, lines: int = 1) -> str:
    """The text, cut with an ellipsis if it takes more than a number of lines."""
    if len(text) <= LONGEST and lines_needed(text, size_pt, wide_pt) <= lines:
        return text
    text = text[:LONGEST]
    least, most = 0, len(text)
    while least < most:
        middle = (least + most + 1) // 2
        tried = text[:middle].rstrip() + ELLIPSIS
        fits = lines_needed(tried, size_pt, wide_pt) <= lines
        least, most = (middle, most) if fits else (least, middle - 1)
    return text[:least].rstrip() + ELLIPSIS


def cut_label(label: str, size_pt: Decimal, wide_pt: Decimal) -> str:
    """A revision's label in one line: its title is cut, its number only if it has to be."""
    title, comma, number = label.rpartition(", revision ")
    tail = f"{comma}{number}"
    room_pt = wide_pt - width_of(tail, size_pt)
    if room_pt <= width_of(ELLIPSIS, size_pt):
        return cut(label, size_pt, wide_pt)
    return cut(title, size_pt, room_pt) + tail
