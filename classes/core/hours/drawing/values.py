"""What a drawing of a plan is made of: rectangles, lines and words, for any template to print.

Coordinates are in the drawing's own units, from its top left corner, to a tenth.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


class Look(StrEnum):
    """How a bar is filled, to stay distinct on a photocopy; the template has the patterns."""

    HANDS = "hands"
    WATCH = "watch"
    BREAK = "break"
    WAIT = "wait"
    HEAT = "heat"
    BAKE = "bake"
    COOL = "cool"

    @property
    def word(self) -> str:
        """What the key calls it."""
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
    """How words are set: normal, light on a dark bar, subdued, or conspicuous."""

    INK = "ink"
    LIGHT = "light"
    QUIET = "quiet"
    STRONG = "strong"


class Anchor(StrEnum):
    """Which end of a line of text is at its point."""

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

    `plaque` is a plain background for words on a pattern. If only a share of places is taken,
    `rect` is that share of `whole`, which is `framed` if it is one load. `title` says everything in
    words.
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
class MomentLine:
    """A moment of the class as a line through all lanes, with its word."""

    line: Stroke
    words: tuple[Word, ...]
    plaque: Rect | None = None


@dataclass(frozen=True, slots=True)
class DrawnEdition:
    """A drawing in one shape, with a sentence that describes it. `plot` is where the bars lie.

    `bands` are when all watch or pause, and the time after the end of the class. `name`
    distinguishes the editions of a drawing.
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
    starts: MomentLine
    ends: MomentLine
    ready: MomentLine


@dataclass(frozen=True, slots=True)
class Drawing:
    """A plan as a drawing.

    In `wide` time runs to the right and every lane is a row. In `tall`, for a narrow screen, time
    runs down and every lane is a column; people and machines are stacked if there are too many for
    one row.
    """

    wide: DrawnEdition
    tall: tuple[DrawnEdition, ...]
