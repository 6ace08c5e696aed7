"""A line's segments sorted into amounts, name and notes, before any ingredient is looked up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from recipes.importing import doubts
from recipes.importing.doubts import Doubt
from recipes.importing.measures import Groups, is_compound, is_range, ranged
from recipes.importing.numbers import Amount
from recipes.importing.segments import Bracket, Item, Segment, segments, span, words_of
from recipes.importing.tokens import Token
from recipes.importing.words import (
    ABOUT,
    ABOUT_PAIRS,
    CONTAINERS,
    FILLERS,
    JOINERS,
    NAME_ENDERS,
    STATES,
    VAGUE_NUMBERS,
)

_SUM, _RANGE, _EQUAL = "sum", "range", "equal"
_MARK_JOINERS = {"-": _RANGE, "to": _RANGE, "/": _EQUAL, "or": _EQUAL, "~": _EQUAL}
_JOINING = {"x", "each", "total", "weight", "equals", "makes"} | ABOUT


@dataclass
class Phrases:
    """What a line says: amounts in groups to be summed, the words of its name, its notes.

    `tails` are segments behind the name that may still belong to it, such as `unsalted`;
    notes stand at their positions in the text.
    """

    tokens: Sequence[Token]
    text: str
    groups: Groups = field(default_factory=list)
    percent: Decimal | None = None
    name: list[Token] = field(default_factory=list)
    tails: list[Segment] = field(default_factory=list)
    notes: list[tuple[int, str]] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    choice: list[Token] = field(default_factory=list)
    joiner: str = ""

    def note(self, items: Sequence[Item]) -> None:
        """Keep items as a note in their own words."""
        if items:
            start, end = span(items, self.tokens)
            text = self.text[start:end]
            lone = text.startswith("(") and ")" not in text
            self.notes.append((start, text[1:] if lone else text))

    def add(self, amount: Amount, *, equal: bool = False) -> None:
        """Put an amount beside the others: summed, ranged or as another way to say it."""
        joiner, self.joiner = (_EQUAL if equal else self.joiner), ""
        if amount.percent:
            self.percent = amount.low if self.percent is None else self.percent
            return
        last = self.groups[-1][-1] if self.groups else None
        if last is None or joiner == _SUM or (not joiner and is_compound(last, amount)):
            self.groups.append([amount])
        elif joiner == _RANGE and is_range(last, amount):
            self.groups[-1][-1] = ranged(last, amount)
        else:
            self.groups[-1].append(amount)

    def join(self, word: str) -> None:
        """Remember how the next amount joins the last one."""
        self.joiner = _SUM if word in JOINERS else _MARK_JOINERS.get(word, self.joiner)


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
        else:
            phrases.tails.append(segment)
    return phrases


def _amounts(phrases: Phrases, segment: Segment) -> None:
    """A segment of amounts and brackets alone, such as a cell."""
    for item in segment:
        if isinstance(item, Bracket):
            _bracket(phrases, item)
        elif isinstance(item, Amount) and (item.usable or item.percent):
            bare = item.unit is None and not item.percent and bool(phrases.groups)
            if not bare:
                phrases.add(item)
        elif isinstance(item, Amount):
            phrases.note([item])
        else:
            _mark(phrases, item)


def _late_amount(phrases: Phrases, segment: Segment) -> None:
    """`Eggs, 2 large` and `Butter, unsalted 60 g`: the amount comes behind the name."""
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
    return isinstance(item, Token) and item.text not in _MARK_JOINERS


def _takes(item: Item) -> bool:
    return isinstance(item, Amount) and item.usable


def _mark(phrases: Phrases, token: Token) -> None:
    if token.low in JOINERS or token.text in _MARK_JOINERS:
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
            _bracket(phrases, item)
        elif isinstance(item, Amount):
            at = _amount(phrases, segment, at)
        elif item.is_word:
            at = _word(phrases, segment, at)
        elif phrases.name and (item.is_number or (item.text == "-" and item.glued)):
            phrases.name.append(item)
        elif item.text == "+" and phrases.name:
            at = _ender(phrases, segment, at)
        elif item.is_number and _named_next(segment, at):
            phrases.name.append(item)
        else:
            _mark(phrases, item)
        at += 1


def _named_next(segment: Segment, at: int) -> bool:
    return at + 1 < len(segment) and isinstance(segment[at + 1], Token)


def _amount(phrases: Phrases, segment: Segment, at: int) -> int:
    """An amount within the name's segment; returns the last position it used up."""
    amount = segment[at]
    assert isinstance(amount, Amount)  # noqa: S101  (told by the caller)
    behind = words_of(segment[at + 1 :])
    if amount.percent and behind and not phrases.name and phrases.groups:
        phrases.note([amount])
    elif not amount.usable and not amount.percent:
        phrases.note(segment[at:] if phrases.name else [amount])
        return len(segment) if phrases.name else at
    elif phrases.name and phrases.groups and behind and not amount.percent:
        phrases.note(segment[at:])
        return len(segment)
    elif not (phrases.name and phrases.groups and amount.unit is None and not amount.percent):
        phrases.add(amount)
        _rough(phrases, amount)
    return at


def _rough(phrases: Phrases, amount: Amount) -> None:
    start = phrases.tokens[amount.start].start
    phrases.notes += [(start, word) for word in amount.rough]


def _word(phrases: Phrases, segment: Segment, at: int) -> int:
    """A word within the name's segment; returns the last position it used up."""
    token = segment[at]
    assert isinstance(token, Token)  # noqa: S101  (told by the caller)
    following = segment[at + 1] if at + 1 < len(segment) else None
    next_word = following.low if isinstance(following, Token) else ""
    if token.low == "x" and isinstance(following, Amount):
        return at
    if not phrases.name:
        if (token.low, next_word) in ABOUT_PAIRS:
            phrases.notes.append((token.start, f"{token.text} {following.text}"))  # type: ignore[union-attr]
            return at + 1
        if token.low in FILLERS:
            return at
        if token.low in ABOUT:
            phrases.notes.append((token.start, token.text))
            return at
        if token.low in VAGUE_NUMBERS or (token.low in CONTAINERS and next_word == "of"):
            phrases.notes.append((token.start, token.text))
            return at
        if token.low in CONTAINERS and phrases.groups:
            _count_containers(phrases, token)
            return at
        if phrases.groups and (token.low in JOINERS or token.low in _MARK_JOINERS):
            phrases.join(token.low)
            return at
        if token.low in NAME_ENDERS and not phrases.groups:
            phrases.name.append(token)
            return at
    if token.low in NAME_ENDERS:
        return _ender(phrases, segment, at)
    phrases.name.append(token)
    return at


def _count_containers(phrases: Phrases, token: Token) -> None:
    """`1 (14 oz) can`: as many of what stands in the bracket as were counted."""
    group = phrases.groups[-1]
    if len(group) == 2 and group[0].unit is None and group[1].unit is not None:
        times, one = group
        phrases.groups[-1] = [replace(one, low=one.low * times.low, start=times.start)]
    elif len(group) == 1 and group[0].unit is None:
        phrases.groups[-1] = [replace(group[0], word=token.low)]


def _ender(phrases: Phrases, segment: Segment, at: int) -> int:
    """Where the name ends: another way to say the amount, one more of it, or a note."""
    token = segment[at]
    rest = segment[at + 1 :]
    assert isinstance(token, Token)  # noqa: S101  (told by the caller)
    amounts = rest and isinstance(rest[0], Amount) and rest[0].usable and not words_of(rest)
    if amounts and token.low in ("plus", "+", "or") and phrases.groups:
        phrases.join(token.low)
        return at
    if token.low == "or":
        phrases.choice = words_of(rest)
        phrases.doubts.append(doubts.OtherChoice(phrases.text[token.end :].strip()))
    phrases.note(segment[at:])
    return len(segment)


def _bracket(phrases: Phrases, bracket: Bracket) -> None:
    """Amounts at its start are other ways to say the one before; the rest is a note."""
    items = list(bracket.items)
    end = 0
    while end < len(items) and _may_lead(items[end]):
        end += 1
    leading = [item for item in items[:end] if isinstance(item, Amount)]
    rest = items[end:]
    words = words_of(rest)
    if not leading or (words and not _is_aside(rest)):
        phrases.note(items)
        return
    each = any(isinstance(item, Token) and item.low == "each" for item in items[:end])
    for amount in leading:
        _bracketed(phrases, amount, each=each)
    phrases.note(_without_commas(rest))


def _may_lead(item: Item) -> bool:
    if isinstance(item, Amount):
        return item.usable or item.percent
    return isinstance(item, Token) and (
        item.low in _JOINING or item.low in JOINERS or item.text in _MARK_JOINERS
    )


def _is_aside(rest: Sequence[Item]) -> bool:
    """Whether words in a bracket are set off from its amounts or say but a state."""
    first = rest[0]
    if isinstance(first, Token) and first.text in ",;":
        return True
    return all(word.low in STATES for word in words_of(rest))


def _without_commas(items: Sequence[Item]) -> list[Item]:
    kept = list(items)
    while kept and isinstance(kept[0], Token) and kept[0].text in ",;.":
        del kept[0]
    return kept


def _bracketed(phrases: Phrases, amount: Amount, *, each: bool) -> None:
    group = phrases.groups[-1] if phrases.groups else []
    if each and len(group) == 1 and amount.unit is not None:
        times = group[0]
        total = replace(amount, low=amount.low * times.low, start=times.start)
        phrases.groups[-1].append(total)
    else:
        phrases.add(amount, equal=True)
