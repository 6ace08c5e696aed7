"""One spelling for the words of names: no plurals, no accents, one way of each British pair."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_WORDS = re.compile(r"[^\W\d_]+")
_ES = ("sses", "ches", "shes", "xes", "oes")
_LETTERS = str.maketrans({"ß": "ss", "œ": "oe", "æ": "ae", "ø": "o", "ł": "l", "đ": "d"})
_RULES = tuple(
    (re.compile(pattern), right)
    for pattern, right in (
        (r"ogh", "og"),  # yoghurt
        (r"ph", "f"),  # sulphured
        (r"(?<=..)is(e|ed|ing)$", r"iz\1"),  # iodised
        (r"(?<=...)(?<!fl)our(ed|ing|less)?$", r"or\1"),  # flavour, but not flour
        (r"bre$", "ber"),  # fibre
        (r"(?<=...)ey$", "y"),  # whiskey
        (r"(l|ea|oa)ves$", r"\1f"),  # halves, leaves, loaves
    )
)


@lru_cache(maxsize=4096)
def stem(word: str) -> str:
    """A word in small letters in its one spelling, without plural and possessive endings."""
    word = word.lower().replace("'s", "").strip("'").translate(_LETTERS)
    if not word.isascii():
        parts = unicodedata.normalize("NFKD", word)
        word = "".join(sign for sign in parts if not unicodedata.combining(sign))
    for pattern, right in _RULES:
        word = pattern.sub(right, word)
    return _singular(word)


def _singular(word: str) -> str:
    if len(word) <= 3 or not word.endswith("s"):
        return word
    if word.endswith("ies"):
        return f"{word[:-3]}y"
    if word.endswith(_ES):
        return word[:-2]
    return word if word.endswith(("ss", "us")) else word[:-1]


@lru_cache(maxsize=4096)
def stems(text: str) -> tuple[str, ...]:
    """The stems of a text's words, in order."""
    return tuple(stem(word) for word in _WORDS.findall(text.replace("'", "")))
