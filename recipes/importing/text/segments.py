"""A tokenized line cut at its commas, cells and dashes, with amounts and brackets recognized."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from recipes.importing.text.numbers import Amount, read_amount
from recipes.importing.text.tokens import Token
from recipes.importing.text.words import ABOUT, FILLERS, NUMBERED

_OPEN, _CLOSE = "([{", ")]}"
_SEPARATORS = {",", ";", "|", ":", "="}


@dataclass(frozen=True, slots=True)
class Bracket:
    """What is in brackets, from text position `start` to `end`."""

    items: tuple[Token | Amount, ...]
    start: int
    end: int


Item = Token | Amount | Bracket
Segment = list[Item]


def items_of(tokens: Sequence[Token]) -> Iterator[Token | Amount]:
    """The tokens in order, with amounts replacing the tokens that form them."""
    i = 0
    while i < len(tokens):
        amount = None if _is_name(tokens, i) else read_amount(tokens, i)
        yield amount or tokens[i]
        i = amount.end if amount else i + 1


def _is_name(tokens: Sequence[Token], i: int) -> bool:
    """Whether a number belongs to the name: `00`, or what follows `type`."""
    if not tokens[i].is_number:
        return False
    text = tokens[i].text
    before = tokens[i - 1].low if i else ""
    return text.strip("0") == "" or text.startswith("00") or before in NUMBERED


def _is_separator(tokens: Sequence[Token], i: int) -> bool:
    """A comma, colon or cell end; a dash with a space on a side; or a row of dots."""
    text = tokens[i].text
    if text in _SEPARATORS:
        return True
    following = tokens[i + 1] if i + 1 < len(tokens) else None
    if text == "-":
        return not tokens[i].glued or following is None or not following.glued
    if text in ".·":
        before = tokens[i - 1].text if i else ""
        return before == text or (following is not None and following.text == text)
    return False


def segments(tokens: Sequence[Token]) -> list[Segment]:
    """The parts of a line between separators; none is empty."""
    index = {token.start: n for n, token in enumerate(tokens)}
    parts: list[Segment] = [[]]
    inside: list[Token | Amount] | None = None
    opened = 0
    items = list(items_of(tokens))
    for n, item in enumerate(items):
        mark = item.text if isinstance(item, Token) else ""
        if inside is not None:
            if mark and mark in _CLOSE:
                parts[-1].append(Bracket(tuple(inside), opened, item.end))
                inside = None
            else:
                inside.append(item)
        elif mark and mark in _OPEN:
            inside, opened = [], item.start
        elif mark == "-" and _between_amounts(items, n):
            parts[-1].append(item)
        elif isinstance(item, Token) and _is_separator(tokens, index[item.start]):
            parts.append([])
        else:
            parts[-1].append(item)
    if inside:
        end = tokens[-1].end
        parts[-1].append(Bracket(tuple(inside), opened, end))
    return [part for part in parts if part]


def _between_amounts(items: Sequence[Item], n: int) -> bool:
    around = items[max(0, n - 1) : n + 2]
    return len(around) == 3 and isinstance(around[0], Amount) and isinstance(around[2], Amount)


def words_of(items: Sequence[Item]) -> list[Token]:
    """The words among items that are more than fillers; those in brackets do not count."""
    return [
        item
        for item in items
        if isinstance(item, Token)
        and item.is_word
        and item.low not in FILLERS | ABOUT
        and item.low != "x"
    ]


def span(items: Sequence[Item], tokens: Sequence[Token]) -> tuple[int, int]:
    """Where items start and end in the cleaned text."""
    return _bounds(items[0], tokens)[0], _bounds(items[-1], tokens)[1]


def _bounds(item: Item, tokens: Sequence[Token]) -> tuple[int, int]:
    if isinstance(item, Amount):
        return tokens[item.start].start, tokens[item.end - 1].end
    return item.start, item.end
