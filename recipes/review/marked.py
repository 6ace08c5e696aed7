"""The source of an import with every reading marked in it.

A span is a stretch of the source, from its first character to after its last. The sheet carries the
spans and never searches again, so a mark stays where it is while its reading is changed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from recipes.importing.values import Place, Reading

Span = tuple[int, int]
LONGEST_SOURCE = 60_000
# How many words of the source may be between two words of a reading.
_AHEAD = 6
# Fewer words without a figure, such as `and then`, join two readings and say nothing.
_LEAST_SAYING = 4
_WORD, _LETTER = re.compile(r"[^\W_]+"), re.compile(r"[^\W\d_]")
_NUMBERING = re.compile(r"(?:step\s+)?[0-9]{1,3}\s?[:.)]?", re.IGNORECASE)
_SPAN = re.compile(r"([0-9]{1,5})-([0-9]{1,5})", re.ASCII)


@dataclass(frozen=True, slots=True)
class Spans:
    """Where a reading's lines and steps are, in their order, and what went elsewhere."""

    lines: tuple[Span | None, ...]
    steps: tuple[Span | None, ...]
    left: tuple[Span | None, ...]
    head: tuple[Span, ...]


def spans_of(read: Reading) -> Spans:
    """The spans of a reading, each as narrow as its own words."""
    steps = zip(read.step_places, (step.text for step in read.written.steps), strict=False)
    return Spans(
        _found(read.source, ((line.place, line.text) for line in read.lines)),
        _found(read.source, steps),
        _found(read.source, ((rest.place, rest.text) for rest in read.left_over)),
        tuple(_Finder(read.source).whole(place) for place in read.head_places),
    )


def _found(source: str, readings: Iterable[tuple[Place | None, str]]) -> tuple[Span | None, ...]:
    """The spans of readings of one kind: an ingredient may stand within a step."""
    finder = _Finder(source)
    return tuple(finder.span(place, text) for place, text in readings)


class _Finder:
    """Finds readings one after the other; those of one place are in order."""

    def __init__(self, source: str) -> None:
        self.source = source
        starts = [0]
        for line in source.split("\n"):
            starts.append(starts[-1] + len(line) + 1)
        self.starts = starts
        self.reached: dict[Place, int] = {}

    def whole(self, place: Place) -> Span:
        return self.starts[place.first - 1], self.starts[place.last] - 1

    def span(self, place: Place | None, text: str) -> Span | None:
        """Where a text is in its place; the whole place if its words are not found."""
        if place is None or not self.source:
            return None
        start, end = self.whole(place)
        at = self.reached.get(place, start)
        found = self.source.find(text.strip(), at, end)
        span = (found, found + len(text.strip())) if found >= 0 else self._loosely(text, at, end)
        if span is None:
            return start, end
        self.reached[place] = span[1]
        return span

    def _loosely(self, text: str, at: int, end: int) -> Span | None:
        """The stretch that contains most of a text's words in their order."""
        wanted = [word.casefold() for word in _WORD.findall(text)]
        there = list(_WORD.finditer(self.source, at, end))
        words = [word[0].casefold() for word in there]
        first = next((n for n in range(len(words)) if _begins(words[n : n + 4], wanted)), None)
        if first is None:
            return None
        last, held = first, 0
        for word in wanted:
            ahead = words[last : last + _AHEAD]
            if word in ahead:
                last, held = last + ahead.index(word) + 1, held + 1
        if held * 2 < len(wanted):
            return None
        return there[first].start(), there[max(last - 1, first)].end()


def _begins(words: list[str], wanted: list[str]) -> bool:
    """Whether words begin as those that are wanted."""
    return words[:1] == wanted[:1] and (len(wanted) < 2 or wanted[1] in words[1:])


def span_text(span: Span | None) -> str:
    """A span as a hidden field holds it."""
    return f"{span[0]}-{span[1]}" if span else ""


def read_spans(text: str) -> list[Span]:
    """The spans of a hidden field; anything else is ignored."""
    found = [(int(a), int(b)) for a, b in _SPAN.findall(text[:LONGEST_SOURCE])]
    return [(start, end) for start, end in found if start < end]


@dataclass(frozen=True, slots=True)
class Mark:
    """A reading at a span; `anchor` is the id of its row, empty for the head."""

    span: Span
    anchor: str
    state: str
    words: str = ""
    shape: str = ""
    asks: bool = False


@dataclass(frozen=True, slots=True)
class SourcePiece:
    """A stretch of the source and the narrowest reading it was read into, if any.

    `begins` if that reading does; `also` are readings without a stretch of their own.
    """

    text: str
    mark: Mark | None = None
    begins: bool = False
    also: tuple[Mark, ...] = ()
    unread: bool = False


def pieces_of(source: str, marks: Iterable[Mark]) -> list[SourcePiece]:
    """The source cut up at its marks. What has words and no mark is `unread`."""
    within = [mark for mark in marks if mark.span[1] <= len(source)]
    cuts = sorted({0, len(source), *(end for mark in within for end in mark.span)})
    stretches = list(_cut(cuts, sorted(within, key=lambda mark: mark.span)))
    shown = {id(_narrowest(running)) for _, running in stretches if running}
    return list(_pieces(source, stretches, shown))


def unread_in(source: str, spans: Iterable[Span | None]) -> Iterator[tuple[str, Span]]:
    """What no span covers of a source, if it says something: a figure, or a few words."""
    at = 0
    for piece in pieces_of(source, [Mark(span, "", "") for span in spans if span]):
        text = piece.text.strip()
        says = any(sign.isdigit() for sign in text) or len(_WORD.findall(text)) >= _LEAST_SAYING
        if piece.unread and says and not _NUMBERING.fullmatch(text):
            yield text, (at, at + len(piece.text.rstrip()))
        at += len(piece.text)


def _cut(cuts: list[int], marks: list[Mark]) -> Iterator[tuple[Span, list[Mark]]]:
    """The stretches between cuts, each with the marks that cover it."""
    waiting, running = iter([*marks, None]), list[Mark]()
    coming = next(waiting)
    for start, end in pairwise(cuts):
        running = [mark for mark in running if mark.span[1] > start]
        while coming is not None and coming.span[0] <= start:
            running.append(coming)
            coming = next(waiting)
        yield (start, end), running


def _narrowest(marks: list[Mark]) -> Mark:
    """Of several marks, one that leads to a row, and then the shortest."""
    return min(marks, key=lambda mark: (not mark.anchor, mark.span[1] - mark.span[0]))


def _pieces(
    source: str, stretches: list[tuple[Span, list[Mark]]], shown: set[int]
) -> Iterator[SourcePiece]:
    """The pieces; what was not read comes line by line."""
    begun: set[int] = set()
    for (start, end), running in stretches:
        text = source[start:end]
        if not running:
            lines = text.splitlines(keepends=True)
            yield from (
                SourcePiece(line, unread=_LETTER.search(line) is not None) for line in lines
            )
            continue
        mark = _narrowest(running)
        hidden = [other for other in running if id(other) not in shown and id(other) not in begun]
        yield SourcePiece(
            text, mark, id(mark) not in begun, tuple(other for other in hidden if other.anchor)
        )
        begun |= {id(mark), *map(id, hidden)}
