"""A black shape for each station, the same on every paper that shows the station.

The shapes differ in outline, so they stay apart when photocopied, and none is another one turned,
so a lid may lie any way around.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import Enum


class Shape(Enum):
    """A plain shape: its name, and its outline in a square of 100 by 100, filled even-odd."""

    DISC = "disc", "M50 5A45 45 0 1 1 50 95A45 45 0 1 1 50 5Z"
    SQUARE = "square", "M3 3H97V97H3Z"
    TRIANGLE = "triangle", "M50 4L98 92H2Z"
    CROSS = "cross", "M34 4H66V34H96V66H66V96H34V66H4V34H34Z"
    RING = (
        "ring",
        "M50 4A46 46 0 1 1 50 96A46 46 0 1 1 50 4ZM50 26A24 24 0 1 0 50 74A24 24 0 1 0 50 26Z",
    )
    HOURGLASS = "hourglass", "M6 4H94L60 50L94 96H6L40 50Z"
    FRAME = "frame", "M8 8H92V92H8ZM30 30V70H70V30Z"
    HALF = "half disc", "M2 26H98A48 48 0 0 1 2 26Z"
    STAR = "star", "M50 2L62 36H98L69 57L80 92L50 71L20 92L31 57L2 36H38Z"
    BARS = "two bars", "M4 12H96V40H4ZM4 60H96V88H4Z"
    TENT = "open triangle", "M50 2L99 94H1ZM50 40L29 78H71Z"
    BALLS = (
        "two discs",
        "M26 26A24 24 0 1 1 26 74A24 24 0 1 1 26 26ZM74 26A24 24 0 1 1 74 74A24 24 0 1 1 74 26Z",
    )

    def __init__(self, words: str, outline: str) -> None:
        self.words = words
        self.outline = outline


Shapes = tuple[Shape, ...]
_ALL = tuple(Shape)


def shapes_of(stations: Sequence[str]) -> Mapping[str, Shapes]:
    """The shapes of a class's stations, in the kitchen's order: one each, two from the 13th on."""
    return {name: _numbered(number) for number, name in enumerate(stations)}


def _numbered(number: int) -> Shapes:
    first, second = divmod(number, len(_ALL))
    return (_ALL[(first - 1) % len(_ALL)], _ALL[second]) if first else (_ALL[second],)
