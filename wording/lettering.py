"""How wide words are in print, closely enough to know what they fit into."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from wording.widths import WIDTHS

ELLIPSIS = "…"
_THOUSANDTH = Decimal("0.001")
_UNKNOWN = 1500  # wider than any letter of the table
_WIDTH = {letter: width for width, letters in WIDTHS.items() for letter in letters}


def width_of(text: str, size: Decimal) -> Decimal:
    """The width of a line of text in the unit of its size, at least that in our sans."""
    return sum(_WIDTH.get(letter, _UNKNOWN) for letter in text) * size * _THOUSANDTH


def wrapped(text: str, width: Decimal, size: Decimal, most: int) -> tuple[str, ...] | None:
    """The text in lines of a width, broken at spaces; None if it needs too many."""
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, size) <= width:
            lines[-1] = longer
        elif len(lines) < most and width_of(word, size) <= width:
            lines.append(word)
        else:
            return None
    return tuple(lines)


def fitting(
    texts: Sequence[str], width: Decimal, size: Decimal, most: int = 1
) -> tuple[str, ...] | None:
    """The first of the texts that fits, in lines; None if none does."""
    return next((found for text in texts if (found := wrapped(text, width, size, most))), None)


def cut(text: str, width: Decimal, size: Decimal, most: int = 1) -> tuple[str, ...]:
    """The text in a limited number of lines, cut short with an ellipsis if needed."""
    for end in range(len(text), 0, -1):
        shown = text if end == len(text) else text[:end].rstrip() + ELLIPSIS
        if found := wrapped(shown, width, size, most):
            return found
    return ()
