"""Two lists printed side by side, put one after the other."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import groupby

_SIDES = re.compile(r"^(?P<left>.*?\S)\s{4,}(?P<right>\S.*)$")
_AMOUNT_OF = re.compile(r"^\W{0,3}[0-9½¼¾].*[^\W\d_]{3}")
_LEAST_ROWS = 2
LONGEST = 200

Numbered = tuple[int, str]


def unfolded(lines: Sequence[str]) -> list[Numbered]:
    """The lines with their numbers from 1; of lists side by side, the right one comes second."""
    numbered = list(enumerate(lines, start=1))
    found: list[Numbered] = []
    for blank, block in groupby(numbered, key=lambda pair: not pair[1].strip()):
        rows = list(block)
        found += rows if blank else _in_order(rows)
    return found


def _in_order(rows: list[Numbered]) -> list[Numbered]:
    """A block's lines, with those of its right column after the left ones."""
    sides = [_SIDES.match(line) if len(line) < LONGEST else None for _, line in rows]
    both = [s for s in sides if s and all(map(_AMOUNT_OF.match, (s["left"], s["right"])))]
    if len(both) < _LEAST_ROWS:
        return rows
    left = [(n, side["left"] if side else line)
            for (n, line), side in zip(rows, sides, strict=True)]  # fmt: skip
    right = [(n, side["right"]) for (n, _), side in zip(rows, sides, strict=True) if side]
    return [*left, *right]
