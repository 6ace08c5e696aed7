"""Pieces of bread in words."""

from __future__ import annotations


def pieces_in_words(pieces: int, name: str) -> str:
    """So many of a piece, for people to read: `1 loaf`, `12 loaves`."""
    return f"{pieces} {name if pieces == 1 else _plural(name)}"


def _plural(name: str) -> str:
    if name.endswith("loaf"):
        return f"{name[:-1]}ves"
    return f"{name}es" if name.endswith(("s", "x", "ch", "sh")) else f"{name}s"
