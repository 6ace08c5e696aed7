"""Ingredients inside sentences: `Take 500 g of strong flour and rub in 20 g of butter`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from recipes.core.units import Measures
from recipes.importing.method.lengths import TimeSpan
from recipes.importing.method.sentences import sentences
from recipes.importing.method.times import times
from recipes.importing.method.verbs import STEP_VERBS
from recipes.importing.naming.spelling import stems
from recipes.importing.text.lines import read_line
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.numbers import Amount, read_amount
from recipes.importing.text.tokens import Token, clean, tokenize
from recipes.importing.text.words import word_set

LONGEST = 4000
_MOST_NAME = 7
_LEAST_LIST = 3
_MOST_WORDS = 5
_ENDS = word_set(
    """and then with to in into for until on over at from or which that so it by plus but while
    when where if as together gradually all knead let cover goes go you i we they is are was
    just separately um uh er erm hm hmm okay ok yeah"""
)
_NO_FOOD = word_set(
    """tin tins pan pans dough loaf loaves piece pieces mixture bread strips rolls balls buns batch
    sheet rectangle tray oven degrees layer minutes bowl mass more each apiece"""
)
_ONES = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
         "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen",
         "nineteen")  # fmt: skip
_NUMBER_WORDS = {word: n for n, word in enumerate(_ONES, start=1)}
_ALL_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_TENS = {word: 10 * n for n, word in enumerate(_ALL_TENS, start=2)}
_WORD = "|".join([*_NUMBER_WORDS, *_TENS, "hundred", "thousand"])
_SPELLED = re.compile(
    rf"\b(?:{_WORD}|a(?= (?:hundred|thousand)))(?:(?:[ -]|(?: and ))(?:{_WORD}))*\b", re.IGNORECASE
)
_MAKES_AHEAD = re.compile(
    r"\b(?:make|mix|stir|build|prepare|start|set)\b[^.;]{0,40}?"
    r"\b(?P<name>poolish|biga|levain|sponge|pre-?ferment|sour)\b[^.;]{0,20}?"
    r"(?:\b(?:with|from|of|using)\b|:)"
    r"|^[\W0-9:]*(?P<label>poolish|biga|levain|sponge|pre-?ferment|sour)\s*:",
    re.IGNORECASE,
)
_APART = re.compile(r"(?:[,;]\s|\s//?\s)(?![^(]*\))")
_WEIGHED = re.compile(r"[0-9]\s?(?:g|kg|ml|l|oz|lb)\b", re.IGNORECASE)
_GRAMS_OF = re.compile(r"\b([0-9]{2,4}) of (?=[a-z])")


def in_figures(text: str) -> str:
    """Numbers spelled in tens and hundreds as figures: `three hundred and fifty` as `350`."""
    return _SPELLED.sub(lambda found: _figure(found[0]), text)


def _figure(spelled: str) -> str:
    words = re.split(r"[ -]", spelled.lower())
    if not set(words) & {*_TENS, "hundred", "thousand"}:
        return spelled
    total = part = 0
    for word in words:
        if word == "hundred":
            part = max(part, 1) * 100
        elif word == "thousand":
            total, part = total + max(part, 1) * 1000, 0
        else:
            part += _TENS.get(word, _NUMBER_WORDS.get(word, 0))
    return str(total + part)


def preferment_in(sentence: str) -> str:
    """The name of the preferment that a sentence makes of what it lists, if it makes one."""
    found = _MAKES_AHEAD.search(sentence)
    return (found["name"] or found["label"]).capitalize() if found else ""


def ingredients_in(text: str, book: IngredientBook) -> Iterator[str]:
    """The amounts with their ingredients in a text, each as a line of its own.

    A bare number `of` something is in grams if the sentences around it use grams.
    """
    told = in_figures(clean(text[:LONGEST]))
    taken: set[str] = set()
    for sentence in sentences(told):
        tokens = tokenize(sentence)
        i = 0
        while i < len(tokens):
            found = _amount(tokens, i)
            if found is None:
                i += 1
                continue
            end = name_end(tokens, found.end, book)
            line = sentence[tokens[i].start : tokens[end - 1].end]
            name = tokens[found.end : end]
            key = book.fit(stems(" ".join(token.text for token in name))).match.key
            again = key in taken and any(token.low == "the" for token in name)
            if name and not again and _is_food(name, found, line, book):
                taken.add(key)
                yield _GRAMS_OF.sub(r"\1 g of ", line) if found.unit is None else line
            i = max(end, found.end)


def _amount(tokens: Sequence[Token], i: int) -> Amount | None:
    amount = read_amount(tokens, i)
    if amount is None or not amount.usable or amount.percent:
        return None
    before = tokens[i - 1].low if i else ""
    return None if before in ("divide", "@", "x", "every", "about") and not amount.unit else amount


def name_end(tokens: Sequence[Token], start: int, book: IngredientBook) -> int:
    """Where the name after an amount ends: at a mark, a joining word, a verb or a number."""
    at = start
    while at < len(tokens) and at - start < _MOST_NAME:
        token = tokens[at]
        if token.text == "-" and token.glued and at > start:
            at += 1
            continue
        verb = token.low in STEP_VERBS and at > start and not book.named_in(token.text)
        if not token.is_word or token.low in _ENDS or verb:
            break
        at += 1
    return at


def _is_food(name: Sequence[Token], amount: Amount, line: str, book: IngredientBook) -> bool:
    verb = STEP_VERBS.get(name[0].low)
    if not is_food_named(name) or (amount.unit is None and verb and verb.vague):
        return False
    known = bool(book.fit(stems(" ".join(token.text for token in name))).match.candidates)
    if amount.unit is not None and amount.unit.measures in (Measures.MASS, Measures.VOLUME):
        return True
    if amount.unit is None and name[0].low == "of":
        return known
    read = read_line(line, book)
    return known and bool(read.match.key)


def is_food_named(name: Sequence[Token]) -> bool:
    """Whether words after an amount may name something to eat, not a tin or a piece of dough."""
    words = [token.low for token in name]
    return not (words[-1] in _NO_FOOD or set(words) <= {"of", "the", "a"})


def is_listed(text: str) -> bool:
    """Whether a paragraph begins with ingredients in a row, separated by commas."""
    first = _first_of(text)
    segments = [segment.strip() for segment in _APART.split(first)]
    if len(segments) < _LEAST_LIST or any(isinstance(t, TimeSpan) for t in times(tokenize(first))):
        return False
    short = all(len(segment.split()) <= _MOST_WORDS for segment in segments)
    if short and first.split()[0].lower() not in STEP_VERBS and all(map(_WEIGHED.search, segments)):
        return True
    counted = sum(
        1 for segment in segments if segment[:1].isdigit() and any(map(str.isalpha, segment))
    )
    opens = first[:1].isdigit() or first.lower().startswith("all ")
    return counted * 2 > len(segments) and opens


def _first_of(text: str) -> str:
    """The first sentence of a text."""
    return next(sentences(clean(text[:LONGEST])), "")


def listed(text: str) -> tuple[list[str], str]:
    """The ingredients of such a list, and the sentences after it."""
    first = _first_of(text)
    cut = _APART.split(first.rstrip(" ."))
    behind = clean(text)[len(first) :].strip()
    return [item.strip() for item in cut if item.strip()], behind
