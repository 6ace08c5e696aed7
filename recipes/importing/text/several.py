"""A line that names several ingredients, as one text for each of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from recipes.importing.naming.spelling import stems
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.numbers import Amount
from recipes.importing.text.segments import Segment, items_of, segments, span, words_of
from recipes.importing.text.tokens import LONGEST_START, Token, line_start
from recipes.importing.text.words import FILLERS, JOINERS, MORE, NAME_ENDERS, STATES, word_set

_LEAST_RUN = 2
_NEAR = 3
_SOAKED = word_set(
    """soaked steeped dissolved rehydrated plumped macerated softened beaten whisked stirred mixed
    combined bloomed"""
)
_PREPOSITIONS = word_set("in with")
# What goes into the dough later keeps its own line, even if it is more of the same.
_LATER = word_set("bassinage reserved later with")
_NAMED_BEFORE = word_set("the it this that these which them")
_AROUND = " ,;([{-"

_Items = Sequence[Token | Amount]


def lines_in(text: str, book: IngredientBook) -> list[str]:
    """A line that lists several, `400 g flour, 240 g water`, as one text for each ingredient."""
    if len(text) > LONGEST_START:
        return [text]
    cleaned, tokens = line_start(text)
    cuts = [_listed(segment, tokens, cleaned) for segment in segments(tokens)]
    if len(cuts) >= _LEAST_RUN and all(cuts) and any(map(book.named_in, cuts)):
        return [single for cut in cuts for single in lines_in(cut, book)]
    line = _Line(cleaned, tokens, tuple(items_of(tokens)), book)
    return _of_each(line) or _added(line) or _paired(line) or [text]


def _listed(segment: Segment, tokens: Sequence[Token], text: str) -> str:
    """A segment's text when it is an amount with a unit and words; else nothing."""
    first = segment[0]
    if not isinstance(first, Amount) or first.unit is None or not first.usable:
        return ""
    words = [word for word in words_of(segment) if word.low not in STATES | MORE]
    if not words or words[0].low in _NAMED_BEFORE | NAME_ENDERS:
        return ""
    start, end = span(segment, tokens)
    return text[start:end]


@dataclass(frozen=True, slots=True)
class _Line:
    """A cleaned line with its tokens and the amounts among them."""

    text: str
    tokens: Sequence[Token]
    items: _Items
    book: IngredientBook

    def part(self, first: int, end: int | None = None) -> str:
        """The text of some items in a row, without words that only connect it to the others."""
        items = self.items[first:end]
        if not items:
            return ""
        start, stop = span(items, self.tokens)
        text = self.text[start:stop].strip(_AROUND)
        opened = text.count("(") - text.count(")")
        return text.rstrip(")]}") if opened < 0 else text


def _of_each(line: _Line) -> list[str]:
    """`100 g each of rye and wheat flour`: the amount with each of the names."""
    first, second = (*line.items[:2], None, None)[:2]
    if not isinstance(first, Amount) or not first.usable:
        return []
    if not isinstance(second, Token) or second.low != "each":
        return []
    names: list[list[str]] = [[]]
    for item in line.items[2:]:
        if isinstance(item, Amount):
            return []
        if item.low in JOINERS | {","}:
            names.append([])
        elif item.is_word and item.low not in FILLERS:
            names[-1].append(item.text)
    noun = names[-1][-1:]
    told = [
        name if line.book.named_in(" ".join(name)) else [*name, *noun] for name in names if name
    ]
    if len(told) < _LEAST_RUN or not all(line.book.named_in(" ".join(name)) for name in told):
        return []
    return [f"{line.part(0, 1)} {' '.join(name)}" for name in told]


def _added(line: _Line) -> list[str]:
    """`400 g water + 100 g ice`, `100 g raisins, soaked in 30 g rum`: the addition by itself."""
    for n, item in enumerate(line.items[:-1]):
        following = line.items[n + 1]
        ties = isinstance(item, Token) and _ties(line.items, n)
        if ties and isinstance(following, Amount) and following.usable and _has_both(line, n):
            texts = _apart(line, n)
            if texts:
                return texts
    return []


def _paired(line: _Line) -> list[str]:
    """`10 g salt / 3 g yeast`, `500 g flour 300 g water`: as many amounts as known names."""
    starts = [n for n, item in enumerate(line.items) if isinstance(item, Amount) and item.usable]
    if len(starts) < _LEAST_RUN or starts[0]:
        return []
    pairs = list(pairwise([*starts, len(line.items)]))
    names = [words_of(line.items[first + 1 : end]) for first, end in pairs]
    if any(word.low in NAME_ENDERS | _NAMED_BEFORE for name in names for word in name):
        return []
    keys = [line.book.fit([word.text for word in name]).match.key for name in names]
    weighed = all(getattr(line.items[n], "unit", None) for n in starts)
    apart = all(keys) and len(set(keys)) == len(keys)
    return (
        [line.part(first, end).rstrip(" /-|") for first, end in pairs] if weighed and apart else []
    )


def _ties(items: _Items, n: int) -> bool:
    """Whether an amount after this word is of something else: `plus`, or `soaked in`."""
    word = items[n]
    if not isinstance(word, Token):
        return False
    if word.low in JOINERS:
        return True
    before = items[max(0, n - _NEAR) : n]
    soaked = any(isinstance(item, Token) and item.low in _SOAKED for item in before)
    return word.low in _PREPOSITIONS and soaked


def _has_both(line: _Line, n: int) -> bool:
    """Whether there is an amount and a name before what is added."""
    before = line.items[:n]
    return any(isinstance(item, Amount) and item.usable for item in before) and any(
        word.low not in STATES for word in words_of(before)
    )


def _apart(line: _Line, n: int) -> list[str]:
    """The line cut before what is added, or one sum of more of the same; else nothing."""
    before, behind = line.part(0, n), line.part(n + 1)
    name = _name_behind(line.items[n + 2 :])
    later = not _LATER.isdisjoint(stems(behind))
    if name is None:
        return []
    if not name:
        named = f"{line.part(n + 1, n + 2)} {_name_before(line, n)}, {line.part(n + 2)}"
        return [before, named] if later else []
    own, others = line.book.named_in(before), line.book.named_in(" ".join(name))
    known = bool(others) and not set(others) <= set(own)
    joiner = line.part(n, n + 1) if isinstance(line.items[n], Token) else ""
    same = set(stems(" ".join(name))) <= set(stems(before))
    if known or later or (not same and (others or joiner not in ("and", "&"))):
        return [before, *lines_in(behind, line.book)]
    if same and "for" not in stems(behind) and joiner in JOINERS:
        return [f"{before} {joiner} {line.part(n + 1, n + 2)}"]
    return []


def _name_behind(items: _Items) -> list[str] | None:
    """The words that name what an amount is of; None if that was named before."""
    name: list[str] = []
    for item in items:
        if isinstance(item, Amount) or item.low in NAME_ENDERS or not item.is_word:
            break
        if item.low in _NAMED_BEFORE:
            return None
        if item.low not in FILLERS | MORE:
            name.append(item.text)
    return name


def _name_before(line: _Line, n: int) -> str:
    """The name before position `n`, in its own words."""
    words = [word.text for word in words_of(line.items[:n]) if word.low not in STATES]
    return " ".join(words)
