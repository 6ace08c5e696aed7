"""What a line looks like beside the others: an ingredient of a list, or the method's first step."""

from __future__ import annotations

import re

from recipes.importing.method.lengths import TimeSpan
from recipes.importing.method.times import times
from recipes.importing.tables.bare import bare_row
from recipes.importing.tables.reading import read_head
from recipes.importing.tables.rows import labelled
from recipes.importing.text.makes import stated_makes
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.numbers import read_amount
from recipes.importing.text.shapes import OPENING, looks_like_ingredient, looks_like_method
from recipes.importing.text.tokens import line_start, line_text
from recipes.importing.whole.asides import is_work
from recipes.importing.whole.progress import Progress
from recipes.importing.whole.prose import is_listed

_LONGEST_SHORT = 100
_LONGEST_START = 400
_LEAST_SENTENCE = 7
_MOST_ROW_WORDS = 9
_MOST_LABEL_WORDS = 5
_NUMBERED_STEP = re.compile(
    r"^\s*[0-9]{1,2}[.)]?\s+(?P<text>(?P<verb>[A-Z][a-z]+) .{12,})$", re.DOTALL
)
_LETTER = re.compile(r"^\s*\(?[A-Ha-h][.)]\s+(?=\S{2})")
_BY_CLOCK = re.compile(
    r"^\W*(?:[0-9]{1,2}[.)]\s*)?(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+)?"
    r"(?:(?:[01]?[0-9]|2[0-3])[:.h][0-5][0-9]\b(?!\s*(?:kg|g|lb|l|oz|%)\b)|[01]?[0-9]\s?[ap]m\b)"
    r"(?=\W*(?:-|to\b|[A-Za-z]{3,}|[ap]m\b))",
    re.IGNORECASE,
)


def is_by_clock(line: str) -> bool:
    """Whether a line of a timetable starts here: `08:10 - Weigh everything`."""
    return bool(_BY_CLOCK.match(line))


def is_numbered_step(line: str) -> bool:
    """`1 Place flour and salt in a bowl`: a step's number without a dot."""
    found = _NUMBERED_STEP.match(line[:_LONGEST_START])
    return found is not None and found["verb"].lower() in OPENING


def without_number(line: str) -> str:
    """A step without such a number, or without the letter before it."""
    found = _NUMBERED_STEP.match(line)
    return found["text"] if found and is_numbered_step(line) else _LETTER.sub("", line)


def is_ingredient(book: IngredientBook, line: str) -> bool:
    """Whether a line is an unexpected ingredient: measured, or counted and known."""
    if is_by_clock(line) or is_numbered_step(line) or _makes_weighed(line):
        return False
    if looks_like_ingredient(line, strict=True) or _is_named_first(book, line):
        return True
    return looks_like_ingredient(line) and bool(book.named_in(line_text(line)))


def _is_named_first(book: IngredientBook, line: str) -> bool:
    """Whether an ingredient's whole name is before an amount: `Baking soda ... 60 g`."""
    tokens = line_start(line)[1]
    at = next((n for n, token in enumerate(tokens) if token.is_number), 0)
    words = [token.text for token in tokens[:at] if token.is_word]
    amount = read_amount(tokens, at) if 0 < len(words) <= _MOST_LABEL_WORDS else None
    return bool(amount and amount.unit and amount.usable and book.fit(words).match.key)


def _makes_weighed(line: str) -> bool:
    """Whether a line says how many pieces of what mass a recipe makes."""
    made = stated_makes(line_text(line[:_LONGEST_START]))
    return made is not None and made.piece_g is not None


def is_bare_row(book: IngredientBook, line: str) -> bool:
    """A name followed by a bare number: `water 3100`."""
    row = bare_row(line)
    return row[1:2].isdigit() and bool(book.named_in(row))


def is_list(book: IngredientBook, line: str) -> bool:
    """Whether a line begins a list: an ingredient, several in a row, or a table's head."""
    listed = is_listed(line) or bool(labelled(line, book))
    return is_ingredient(book, line) or listed or read_head(line) is not None


def is_method(line: str) -> bool:
    """Whether a line of the head is already work, not a title."""
    long = len(line) > _LONGEST_SHORT or line.rstrip().endswith((".", "!"))
    return (long or is_by_clock(line)) and is_work(line)


def starts_method(reading: Progress, line: str) -> bool:
    """Whether a line among ingredients is the first of the method."""
    if is_by_clock(line) or is_numbered_step(line):
        return True
    if is_listed(line) or labelled(line, reading.book) or _is_named_first(reading.book, line):
        return False
    tokens = line_start(line)[1]
    if looks_like_method(line):
        return True
    if tokens and any(one.start == 0 and isinstance(one, TimeSpan) for one in times(tokens)):
        return is_work(line)
    if not tokens or tokens[0].is_number or looks_like_ingredient(line) or not reading.lines:
        return False
    timed = any(isinstance(time, TimeSpan) for time in times(tokens))
    counts = timed and any(token.is_number for token in tokens)
    orders = tokens[0].low in OPENING or len(tokens) >= _LEAST_SENTENCE or counts
    return orders and is_work(line)


def goes_on_listing(book: IngredientBook, line: str, following: str) -> bool:
    """Whether a line of the method begins another list: it and the next are ingredients."""
    return is_listed(line) or all(_is_row(book, text) for text in (line, following))


def _is_row(book: IngredientBook, line: str) -> bool:
    short = len(line.split()) <= _MOST_ROW_WORDS and line.rstrip()[-1:] not in (".", "!", "?")
    return short and is_ingredient(book, line) and not is_work(line)


def is_short_label(text: str) -> bool:
    """Whether a line may have been the heading of the list after it."""
    return len(text.split()) <= _MOST_LABEL_WORDS and not is_work(text)
