"""Names on ingredient lines to known ingredients: exact, likely with a doubt, or none.

A name fits when all words of one of an ingredient's names stand in it. What is left over must
say nothing but a state (`warm`, `chopped`): a word that could make another thing of it
(`almond milk`) means that nothing is proposed, because a wrong match could hide an allergen.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from recipes.importing.text.names import BARE_NAMES, CHANGING_WORDS, OTHER_NAMES
from recipes.importing.text.words import FILLERS, OPPOSITES, SOFT_STATES, STATES, one_letter_less
from recipes.importing.values import KnownIngredient, Match, Sureness

MOST_WORDS = 12
MOST_CANDIDATES = 3
_LEAST_KNOWN = 5
_LEAST_TYPO = 4
_LEAST_HALF = 3
_MOST_TYPO = 20
_LETTERS = re.compile(r"[^\W\d_]+")
_ES = ("sses", "ches", "shes", "xes", "oes")


def stem(word: str) -> str:
    """A word in small letters without plural and possessive endings."""
    word = word.lower().replace("'s", "").strip("'")
    if len(word) <= 3 or not word.endswith("s"):
        return word
    if word.endswith("ies"):
        return f"{word[:-3]}y"
    if word.endswith(_ES):
        return word[:-2]
    return word if word.endswith(("ss", "us")) else word[:-1]


def stems(text: str) -> tuple[str, ...]:
    """The stems of a text's words, in order."""
    return tuple(stem(word) for word in _LETTERS.findall(text.replace("'", "")))


_STATES = frozenset(map(stem, STATES))
_SOFT = frozenset(map(stem, SOFT_STATES))
_CHANGING = frozenset(map(stem, CHANGING_WORDS))
_OPPOSITES = {stem(word): frozenset(map(stem, others)) for word, others in OPPOSITES.items()}


@dataclass(frozen=True, slots=True)
class _Name:
    words: frozenset[str]
    keys: tuple[str, ...]
    bare: bool


@dataclass(frozen=True, slots=True)
class Fit:
    """A match, and the stems that made it; `states` are stems for the note.

    Those are states left over, and states that the ingredient's own name does not tell.
    """

    match: Match
    used: frozenset[str] = frozenset()
    states: frozenset[str] = frozenset()


def _longer_heads(name: str) -> list[str]:
    """`Cranberries, dried, sweetened` and `Cranberries, dried`."""
    parts = name.split(",")
    return [",".join(parts[:n]) for n in range(len(parts), 1, -1)] or [name]


class IngredientBook:
    """Known ingredients, indexed by the words of all their names. Build it once, use it often."""

    def __init__(self, ingredients: Iterable[KnownIngredient]) -> None:
        self._known = {ingredient.key: ingredient for ingredient in ingredients}
        self._names: list[_Name] = []
        self._by_word: dict[str, list[int]] = {}
        for known in self._known.values():
            others = (*known.words, *OTHER_NAMES.get(known.key, "").split("|"))
            for text in (*_longer_heads(known.name), *others):
                self._add(text, (known.key,), bare=False)
        self._add_bare_names()
        self._typos: dict[str, str] = {}
        for word in self._by_word:
            if len(word) >= _LEAST_KNOWN:
                for less in sorted(one_letter_less(word)):
                    self._typos.setdefault(less, word)

    def _add_bare_names(self) -> None:
        """Names that leave something open, and the heads of names such as `Egg, whole`.

        The head of something dried is bare, since the fresh one may be meant.
        """
        bare = {frozenset(stems(text)) for text in BARE_NAMES}
        for text, keys in BARE_NAMES.items():
            self._add(text, tuple(key for key in keys if key in self._known), bare=True)
        heads: dict[str, list[KnownIngredient]] = {}
        for known in self._known.values():
            head, comma, _ = known.name.partition(",")
            if comma and frozenset(stems(head)) not in bare:
                heads.setdefault(head, []).append(known)
        for head, ones in heads.items():
            dried = "dried" in stems(ones[0].name)
            self._add(head, tuple(one.key for one in ones), bare=dried or len(ones) > 1)

    def _add(self, text: str, keys: tuple[str, ...], *, bare: bool) -> None:
        words = frozenset(stems(text)) - FILLERS
        if not words or not keys:
            return
        self._names.append(_Name(words, keys, bare))
        for word in words:
            self._by_word.setdefault(word, []).append(len(self._names) - 1)

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys of all ingredients, in the order they were given."""
        return tuple(self._known)

    def get(self, key: str) -> KnownIngredient | None:
        """The ingredient of a key, or None."""
        return self._known.get(key)

    def fit(self, words: Sequence[str]) -> Fit:
        """The ingredient that the words of a name fit best."""
        phrase = tuple(stem(word) for word in words)[:MOST_WORDS]
        found = self._best(phrase)
        right = self._corrected(phrase)
        better = self._best(right) if right != phrase else None
        if better and (found is None or len(better.words) > len(found.words)):
            return self._judged(better, right, typo=True)
        if found is None:
            return Fit(Match("", Sureness.NONE, self._similar(right)))
        return self._judged(found, phrase, typo=False)

    def _best(self, phrase: tuple[str, ...]) -> _Name | None:
        """The name with most words, all of them in the phrase; its last word counts next."""
        shared = self._shared(phrase)
        fits = [self._names[n] for n, count in shared.items() if count == len(self._names[n].words)]
        last = _head(phrase)
        return max(
            fits,
            key=lambda name: (len(name.words), last in name.words, not name.bare),
            default=None,
        )

    def _shared(self, phrase: Iterable[str]) -> Counter[int]:
        return Counter(n for word in dict.fromkeys(phrase) for n in self._by_word.get(word, ()))

    def _judged(self, name: _Name, phrase: tuple[str, ...], *, typo: bool) -> Fit:
        left = frozenset(phrase) - name.words - FILLERS
        strange = left - _STATES
        if self._is_another(name, left, strange) or _head(phrase) not in name.words | _STATES:
            return Fit(Match("", Sureness.NONE, self._candidates(name, phrase)))
        likely = typo or name.bare or bool(strange) or bool(left & _SOFT)
        sureness = Sureness.LIKELY if likely else Sureness.EXACT
        candidates = self._candidates(name, phrase) if likely else name.keys
        untold = name.words - set(stems(self._known[name.keys[0]].name))
        states = (left | untold) & _STATES
        return Fit(Match(name.keys[0], sureness, candidates), name.words, states)

    def _candidates(self, name: _Name, phrase: tuple[str, ...]) -> tuple[str, ...]:
        keys = dict.fromkeys((*name.keys, *self._similar(phrase)))
        return tuple(keys)[:MOST_CANDIDATES]

    def _is_another(self, name: _Name, left: frozenset[str], strange: frozenset[str]) -> bool:
        if any(word in _CHANGING or word in self._by_word for word in strange):
            return True
        own = set(stems(self._known[name.keys[0]].name)) | name.words
        return any(own & _OPPOSITES[word] for word in left if word in _OPPOSITES)

    def _corrected(self, phrase: tuple[str, ...]) -> tuple[str, ...]:
        """The phrase with words that are one slip from a known one put right."""
        return tuple(part for word in phrase for part in self._spelled(word))

    def _spelled(self, word: str) -> tuple[str, ...]:
        """A word, the known one it is a slip of, or the two known ones it runs together."""
        known = word in self._by_word or word in _STATES
        if known or not _LEAST_TYPO <= len(word) <= _MOST_TYPO:
            return (word,)
        for at in range(_LEAST_HALF, len(word) - _LEAST_HALF + 1):
            if word[:at] in self._by_word and word[at:] in self._by_word:
                return word[:at], word[at:]
        slips = sorted(less for less in one_letter_less(word) if less in self._typos)
        return (self._typos[slips[0]],) if slips else (word,)

    def named_in(self, text: str) -> tuple[str, ...]:
        """Keys of the ingredients that a text names, in no more than its first words."""
        words = stems(text)[: MOST_WORDS * 2]
        full = [n for n, count in self._shared(words).items() if count == len(self._names[n].words)]
        full.sort(key=lambda n: -len(self._names[n].words))
        covered: set[str] = set()
        keys: dict[str, None] = {}
        for name in (self._names[n] for n in full):
            if not name.words <= covered:
                covered |= name.words
                keys[name.keys[0]] = None
        return tuple(keys)

    def _similar(self, phrase: tuple[str, ...]) -> tuple[str, ...]:
        """Keys of ingredients that share words with the phrase, most alike first."""
        words = frozenset(phrase) - _STATES - FILLERS
        shared = self._shared(sorted(words))
        ranked = sorted(shared, key=lambda n: (-shared[n] / len(self._names[n].words | words), n))
        keys = dict.fromkeys(key for n in ranked for key in self._names[n].keys)
        return tuple(keys)[:MOST_CANDIDATES]


def _head(phrase: tuple[str, ...]) -> str:
    """The last word that says more than a state: the noun of the name."""
    return next(
        (word for word in reversed(phrase) if word not in _STATES), phrase[-1] if phrase else ""
    )
