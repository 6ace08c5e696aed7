"""Phrases in which a word for one food means another: `peanut butter` is not butter.

Only what is plainly such a phrase is read as one. If something follows that may contain the food
after all (`peanut butter cookies`), if the word may also be meant literally (`cow’s and oat milk`),
or if somebody says what they eat instead (`I drink oat milk`), every word counts.

The phrases are common kitchen words, from memory.
"""

from __future__ import annotations

import re
from functools import cache

_PLANTS = "almond|cashew|coconut|hazelnut|hemp|oat|pea|peanut|rice|soy|soya|soybean|walnut"
_SEEDS = "peanut|almond|cashew|hazelnut|pecan|pistachio|walnut|macadamia|nut|sesame|seed|sunflower"
_FATS = "apple|cacao|cocoa|coconut|mango|pumpkin seed|shea|soy|soya|sunflower seed"
_CULTURED = "almond|coconut|oat|soy|soya"

BLANK = "_"

# The phrases by the word in them that means another food.
PHRASES = {
    "milk": (f"({_PLANTS}|nut) milk", "milk thistle"),
    "cream": ("(coconut|oat|soy|soya) cream", "cream of (tartar|coconut)"),
    "yogurt": (f"({_CULTURED}) yogurt",),
    "yoghurt": (f"({_CULTURED}) yoghurt",),
    "butter": (f"({_SEEDS}|{_FATS}) butter", "butter (bean|lettuce|nut squash|nut pumpkin)"),
    "nut": ("butter nut (squash|pumpkin)", "coco nut"),
    "egg": ("egg plant",),
    "wheat": ("buck wheat",),
    "oyster": ("(king )?oyster mushroom",),
    "lobster": ("lobster mushroom",),
    "crab": ("crab apple",),
}

# What may follow a phrase without adding a food.
_MAY_FOLLOW = "and|or|nor|but|allergy|allergies|intolerance|please|at all|either|too|also"

# Words that may mean the food itself as well: `goat or soy milk`.
_IN_EARNEST = (
    "all any animal both buffalo camel cow cows dairy ewe fat fresh full goat goats mare normal "
    "ordinary other plain raw real regular salted sheep skim skimmed unsalted usual whole"
)

# Words with which people may say what they eat, and so what they do not.
_INSTEAD = (
    "allowed alternative alternatives bring brings bringing can drink drinks except fine good have "
    "having instead like likes love need needs ok okay only prefer prefers rather replace replaced "
    "replacement safe substitute substitutes swap take takes tolerate tolerates use uses using "
    "vegan want with without yes"
)


def without_other_foods(words: str) -> str:
    """The words with a blank for each one that means another food in a plain phrase."""
    read = words
    if not _talks_of_instead().search(words):
        for found in (match for pattern in _patterns() for match in pattern.finditer(words)):
            if not _also_in_earnest().search(words[: found.start()]):
                start, end = found.span("other")
                read = read[:start] + BLANK * (end - start) + read[end:]
    return read


@cache
def _patterns() -> tuple[re.Pattern[str], ...]:
    return tuple(_pattern(word, phrase) for word, some in PHRASES.items() for phrase in some)


def _pattern(word: str, phrase: str) -> re.Pattern[str]:
    """A phrase on one line, singular or plural, in any case; `other` is the word in it.

    The phrase ends a clause, or what follows adds no food.
    """
    marked = re.sub(rf"\b{word}\b", f"(?P<other>{word})", phrase, count=1)
    one_line = marked.replace(" ", r"(?:[^\S\r\n]+|-)")
    end = rf"(?=\s*(?:$|[\r\n,;.:!()/&+])|\s+(?:{_MAY_FOLLOW})(?!\w))"
    return re.compile(rf"(?<![\w-])(?:{one_line})(?:e?s)?(?![\w-]){end}", re.IGNORECASE)


@cache
def _also_in_earnest() -> re.Pattern[str]:
    words = "|".join(_IN_EARNEST.split())
    joined = r"(?:\s*[,/&+]\s*|\s+(?:and|or|nor|plus)\s+)+"
    more = r"(?:\w+\s+){0,2}"
    own = rf"(?<!\w)(?:{words})(?:['’]s?)?(?:\s+\w+){{0,2}}"
    return re.compile(rf"{own}{joined}{more}$", re.IGNORECASE)


@cache
def _talks_of_instead() -> re.Pattern[str]:
    return re.compile(rf"(?<!\w)(?:{'|'.join(_INSTEAD.split())})(?![\w'’])", re.IGNORECASE)
