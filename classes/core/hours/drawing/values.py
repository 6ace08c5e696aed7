"""What a drawing of a plan is made of: rectangles, lines and words, for any template to print.

Coordinates are in the drawing's own units, from its top left corner, to a tenth.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


class Look(StrEnum):
    """How a bar is filled, so that a photocopy tells it apart; the template holds the patterns."""

    HANDS = "hands"
    WATCH = "watch"
    BREAK = "break"
    WAIT = "wait"
    HEAT = "heat"
    BAKE = "bake"
    COOL = "cool"

    @property
    def word(self) -> str:
        """What the key says it is."""
        return _KEY[self]


_KEY = {
    Look.HANDS: "hands on",
    Look.WATCH: "watching",
    Look.BREAK: "break",
    Look.WAIT: "rising or resting",
    Look.HEAT: "oven heats",
    Look.BAKE: "baking",
    Look.COOL: "cooling",
}


class Tone(StrEnum):
    """How words are set: as on paper, light on a dark bar, quiet, or as what must be seen."""

    INK = "ink"
    LIGHT = "light"
    QUIET = "quiet"
    STRONG = "strong"


class Anchor(StrEnum):
    """Which end of a line of words stands at its point."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle by its top left corner and its size."""

    x: Decimal
    y: Decimal
    width: Decimal
    height: Decimal

    @property
    def right(self) -> Decimal:
        return self.x + self.width

    @property
    def bottom(self) -> Decimal:
        return self.y + self.height


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line; a strong one for whole hours and between blocks."""

    x1: Decimal
    y1: Decimal
    x2: Decimal
    y2: Decimal
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Word:
    """A line of words on its baseline."""

    x: Decimal
    y: Decimal
    text: str
    size: Decimal
    anchor: Anchor = Anchor.START
    tone: Tone = Tone.INK


@dataclass(frozen=True, slots=True)
class Bar:
    """A time of somebody or something.

    `plaque` is a plain ground for words on a pattern. Where only a share of places is taken,
    `rect` is that share of `whole`, which is `framed` where it is one load. `title` tells
    everything in words.
    """

    rect: Rect
    look: Look
    title: str
    words: tuple[Word, ...] = ()
    plaque: Rect | None = None
    whole: Rect | None = None
    framed: bool = False


@dataclass(frozen=True, slots=True)
class Sample:
    """An entry of the key: a filled rectangle, or a letter, and its word."""

    words: tuple[Word, ...]
    rect: Rect | None = None
    look: Look | None = None


@dataclass(frozen=True, slots=True)
class Mark:
    """A moment of the class as a line through all lanes, with its word."""

    line: Stroke
    words: tuple[Word, ...]
    plaque: Rect | None = None


@dataclass(frozen=True, slots=True)
class DrawnEdition:
    """A drawing in one shape, with what it shows in a sentence. `plot` is where the bars lie.

    `bands` are when all watch or pause, and what comes after the end of the class. `name` tells
    the editions of a drawing apart.
    """

    name: str
    summary: str
    width: Decimal
    height: Decimal
    plot: Rect
    key: tuple[Sample, ...]
    bands: tuple[Rect, ...]
    grid: tuple[Stroke, ...]
    rules: tuple[Stroke, ...]
    names: tuple[Word, ...]
    bars: tuple[Bar, ...]
    starts: Mark
    ends: Mark
    ready: Mark


@dataclass(frozen=True, slots=True)
class Drawing:
    """A plan as a drawing.

    In `wide` time runs to the right and every lane is a row. In `tall`, for a narrow screen, time
    runs down and every lane is a column; people and machines stand under each other where they
    are too many for one.
    """

    wide: DrawnEdition
    tall: tuple[DrawnEdition, ...]
