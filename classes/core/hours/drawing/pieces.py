"""What is in the lanes of a drawing, in minutes, and the words that may be written on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from classes.core.hours.drawing.spans import Activity, ActivityKind
from classes.core.hours.drawing.values import Look
from recipes.core.choices import StepKind

LOOKS = {
    ActivityKind.HANDS: Look.HANDS,
    ActivityKind.WATCH: Look.WATCH,
    ActivityKind.BREAK: Look.BREAK,
    ActivityKind.HEAT: Look.HEAT,
    ActivityKind.RISE: Look.WAIT,
    ActivityKind.REST: Look.WAIT,
    ActivityKind.BAKE: Look.BAKE,
    ActivityKind.COOL: Look.COOL,
}
WATCH = "Watch: "
_SHORTER = {
    "Divide and shape": ("Shape",),
    "Welcome and cautions": ("Welcome", "Start"),
    "Take up the brought dough": ("Take up",),
    "Clean up": ("Clean",),
    f"{WATCH}divide and shape": (f"{WATCH}shape", "Watch"),
    f"{WATCH}mix": ("Watch",),
}


class StripRole(StrEnum):
    """What a strip shows: everybody, hands, a dough, turns at a mixer, or places taken."""

    ALL = "all"
    HANDS = "hands"
    DOUGH = "dough"
    TURNS = "turns"
    PLACES = "places"


class Block(StrEnum):
    """A block of lanes."""

    PEOPLE = "people"
    OVENS = "ovens"
    MIXERS = "mixers"
    STORES = "stores"


@dataclass(frozen=True, slots=True)
class Piece:
    """A time in a strip: what may be written on it, the longest first, and all of it in `title`.

    `last` is written on it if nothing else fits on it or beside it. `mark` is the letter of its
    bread, `share` how many places of how many are taken.
    """

    starts: int
    ends: int
    look: Look
    words: tuple[str, ...]
    title: str
    last: str = ""
    mark: str = ""
    share: tuple[int, int] | None = None

    @property
    def seen(self) -> object:
        """Everything that shows: all but the title."""
        return self.starts, self.ends, self.look, self.words


@dataclass(frozen=True, slots=True)
class Strip:
    """Times of one pair of hands, one dough or one machine; `mark` is the dough's letter."""

    role: StripRole
    pieces: tuple[Piece, ...]
    mark: str = ""

    @property
    def seen(self) -> object:
        """Everything that shows: all but the titles."""
        return self.role, self.mark, tuple(piece.seen for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class Lane:
    """A row or column of the drawing: its name, a short one, and a note on what it is."""

    part: Block
    name: str
    note: str
    strips: tuple[Strip, ...]
    short: str = ""


def words_of(span: Activity, mark: str, degrees: str) -> tuple[str, ...]:
    """What may be written on a span, the longest first; `mark` is the letter of its bread."""
    if span.kind is ActivityKind.HEAT:
        return once(f"heats to {degrees}" if degrees else "", "heats")
    if span.kind is ActivityKind.COOL:
        return ("cools",)
    if span.kind is ActivityKind.BAKE:
        return once(f"bakes, {degrees}" if degrees else "", "bakes")
    if span.kind in (ActivityKind.RISE, ActivityKind.REST):
        word = "rises" if span.kind is ActivityKind.RISE else "rests"
        word = "proofs" if span.step is StepKind.PROOF else word
        warm = (f"{word}, {span.where}, {degrees}", f"{word}, {degrees}") if degrees else ()
        return (*warm, word)
    texts = (span.what, *_SHORTER.get(span.what, ()))
    return once(*(f"{text} {mark}" for text in texts), texts[-1])


def once(*texts: str) -> tuple[str, ...]:
    """The texts stripped, without duplicates or empty ones."""
    return tuple(dict.fromkeys(text.strip() for text in texts if text.strip()))


def union(times: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Times that touch or overlap as one, in order; empty ones are left out."""
    found: list[tuple[int, int]] = []
    for starts, ends in sorted(times):
        if starts >= ends:
            continue
        if found and starts <= found[-1][1]:
            found[-1] = (found[-1][0], max(ends, found[-1][1]))
        else:
            found.append((starts, ends))
    return found


def left_free(
    starts: int, ends: int, taken: Iterable[tuple[int, int]]
) -> Iterator[tuple[int, int]]:
    """The parts of a time that others leave free; those are sorted and do not overlap."""
    for begins, stops in taken:
        if starts < min(begins, ends):
            yield starts, min(begins, ends)
        starts = max(starts, stops)
    if starts < ends:
        yield starts, ends


def in_turn(spans: Iterable[Activity]) -> list[list[Activity]]:
    """Spans on as few lines as possible, without overlap."""
    lines: list[list[Activity]] = []
    for span in sorted(spans, key=lambda span: (span.starts, span.ends)):
        free = next((line for line in lines if line[-1].ends <= span.starts), None)
        if free is None:
            lines.append([span])
        else:
            free.append(span)
    return lines
