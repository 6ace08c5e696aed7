"""What an import is unsure of about a recipe as a whole, as named values with fields."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.importing.doubts import Doubt


@dataclass(frozen=True, slots=True)
class YieldAndLines(Doubt):
    """The yield in pieces of `piece_g` does not match the lines of the dough."""

    pieces: int
    piece_g: Decimal
    lines_g: Decimal


@dataclass(frozen=True, slots=True)
class TitleGuessed(Doubt):
    """One of several lines that may be the title, in `text`."""

    text: str


@dataclass(frozen=True, slots=True)
class NotSaid(Doubt):
    """Something about the whole that the text does not say: its `title` or its `pieces`."""

    what: str


@dataclass(frozen=True, slots=True)
class PiecesGuessed(Doubt):
    """Pieces without a stated yield; the method counts them in `text`."""

    text: str


@dataclass(frozen=True, slots=True)
class TotalDisagrees(Doubt):
    """A total for `name` in the text that its lines do not add up to."""

    name: str
    said_g: Decimal
    lines_g: Decimal


@dataclass(frozen=True, slots=True)
class PartTakenOtherwise(Doubt):
    """A dough that uses `said_g` of another part, whose lines add up to `made_g`."""

    name: str
    said_g: Decimal
    made_g: Decimal


@dataclass(frozen=True, slots=True)
class WorkedOutByPercent(Doubt):
    """A percentage converted to grams from the yield, since no mass is written."""

    percent: Decimal


@dataclass(frozen=True, slots=True)
class OnlyPercent(Doubt):
    """A percentage without any mass, total or yield to work it out from."""

    percent: Decimal


@dataclass(frozen=True, slots=True)
class Corrected(Doubt):
    """A line that corrects itself; `dropped` is what no longer counts."""

    dropped: str


@dataclass(frozen=True, slots=True)
class TakenAsGrams(Doubt):
    """A bare number among amounts of a list, taken as grams."""


@dataclass(frozen=True, slots=True)
class OtherBatch(Doubt):
    """An amount of one of several batches that a list has columns for, in grams."""

    taken_g: Decimal


@dataclass(frozen=True, slots=True)
class NotRead(Doubt):
    """An amount in the text, in its words, that no line contains."""

    text: str


@dataclass(frozen=True, slots=True)
class EmptyPart(Doubt):
    """A part that a heading opens, under which no line was read."""

    name: str


@dataclass(frozen=True, slots=True)
class PartGuessed(Doubt):
    """A line of which nothing says for sure whether it goes into the dough."""
