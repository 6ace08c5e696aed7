"""The sentences of a method, each with the times, temperatures and commas in it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from recipes.importing.method.heats import Heat, is_of_core, temperatures
from recipes.importing.method.lengths import TimeSpan
from recipes.importing.method.times import times
from recipes.importing.method.verbs import STEP_VERBS
from recipes.importing.text.tokens import text_of, tokenize
from recipes.importing.text.words import word_set

LONGEST_STEP = 600
_MOST_QUOTED = 8

_SENTENCE_END = re.compile(r"[.!?][\"')]?\s+(?=[^\W\d_]|[0-9(\"'])")
_WORD = re.compile(r"[^\W\d_]+")
_ABBREVIATIONS = {"approx", "e.g", "i.e", "eg", "ie", "no", "ca", "approximately", "vs", "fl"}
_OFTEN_ABBREVIATED = {"min", "mins", "hr", "hrs", "tbsp", "tsp", "oz", "deg", "lb", "in"}
_OF_TIME = {"min", "mins", "hr", "hrs"}
_AFTER_TIME = word_set("at on in for or to until and with per each a each more longer then of if")
SEPARATORS = word_set(", ; and & then while whilst before ( | + >") | {"->"}


def sentences(text: str) -> Iterator[str]:
    """The sentences of a cleaned text; abbreviations do not end one."""
    start = 0
    for found in _SENTENCE_END.finditer(text):
        word = text[max(start, found.start() - 15) : found.start()].rpartition(" ")[2].lower()
        begins = text[found.end()].isupper() or _begins_work(text, found.end(), word)
        if word in _ABBREVIATIONS or (word in _OFTEN_ABBREVIATED and not begins):
            continue
        yield text[start : found.end()].strip()
        start = found.end()
    if text[start:].strip():
        yield text[start:].strip()


def _begins_work(text: str, at: int, abbreviated: str) -> bool:
    found = _WORD.match(text, at)
    if abbreviated in _OF_TIME:
        return found is None or found[0].lower() not in _AFTER_TIME
    verb = STEP_VERBS.get(found[0].lower()) if found else None
    return verb is not None and not verb.weak


def pieces_of(text: str, most: int = LONGEST_STEP) -> Iterator[str]:
    """A text cut between words into pieces of at most `most` characters; nothing is lost."""
    while len(text) > most:
        at = text.rfind(" ", 1, most + 1)
        at = at if at > 0 else most
        yield text[:at].strip()
        text = text[at:].strip()
    if text:
        yield text


class Sentence:
    """The tokens of a sentence with its times, temperatures and the segments between commas."""

    def __init__(self, text: str, since: int | None = None) -> None:
        self.text = text
        self.tokens = tokenize(text)
        self.low = [token.low for token in self.tokens]
        self.times = list(times(self.tokens, since))
        taken = [(one.start, one.end) for one in self.times]
        heats = temperatures(self.tokens)
        self.heats = [heat for heat in heats if not _within(heat, taken)]
        self.settings = [heat for heat in self.heats if not is_of_core(self.tokens, heat)]
        self.spans = sorted([*taken, *((heat.start, heat.end) for heat in self.heats)])
        self.separators = list(self._separators())
        self.segment = self._segments()

    def _separators(self) -> Iterator[int]:
        inside = {i for start, end in self.spans for i in range(start, end)}
        depth = 0
        for i, word in enumerate(self.low):
            depth = max(0, depth + (word == "(") - (word == ")"))
            dash = word == "-" and not self.tokens[i].glued
            stop = word == "." and 0 < i < len(self.low) - 1 and not self.tokens[i + 1].glued
            if i not in inside and not depth and (word in SEPARATORS or dash or stop):
                yield i

    def _segments(self) -> list[int]:
        found, number, marks = [], 0, set(self.separators)
        for i in range(len(self.low)):
            number += i in marks
            found.append(number)
        return found

    def lengths(self, start: int, end: int) -> list[TimeSpan]:
        """The times between two tokens that are lengths."""
        return [t for t in self.times if isinstance(t, TimeSpan) and start <= t.start < end]

    def lengths_of(self, verb: int, last: int, following: int) -> list[TimeSpan]:
        """The lengths of a verb: between the same commas behind or before it, else behind it.

        `last` is the token of the verb before it, -1 if there is none.
        """
        behind = self.lengths(verb, following)
        segment = self.segment[verb]
        beside = any(self.segment[time.start] == segment for time in behind)
        if beside or (last >= 0 and self.segment[last] == segment):
            return behind
        own = [t for t in self.lengths(last + 1, verb) if self.segment[t.start] == segment]
        return own or behind

    def quoted(self, start: int, time: TimeSpan) -> str:
        """The words from a token to the end of a time, only the last few if there are many."""
        first, last = sorted((start, time.start))
        return text_of(self.tokens[max(first, last - _MOST_QUOTED) : max(time.end, start + 1)])

    def is_filled(self, start: int, end: int) -> bool:
        """Whether there is a time or temperature between two tokens."""
        return any(start <= at < end for at, _ in self.spans)


def _within(heat: Heat, taken: Sequence[tuple[int, int]]) -> bool:
    return any(start < heat.end and heat.start < end for start, end in taken)
