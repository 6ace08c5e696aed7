"""Yields and other facts before or after the method."""

from __future__ import annotations

import re

from recipes.importing.text.headings import Section
from recipes.importing.text.makes import counted_pieces, read_makes, starts_yield, stated_makes
from recipes.importing.text.tokens import line_text
from recipes.importing.whole.asides import is_work
from recipes.importing.whole.facts import is_dough_temperature, is_facts, take_facts
from recipes.importing.whole.progress import Progress

_CHUNKS = re.compile(r"\s*[|·•;]\s*|\s{3,}|\t")
_MOST_LATE_WORDS = 8


def stated_before(reading: Progress, line: str) -> bool:
    """Take a yield, times or a temperature of the dough; True if the line is nothing else."""
    take_facts(reading, line)
    food = bool(reading.book.named_in(line_text(line)))
    begins = starts_yield(line) or line_text(line)[:1].isdigit()
    facts = is_facts(line) and (begins or not food)
    named = _is_title(reading, line)
    if facts or named or not food:
        for chunk in _CHUNKS.split(line) if facts else [line]:
            _take(reading, chunk, begins=facts)
    made = None if named or food else counted_pieces(line)
    if made:
        reading.makes = reading.makes if reading.makes.pieces else made
    if named or not (facts or made):
        return False
    if reading.named_by is None and reading.head:
        reading.named_by = len(reading.head)
    reading.use()
    return True


def _is_title(reading: Progress, line: str) -> bool:
    """Whether a line that states something is the title: the first, and it starts with a name."""
    first = reading.section is Section.HEAD and not (reading.head or reading.title)
    return first and not starts_yield(line) and not line_text(line)[:1].isdigit()


def _take(reading: Progress, chunk: str, *, begins: bool) -> None:
    if reading.makes.pieces:
        return
    stated = stated_makes(line_text(chunk))
    if stated and stated.piece_g:
        reading.makes = stated
    elif begins and starts_yield(chunk):
        reading.makes = read_makes(chunk)
    elif stated:
        reading.makes = stated


def stated_behind(reading: Progress, line: str) -> bool:
    """Take facts that follow the method: `Loses 12 %`, `2 loaves at 563 g`."""
    take_facts(reading, line)
    if is_facts(line) and (is_dough_temperature(line_text(line)) or not is_work(line)):
        _take(reading, line, begins=True)
        reading.use()
        return True
    made = counted_pieces(line) if len(line.split()) < _MOST_LATE_WORDS else None
    if made is None:
        return False
    reading.makes = reading.makes if reading.makes.pieces else made
    reading.use()
    return True
