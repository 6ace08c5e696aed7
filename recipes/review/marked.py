"""The source of an import with every reading marked in it.

A span is a stretch of the source, from its first to behind its last character. The sheet carries
spans and finds none again, so a mark stays where it is while its reading is changed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from recipes.importing.values import Place, Reading

Span = tuple[int, int]
LONGEST_SOURCE = 60_000
# How many words of the source may stand between two words of a reading.
_AHEAD = 6
# Fewer words without a figure, such as `and then`, join two readings and say nothing.
_LEAST_SAYING = 4
_WORD, _LETTER = re.compile(r"[^\W_]+"), re.compile(r"[^\W\d_]")
_NUMBERING = re.compile(r"(?:step\s+)?[0-9]{1,3}\s?[:.)]?", re.IGNORECASE)
_SPAN = re.compile(r"([0-9]{1,5})-([0-9]{1,5})", re.ASCII)


@dataclass(frozen=True, slots=True)
class Spans:
    """Where the lines and steps of a reading stand, in their order, and what went elsewhere."""

    lines: tuple[Span | None, ...]
    steps: tuple[Span | None, ...]
    left: tuple[Span | None, ...]
    head: tuple[Span, ...]


def spans_of(read: Reading) -> Spans:
    """The spans of a reading, each as narrow as its own words."""
    finder = _Finder(read.source)
    return Spans(
        tuple(finder.span(line.place, line.text) for line in read.lines),
        tuple(
            finder.span(place, step.text)
            for place, step in zip(read.step_places, read.written.steps, strict=False)
        ),
        tuple(finder.span(rest.place, rest.text) for rest in read.left_over),
        tuple(finder.whole(place) for place in read.head_places),
    )


class _Finder:
    """Finds readings one after the other; those of one place stand in their order."""

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
        """Where a text stands in its place; all of the place where its words are not found."""
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
        """The stretch that holds most of a text's words in their order."""
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
    """The spans of a hidden field; what is none is passed over."""
    found = [(int(a), int(b)) for a, b in _SPAN.findall(text[:LONGEST_SOURCE])]
    return [(start, end) for start, end in found if start < end]


@dataclass(frozen=True, slots=True)
class Mark:
    """A reading that stands at a span; `anchor` is the id of its row, empty for the head."""

    span: Span
    anchor: str
    state: str
    words: str = ""
    shape: str = ""
    asks: bool = False


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of the source, with the readings that it was read into."""

    text: str
    marks: tuple[Mark, ...] = ()
    unread: bool = False


def pieces_of(source: str, marks: Iterable[Mark]) -> list[Piece]:
    """The source cut up at its marks. What has words and no mark is `unread`."""
    within = [mark for mark in marks if mark.span[1] <= len(source)]
    cuts = sorted({0, len(source), *(end for mark in within for end in mark.span)})
    opened = sorted(within, key=lambda mark: mark.span)
    return list(_joined(_cut(source, cuts, opened)))


def unread_in(source: str, spans: Iterable[Span | None]) -> Iterator[tuple[str, Span]]:
    """What of a source no span holds, as far as it says something: a figure, or a few words."""
    at = 0
    for piece in pieces_of(source, [Mark(span, "", "") for span in spans if span]):
        text = piece.text.strip()
        says = any(sign.isdigit() for sign in text) or len(_WORD.findall(text)) >= _LEAST_SAYING
        if piece.unread and says and not _NUMBERING.fullmatch(text):
            yield text, (at, at + len(piece.text.rstrip()))
        at += len(piece.text)


def _cut(source: str, cuts: list[int], marks: list[Mark]) -> Iterator[Piece]:
    waiting, running = iter([*marks, None]), list[Mark]()
    coming = next(waiting)
    for start, end in pairwise(cuts):
        running = [mark for mark in running if mark.span[1] > start]
        while coming is not None and coming.span[0] <= start:
            running.append(coming)
            coming = next(waiting)
        text = source[start:end]
        yield Piece(text, tuple(running), not running and _LETTER.search(text) is not None)


def _joined(pieces: Iterable[Piece]) -> Iterator[Piece]:
    """The pieces, unread ones line by line, so that each is a line of its own."""
    for piece in pieces:
        if not piece.unread:
            yield piece
            continue
        for line in piece.text.splitlines(keepends=True):
            yield Piece(line, unread=_LETTER.search(line) is not None)
