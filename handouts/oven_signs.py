"""The signs for an oven's door: dough is inside, or it is hot."""

from __future__ import annotations

from enum import Enum


class Warns(Enum):
    """A warning: its name, its words, what its drawing shows, and what is filled in by hand."""

    DOUGH_INSIDE = (
        "dough-inside",
        ("Dough inside", "Do not turn on"),
        "An oven with a bowl of dough in it; its knob points to off.",
        ("Since", "Out by"),
    )
    HOT = (
        "hot",
        ("Hot", "Do not touch"),
        "An oven that glows at its edges, and a mitt beside it.",
        ("On since", "Off at"),
    )

    def __init__(
        self, label: str, words: tuple[str, str], drawn: str, writes: tuple[str, str]
    ) -> None:
        self.label = label
        self.words = words
        self.drawn = drawn
        self.writes = writes
