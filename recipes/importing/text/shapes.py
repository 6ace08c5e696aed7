"""What a pasted line looks like: an ingredient, a sentence of the method, a table's head."""

from __future__ import annotations

import re

from recipes.core.units import Measures
from recipes.importing.method.verbs import STEP_VERBS
from recipes.importing.text.numbers import read_amount
from recipes.importing.text.tokens import line_start
from recipes.importing.text.words import word_set

_MOST_INGREDIENT_WORDS = 22
_LEAST_SENTENCE_WORDS = 6
_LEAST_LONG_SENTENCE = 9
_LEAST_WRAPPED = 45
_NOT_OPENING = {"oil", "line", "cream", "rest", "roast", "dust", "melt", "soak"}
OPENING = (STEP_VERBS.keys() - _NOT_OPENING) | {
    "in", "place", "let", "using", "once", "when", "after", "cover", "transfer", "make", "start",
    "begin", "meanwhile", "remove", "set", "while", "then", "next", "now", "take", "bring", "use",
    "with", "on", "first", "finally", "slowly", "gently",
}  # fmt: skip
_TABLE_WORDS = word_set(
    "ingredient ingredients weight mass grams gram g amount quantity qty baker's bakers baker "
    "percent percentage unit s ounces oz"
)
_NAME_WORDS = word_set("ingredient ingredients item items % percent time clock")
_CELLS = re.compile(r"\s*[\t|]\s*|\s{3,}")
_OPEN = word_set(
    "and then or the a an to of in on at for with until into from about by over is are you it"
)
_END_MARKS = ".!?:"
_BULLETS = "-*•▢☐☑□■●○◦▪▫‣·#|>"


def is_rule(line: str) -> bool:
    """A line of only marks, such as a table's rule."""
    return not any(sign.isalnum() for sign in line)


def is_numbers(line: str) -> bool:
    """A line of numbers without any word, such as `1x 2x 3x`."""
    return not any(sign.isalpha() and sign not in "xX" for sign in line)


def _orders_anew(before: str, line: str) -> bool:
    """Whether a line begins with an imperative and the one before it is complete."""
    last = before.rstrip()[-12:].rpartition(" ")[2].lower()
    return line.partition(" ")[0].lower() in OPENING and last not in _OPEN and last[-1:] != ","


def continues(before: str, line: str) -> bool:
    """Whether a line continues the sentence of a long line before it."""
    text = line.strip()
    return (
        len(before.rpartition("\n")[2].strip()) >= _LEAST_WRAPPED
        and before.rstrip()[-1] not in _END_MARKS
        and text[:1].islower()
        and not _opens_step(text)
        and "\t" not in line
        and not _orders_anew(before, text)
        and looks_like_method(before[:300])
    )


def _opens_step(text: str) -> bool:
    """`bulk 2 h`, `div 5 x 340`: a line of notes that begins work of its own."""
    word, _, rest = text.partition(" ")
    return word in STEP_VERBS and rest[:1].isdigit()


def is_table_head(line: str) -> bool:
    """The head of a table of ingredients: `Ingredient | Weight | %`."""
    words = [token.low for token in line_start(line)[1] if token.is_word]
    if len(words) > 1 and set(words) <= _TABLE_WORDS:
        return True
    cells = _CELLS.split(line.strip(" |"))
    named = set(cells[0].lower().split()) <= _NAME_WORDS or line[:1] == "\t"
    return len(cells) > 1 and named


def looks_like_ingredient(line: str, *, strict: bool = False) -> bool:
    """Whether a line starts with an amount, or is short and holds a mass or volume.

    If `strict`, an amount without a unit is not enough.
    """
    cleaned, tokens = line_start(line)
    if not tokens or sum(token.is_word for token in tokens) > _MOST_INGREDIENT_WORDS:
        return False
    first = read_amount(tokens, 0)
    if first and first.usable and len(tokens) > first.end:
        return first.unit is not None or (not strict and tokens[0].is_number)
    if cleaned[-1] == "." or tokens[0].low in OPENING or len(tokens) > _MOST_INGREDIENT_WORDS:
        return False
    return any(
        amount.unit is not None and amount.unit.measures in (Measures.MASS, Measures.VOLUME)
        for i, token in enumerate(tokens)
        if token.is_number and (amount := read_amount(tokens, i)) and amount.usable
    )


def looks_like_method(line: str) -> bool:
    """Whether a line is a sentence of work: it begins with a verb, or is long and complete."""
    cleaned, tokens = line_start(line)
    words = [token for token in tokens if token.is_word]
    if len(words) < _LEAST_SENTENCE_WORDS or not tokens[0].is_word:
        opens = bool(tokens) and tokens[0].low in OPENING and len(words) > 2
        return opens and cleaned[-1] == "."
    if read_amount(tokens, 0):
        return False
    if tokens[0].low in OPENING:
        return True
    return len(words) >= _LEAST_LONG_SENTENCE and (cleaned[-1] in ".!" or len(line) > 200)
