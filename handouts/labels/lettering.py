"""Whether text fits a label: an estimate of its width that is never too small, in our sans.

The widths are the widest of each group of letters of Lato, bold or not, in shares of the size of
type, measured once in the font. Anything outside Latin counts as wider than any of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from functools import cache

ELLIPSIS = "…"
LONGEST = 600
_GROUPS = (
    ("0.24", "'’,."),
    ("0.262", "lij \u00a0:|"),
    ("0.282", ";()·!"),
    ("0.315", "I{}[]"),
    ("0.374", "ft-r"),
    ("0.44", '"`°*Js'),
    ("0.47", "?z/\\_"),
    ("0.483", "c"),
    ("0.523", "aLx"),
    ("0.55", "gvyekS"),
    ("0.58", "hnuFbdqpoE0123456789#$+<=>^~–×"),
    ("0.62", "TZP"),
    ("0.65", "RY"),
    ("0.7", "BCXKAV"),
    ("0.745", "&GU"),
    ("0.775", "DHN…"),
    ("0.81", "wOQ"),
    ("0.845", "m@%"),
    ("0.946", "M"),
    ("1.052", "W"),
)
_WIDTHS = {letter: Decimal(width) for width, letters in _GROUPS for letter in letters}
_LATIN_BELOW, _LATIN, _OTHER = "\u0250", Decimal("0.95"), Decimal("1.3")


@cache
def _width(letter: str) -> Decimal:
    known = _WIDTHS.get(letter)
    return known if known is not None else _LATIN if letter < _LATIN_BELOW else _OTHER


def width_pt(text: str, size_pt: Decimal) -> Decimal:
    """The most that a run of text is wide, in points, at a size of type."""
    return size_pt * sum((_width(letter) for letter in text), Decimal(0))


def lines_needed(text: str, size_pt: Decimal, wide_pt: Decimal) -> int:
    """How many lines of some width a text takes; words wider than a line are broken."""
    lines, left_pt = 1, wide_pt
    for word in _words(text):
        own_pt = width_pt(word, size_pt)
        if own_pt > left_pt and left_pt < wide_pt:
            lines, left_pt = lines + 1, wide_pt
        if own_pt > wide_pt:
            broken = _broken(word, size_pt, wide_pt)
            lines, own_pt = lines + len(broken) - 1, width_pt(broken[-1], size_pt)
        left_pt -= own_pt + width_pt(" ", size_pt)
    return lines


def _words(text: str) -> list[str]:
    """The words as lines are broken: a no-break space does not part them."""
    return text.replace("\n", " ").split(" ")


def _broken(word: str, size_pt: Decimal, wide_pt: Decimal) -> list[str]:
    return list(_pieces(word, size_pt, wide_pt))


def _pieces(word: str, size_pt: Decimal, wide_pt: Decimal) -> Iterator[str]:
    piece, piece_pt = "", Decimal(0)
    for letter in word:
        letter_pt = width_pt(letter, size_pt)
        if piece and piece_pt + letter_pt > wide_pt:
            yield piece
            piece, piece_pt = "", Decimal(0)
        piece, piece_pt = piece + letter, piece_pt + letter_pt
    yield piece


def cut(text: str, size_pt: Decimal, wide_pt: Decimal, lines: int = 1) -> str:
    """The text, cut with an ellipsis if it takes more than so many lines."""
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
    room_pt = wide_pt - width_pt(tail, size_pt)
    if room_pt <= width_pt(ELLIPSIS, size_pt):
        return cut(label, size_pt, wide_pt)
    return cut(title, size_pt, room_pt) + tail
