"""A line's segments sorted into amounts, name and notes, before any ingredient is looked up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from recipes.importing import doubts
from recipes.importing.text.brackets import take_bracket
from recipes.importing.text.gathered import MARK_JOINERS, Phrases
from recipes.importing.text.numbers import Amount
from recipes.importing.text.segments import Bracket, Item, Segment, segments, words_of
from recipes.importing.text.tokens import Token
from recipes.importing.text.words import (
    ABOUT,
    ABOUT_PAIRS,
    CONTAINERS,
    FILLERS,
    JOINERS,
    MORE,
    NAME_ENDERS,
    NUMBERED,
    VAGUE_NUMBERS,
)


def read_phrases(tokens: Sequence[Token], text: str) -> Phrases:
    """Sort the tokens of a cleaned line."""
    phrases = Phrases(tokens, text)
    for segment in segments(tokens):
        if not words_of(segment) and not phrases.name:
            _amounts(phrases, segment)
        elif not phrases.name:
            _main(phrases, segment)
        elif not words_of(segment):
            _amounts(phrases, segment)
        elif not phrases.groups:
            _late_amount(phrases, segment)
        elif _adds(segment):
            phrases.join("+")
            _amounts(phrases, segment[1:])
        else:
            phrases.tails.append(segment)
    return phrases


def _adds(segment: Segment) -> bool:
    """`, plus 25 g more`: another amount of the same, without saying what it is for."""
    first = segment[0]
    words = {word.low for word in words_of(segment)}
    return (
        len(segment) > 1
        and isinstance(first, Token)
        and first.low in JOINERS
        and isinstance(segment[-1 if len(segment) == 2 else 1], Amount)
        and words <= MORE | JOINERS
    )


def _amounts(phrases: Phrases, segment: Segment) -> None:
    """A segment of amounts and brackets alone, such as a cell."""
    for item in segment:
        if isinstance(item, Bracket):
            take_bracket(phrases, item)
        elif isinstance(item, Amount) and (item.usable or item.percent):
            if item.unit is None and not item.percent and phrases.groups:
                phrases.note([item])
            else:
                phrases.add(item)
        elif isinstance(item, Amount):
            phrases.note([item])
        else:
            _mark(phrases, item)


def _late_amount(phrases: Phrases, segment: Segment) -> None:
    """`Eggs, 2 large` and `Butter, unsalted 60 g`: the amount comes after the name."""
    first = next((n for n, item in enumerate(segment) if not _is_text(item)), len(segment))
    end = next((n for n in range(first, len(segment)) if _is_text(segment[n])), len(segment))
    tail, amounts, rest = segment[:first], segment[first:end], segment[end:]
    named = all(isinstance(item, Token) and item.low not in NAME_ENDERS for item in tail)
    if not named or (tail and words_of(rest)) or not any(map(_takes, amounts)):
        phrases.tails.append(segment)
        return
    _amounts(phrases, amounts)
    if tail:
        phrases.tails.append(tail)
    phrases.note(rest)


def _is_text(item: Item) -> bool:
    return isinstance(item, Token) and item.text not in MARK_JOINERS


def _takes(item: Item) -> bool:
    return isinstance(item, Amount) and item.usable


def _mark(phrases: Phrases, token: Token) -> None:
    if token.low in JOINERS or token.text in MARK_JOINERS:
        phrases.join(token.low)
    elif token.is_number:
        phrases.doubts.append(doubts.NumberUnread(token.text))
    elif token.low in ABOUT:
        phrases.notes.append((token.start, token.text))


def _main(phrases: Phrases, segment: Segment) -> None:
    """The segment that holds the name."""
    at = 0
    while at < len(segment):
        item = segment[at]
        if isinstance(item, Bracket):
            take_bracket(phrases, item)
        elif isinstance(item, Amount):
            at = _amount(phrases, segment, at, item)
        elif item.is_word:
            at = _word(phrases, segment, at, item)
        elif item.is_number:
            _number(phrases, item)
        elif phrases.name and item.text == "-" and item.glued:
            phrases.name.append(item)
        elif item.text == "+" and phrases.name:
            at = _ender(phrases, segment, at, item)
        else:
            _mark(phrases, item)
        at += 1


def _number(phrases: Phrases, token: Token) -> None:
    """A number that is not an amount: part of the name, as in `type 550` and `00`, or unread."""
    after = phrases.name[-1].low if phrases.name else ""
    if after in NUMBERED or token.text.startswith("0"):
        phrases.name.append(token)
    else:
        phrases.doubts.append(doubts.NumberUnread(token.text))
        phrases.notes.append((token.start, token.text))


def _amount(phrases: Phrases, segment: Segment, at: int, amount: Amount) -> int:
    """An amount within the name's segment; returns the last position it used up."""
    behind = words_of(segment[at + 1 :])
    if amount.percent and behind and not phrases.name and phrases.groups:
        phrases.note([amount])
    elif not amount.usable and not amount.percent:
        phrases.note(segment[at:] if phrases.name else [amount])
        return len(segment) if phrases.name else at
    elif phrases.name and phrases.groups and behind and not amount.percent:
        phrases.note(segment[at:])
        return len(segment)
    elif phrases.name and phrases.groups and amount.unit is None and not amount.percent:
        phrases.note([amount])
    else:
        phrases.add(amount)
        _rough(phrases, amount)
    return at


def _rough(phrases: Phrases, amount: Amount) -> None:
    start = phrases.tokens[amount.start].start
    phrases.notes += [(start, word) for word in amount.rough]


def _word(phrases: Phrases, segment: Segment, at: int, token: Token) -> int:
    """A word within the name's segment; returns the last position it used up."""
    if token.low == "x" and at + 1 < len(segment) and isinstance(segment[at + 1], Amount):
        return at
    if not phrases.name:
        used = _before_name(phrases, segment, at, token)
        if used is not None:
            return used
    if token.low in NAME_ENDERS and (phrases.name or phrases.groups):
        return _ender(phrases, segment, at, token)
    phrases.name.append(token)
    return at


def _before_name(phrases: Phrases, segment: Segment, at: int, token: Token) -> int | None:
    """A word before the name that says something about the amount; None if it is a name's."""
    following = segment[at + 1] if at + 1 < len(segment) else None
    next_word = following if isinstance(following, Token) else None
    if next_word and (token.low, next_word.low) in ABOUT_PAIRS:
        phrases.notes.append((token.start, f"{token.text} {next_word.text}"))
        return at + 1
    counted = token.low in CONTAINERS and next_word is not None and next_word.low == "of"
    if token.low in ABOUT or token.low in VAGUE_NUMBERS or counted:
        phrases.notes.append((token.start, token.text))
    elif token.low in CONTAINERS and phrases.groups and not _is_flours(token, next_word):
        _count_containers(phrases, token)
    elif phrases.groups and (token.low in JOINERS or token.low in MARK_JOINERS):
        phrases.join(token.low)
    elif token.low not in FILLERS:
        return None
    return at


def _is_flours(token: Token, following: Token | None) -> bool:
    """Whether `cake` says which flour, and counts nothing."""
    return token.low == "cake" and following is not None and following.low == "flour"


def _count_containers(phrases: Phrases, token: Token) -> None:
    """`1 (14 oz) can`: as many of what stands in the bracket as were counted."""
    group = phrases.groups[-1]
    if len(group) == 2 and group[0].unit is None and group[1].unit is not None:
        times, one = group
        phrases.groups[-1] = [replace(one, low=one.low * times.low, start=times.start)]
    elif len(group) == 1 and group[0].unit is None:
        phrases.groups[-1] = [replace(group[0], word=token.low)]


def _ender(phrases: Phrases, segment: Segment, at: int, token: Token) -> int:
    """Where the name ends: another way to say the amount, one more of it, or a note."""
    rest = segment[at + 1 :]
    while phrases.name and phrases.name[-1].low in JOINERS:
        phrases.name.pop()
    words = {word.low for word in words_of(rest)}
    amounts = rest and isinstance(rest[0], Amount) and rest[0].usable and words <= MORE
    if amounts and token.low in ("plus", "+", "or") and phrases.groups:
        phrases.join(token.low)
        _amounts(phrases, rest)
        return len(segment)
    if token.low == "or":
        phrases.choice = words_of(rest)
        phrases.doubts.append(doubts.OtherChoice(phrases.text[token.end :].strip()))
    phrases.note(segment[at:])
    return len(segment)
