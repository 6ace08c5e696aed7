"""Amounts in a text that no line used: each becomes a doubt in its own words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import takewhile

from recipes.core.units import Measures
from recipes.importing.method.sentences import sentences
from recipes.importing.text.lines import read_line
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.numbers import Amount, read_amount
from recipes.importing.text.tokens import Token, clean, tokenize
from recipes.importing.text.words import NAME_ENDERS, word_set
from recipes.importing.values import Place, Reading
from recipes.importing.whole.doubts import NotRead
from recipes.importing.whole.prose import in_figures, is_food_named, name_end

LONGEST = 4000
MOST_TOLD = 20
_MOST_NAME = 4
_LEADERS = {"-", ".", "|", ":", "~"}
_MEASURED = (Measures.MASS, Measures.VOLUME)
_TAKEN_BEFORE = word_set("the this that remaining rest last reserved held extra another its their")
_TAKEN = word_set("the remaining rest last reserved held kept")


def unread(
    read: Reading, paragraphs: Sequence[tuple[Place, str]], book: IngredientBook
) -> list[NotRead]:
    """Doubts about amounts in the lines and steps of a text that no line contains."""
    told: dict[str, None] = {}
    stepped = {place for place in read.step_places if place}
    for place, text in paragraphs:
        lines = [line for line in read.lines if line.place == place]
        if not lines and place not in stepped:
            continue
        held = [line.text for line in lines]
        held += [rest.text for rest in read.left_over if rest.place == place]
        for found in _amounts(text, [clean(in_figures(words)) for words in held], book):
            if not _is_repeated(found, read, book):
                told[found] = None
    return [NotRead(found) for found in list(told)[:MOST_TOLD]]


def _amounts(text: str, held: Sequence[str], book: IngredientBook) -> Iterator[str]:
    """Amounts of something to eat, with names, that are in none of the given texts."""
    for sentence in sentences(in_figures(clean(text[:LONGEST]))):
        tokens = tokenize(sentence)
        i = 0
        while i < len(tokens):
            amount = read_amount(tokens, i)
            if amount is None or amount.unit is None or amount.unit.measures not in _MEASURED:
                i += 1
                continue
            end = name_end(tokens, amount.end, book)
            said = sentence[tokens[i].start : tokens[amount.end - 1].end]
            named = sentence[tokens[i].start : tokens[end - 1].end]
            if not any(said in words for words in held):
                if end > amount.end and _is_new(tokens, i, amount, end, book):
                    yield named
                elif end == amount.end and (before := _named_before(tokens, i, book)):
                    yield f"{said} {before}"
            i = max(end, amount.end)


def _named_before(tokens: Sequence[Token], i: int, book: IngredientBook) -> str:
    """The name right before an amount, `Baking soda ... 60 g`, if it is all that is there."""
    at = i
    while at and (tokens[at - 1].is_word or tokens[at - 1].text in _LEADERS):
        at -= 1
    words = (token for token in tokens[at:i] if token.is_word)
    name = [*takewhile(lambda token: token.low not in NAME_ENDERS, words)]
    if not 0 < len(name) <= _MOST_NAME or name[0].low in _TAKEN_BEFORE:
        return ""
    known = book.fit([token.text for token in name]).match.key
    return " ".join(token.text for token in name) if known else ""


def _is_new(
    tokens: Sequence[Token], i: int, amount: Amount, end: int, book: IngredientBook
) -> bool:
    """Whether an amount is of something that no line may have taken already."""
    name = [token.low for token in tokens[amount.end : end]]
    before = tokens[i - 1].low if i else ""
    if set(name) & _TAKEN or before in _TAKEN_BEFORE:
        return False
    return is_food_named(tokens[amount.end : end]) and bool(book.named_in(" ".join(name)))


def _is_repeated(found: str, read: Reading, book: IngredientBook) -> bool:
    """Whether a line of the text has the same amount of the same ingredient."""
    line = read_line(found, book)
    same = (other for other in read.lines if other.match.key == line.match.key)
    return any(other.written.mass_g == line.written.mass_g for other in same)
