"""What is in brackets on a line: other ways to say the amount, or a note."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from recipes.importing import doubts
from recipes.importing.amounts.measures import is_compound, together
from recipes.importing.text.gathered import MARK_JOINERS, Phrases
from recipes.importing.text.numbers import Amount
from recipes.importing.text.segments import Bracket, Item, words_of
from recipes.importing.text.tokens import Token
from recipes.importing.text.words import ABOUT, JOINERS, STATES

_JOINING = {"x", "each", "total", "weight", "equals", "makes"} | ABOUT


def take_bracket(phrases: Phrases, bracket: Bracket) -> None:
    """Amounts at its start are other ways to say the one before; the rest is a note."""
    items = list(bracket.items)
    end = 0
    while end < len(items) and _may_lead(items, end):
        end += 1
    leading = [item for item in items[:end] if isinstance(item, Amount)]
    rest = items[end:]
    words = words_of(rest)
    if not leading or (words and not _is_aside(rest)):
        phrases.note(items)
        first = items[0] if items else None
        if isinstance(first, Token) and first.low == "or":
            text = phrases.text[bracket.start : bracket.end].strip("([{}])")
            phrases.doubts.append(doubts.OtherChoice(text))
        return
    each = any(isinstance(item, Token) and item.low == "each" for item in items[:end])
    for amount in _joined(items[:end]):
        _bracketed(phrases, amount, each=each)
    phrases.note(_without_commas(rest))


def _joined(items: Sequence[Item]) -> list[Amount]:
    """The amounts in a bracket, where `1 lb 5 oz` and `1 stick plus 2 tbsp` each count as one."""
    found: list[Amount] = []
    before: Item | None = None
    for item in items:
        if isinstance(item, Amount):
            adds = isinstance(before, Token) and before.low in JOINERS
            side = isinstance(before, Amount) and bool(found) and is_compound(found[-1], item)
            if found and not item.percent and (adds or side):
                found[-1] = together(found[-1], item)
            else:
                found.append(item)
        before = item
    return found


def _may_lead(items: Sequence[Item], at: int) -> bool:
    item = items[at]
    if isinstance(item, Amount):
        return item.usable or item.percent
    if isinstance(item, Token) and item.text in ",;":
        return 0 < at < len(items) - 1 and isinstance(items[at + 1], Amount)
    return isinstance(item, Token) and (
        item.low in _JOINING or item.low in JOINERS or item.text in MARK_JOINERS
    )


def _is_aside(rest: Sequence[Item]) -> bool:
    """Whether words in a bracket are set off from its amounts or only name a state."""
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
