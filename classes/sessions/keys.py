"""Keys of rows as a form or an address names them."""

from __future__ import annotations

MOST_FIGURES = 18


def key_of(text: str | None) -> int:
    """The key that a text names; 0, which no row has, for anything else."""
    named = (text or "").strip()
    known = named.isascii() and named.isdecimal() and len(named) <= MOST_FIGURES
    return int(named) if known else 0
