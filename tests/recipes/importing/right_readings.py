"""The notation for what a text says: one fact a line, `#` begins a comment.

yield: 16 x 58                         pieces x grams of dough in one, ? where not said
part: dough | For the dough            kind | heading
line: bread-flour,kind:flour | 600     keys or kinds that are right | grams
line: bread-flour | 240-290 !          any of these grams; ! needs a doubt
line: part | 1771                      names another part and is no line of its own
step: bake | 0 | 15+20 | 220+190       kind | hands-on min | waiting min | °C, stages by +
left_out: Love,                        how a text begins that must be listed as left out
whole_doubt: lines add to 696 g        the recipe as a whole must be doubted
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from decimal import Decimal

FIGURES = ("dough_temperature_c", "core_temperature_c", "bake_loss_percent")
_SPAN = re.compile(r"(-?[0-9.]+)(?:\s*-\s*(-?[0-9.]+))?")


@dataclass(frozen=True)
class Span:
    """All numbers from `low` to `high`; a lone number takes in what is rounded to its digits."""

    text: str
    low: Decimal
    high: Decimal

    def holds(self, value: str | int | None) -> bool:
        return value is not None and self.low <= Decimal(value) <= self.high


NOT_SAID = None
Figure = Span | None


@dataclass(frozen=True)
class RightLine:
    part_kind: str
    ingredients: tuple[str, ...]
    grams: Figure
    needs_doubt: bool

    @property
    def names_part(self) -> bool:
        return self.ingredients == ("part",)


@dataclass(frozen=True)
class RightStep:
    kind: str
    hands_on: Figure
    waiting: tuple[Figure, ...]
    degrees: tuple[Figure, ...]
    needs_doubt: bool


@dataclass
class RightReading:
    region: str = ""
    title: str | None = None
    pieces: Figure = NOT_SAID
    piece_g: Figure = NOT_SAID
    figures: dict[str, Span] = field(default_factory=dict)
    lines: list[RightLine] = field(default_factory=list)
    steps: list[RightStep] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    whole_doubt: bool = False


def figure(text: str) -> Figure:
    """A number, a span of numbers, or nothing said (`?`, `-`)."""
    text = text.strip()
    if text in ("?", "-", ""):
        return NOT_SAID
    found = _SPAN.fullmatch(text)
    if found is None:
        raise ValueError(f"no number: {text!r}")
    low = Decimal(found[1])
    if found[2]:
        return Span(text, low, Decimal(found[2]))
    half = Decimal("0.5").scaleb(low.as_tuple().exponent)
    return Span(text, low - half, low + half)


def right_reading(text: str) -> RightReading:
    """What a file of facts says. Raises ValueError, with the line, for what is no fact."""
    right = RightReading()
    kind = "dough"
    for written in text.splitlines():
        fact = re.sub(r"(^|\s)#.*", "", written).strip()
        if not fact:
            continue
        name, colon, rest = fact.partition(":")
        try:
            if not colon:
                raise ValueError("no fact")
            kind = _take(right, name, rest.strip(), kind)
        except ValueError as error:
            raise ValueError(f"{written!r}: {error}") from error
    return right


def _take(right: RightReading, name: str, rest: str, kind: str) -> str:
    """Keep one fact; returns the kind of the part that the next lines belong to."""
    if name == "part":
        return rest.partition("|")[0].strip()
    if name == "line":
        right.lines.append(_line(rest, kind))
    elif name == "step":
        right.steps.append(_step(rest))
    elif name == "yield":
        pieces, _, piece_g = rest.partition(" x ")
        right.pieces, right.piece_g = figure(pieces), figure(piece_g)
    elif name in FIGURES:
        right.figures[name] = figure(rest)
    elif name == "left_out":
        right.left_out.append(rest)
    elif name == "whole_doubt":
        right.whole_doubt = True
    elif name in ("region", "title"):
        setattr(right, name, rest)
    else:
        raise ValueError("no fact of that name")
    return kind


def _doubted(rest: str) -> tuple[str, bool]:
    needs = rest.rstrip().endswith("!")
    return rest.rstrip().removesuffix("!").strip(), needs


def _line(rest: str, kind: str) -> RightLine:
    rest, needs = _doubted(rest)
    ingredients, grams = rest.split("|")
    keys = tuple(key.strip() for key in ingredients.split(","))
    return RightLine(kind, keys, figure(grams), needs)


def _step(rest: str) -> RightStep:
    rest, needs = _doubted(rest)
    kind, hands_on, waiting, degrees = (cell.strip() for cell in rest.split("|"))
    stages = tuple(figure(one) for one in waiting.split("+"))
    heats = tuple(figure(one) for one in degrees.split("+"))
    return RightStep(kind, figure(hands_on), stages, heats, needs)
