"""All names of known ingredients by their words: built once for a book, however large."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from recipes.core.regions import HomeRegion
from recipes.importing.naming.spelling import stem, stems
from recipes.importing.naming.table import FitsAs, NameRow, name_rows
from recipes.importing.text.words import FILLERS, NUMBERED, one_letter_less
from recipes.importing.values import KnownIngredient

_LEAST_KNOWN = 5
_LEAST_TYPO = 4
_MOST_TYPO = 20
_WORDS = re.compile(r"[^\W\d_]{0,2}[0-9]+|[^\W\d_]+")


@dataclass(frozen=True, slots=True)
class Sense:
    """What a name means in a region: keys, the likeliest first.

    Without a single certain key it leaves something open, which `note` may explain; what it is
    merely `like` is offered, never taken.
    """

    keys: tuple[str, ...]
    sure: bool
    like: bool = False
    note: str = ""


@dataclass(slots=True)
class Name:
    """The words of a name; an ingredient's own name outranks the table's rows."""

    words: frozenset[str]
    own: list[str] = field(default_factory=list)
    rows: list[NameRow] = field(default_factory=list)
    heads: list[str] = field(default_factory=list)
    dried: bool = False
    _senses: dict[HomeRegion | None, Sense] = field(default_factory=dict)

    def sense(self, region: HomeRegion | None = None) -> Sense:
        """What the name means there; without a region, wherever it may be from."""
        if region not in self._senses:
            self._senses[region] = self._sense(region)
        return self._senses[region]

    def _sense(self, region: HomeRegion | None) -> Sense:
        if self.own:
            return Sense((self.own[0],), sure=True)
        if not self.rows:
            keys = tuple(dict.fromkeys(self.heads))
            return Sense(keys, sure=len(keys) == 1 and not self.dried)
        rows, elsewhere = self._rows_for(region)
        keys = tuple(dict.fromkeys(row.key for row in rows))
        first = rows[0]
        same = len(keys) == 1 and all(row.fits_as is FitsAs.IS for row in rows)
        return Sense(
            keys, same and not elsewhere, like=first.fits_as is FitsAs.LIKE, note=first.note
        )

    def _rows_for(self, region: HomeRegion | None) -> tuple[list[NameRow], bool]:
        """The rows of a region, else those of everywhere, else all, which are from elsewhere."""
        if region is None:
            return self.rows, False
        of_region = [row for row in self.rows if region in row.regions]
        everywhere = [row for row in self.rows if not row.regions]
        return of_region or everywhere or self.rows, not (of_region or everywhere)


class NameIndex:
    """Names by their words. A name is found under its rarest word, so that a look-up does not go
    through all names with `flour` in them."""

    def __init__(self, ingredients: Iterable[KnownIngredient]) -> None:
        self.known = {thing.key: thing for thing in ingredients}
        self.by_word: dict[str, list[Name]] = {}
        self._names: dict[frozenset[str], Name] = {}
        self._pairs: dict[str, tuple[str, str]] = {}
        for thing in self.known.values():
            for text in (*_longer_heads(thing.name), *thing.words):
                self._name(text).own.append(thing.key)
        for row in name_rows():
            if row.key in self.known:
                self._name(row.word).rows.append(row)
        self._add_heads()
        self._names.pop(frozenset(), None)
        self._under: dict[str, list[Name]] = {}
        for name in self._names.values():
            rarest = min(sorted(name.words), key=lambda word: len(self.by_word[word]))
            self._under.setdefault(rarest, []).append(name)
        self._typos = _typos(self.by_word)

    def _name(self, text: str) -> Name:
        """The name of a text's words, added if it is new."""
        phrase = tuple(word for word in name_words(text) if word not in FILLERS)
        words = frozenset(phrase)
        if words in self._names:
            return self._names[words]
        name = self._names[words] = Name(words)
        for word in words:
            self.by_word.setdefault(word, []).append(name)
        for first, second in pairwise(phrase):
            self._pairs.setdefault(first + second, (first, second))
        return name

    def _add_heads(self) -> None:
        """Heads of names such as `Egg, whole`; that of something dried may mean the fresh one."""
        for thing in self.known.values():
            head, comma, _ = thing.name.partition(",")
            if comma:
                name = self._name(head)
                name.heads.append(thing.key)
                name.dried = name.dried or "dried" in stems(thing.name)

    def holds(self, word: str) -> bool:
        """Whether any name has that word."""
        return word in self.by_word

    def within(self, phrase: Iterable[str]) -> list[Name]:
        """The names whose words are all in a phrase."""
        words = frozenset(phrase)
        found = (name for word in dict.fromkeys(phrase) for name in self._under.get(word, ()))
        return [name for name in found if name.words <= words]

    def respelled(self, phrase: Sequence[str], right: frozenset[str]) -> tuple[str, ...]:
        """The phrase with its words written together or apart as names, or `right`, have them."""
        words: list[str] = []
        for word in phrase:
            joined = words[-1] + word if words else ""
            if joined not in self._pairs and (joined in self.by_word or joined in right):
                words[-1] = joined
            elif word not in right and word not in self.by_word and word in self._pairs:
                words += self._pairs[word]
            else:
                words.append(word)
        return tuple(words)

    def corrected(self, phrase: Iterable[str], right: frozenset[str]) -> tuple[str, ...]:
        """The phrase with words one slip away from a known one corrected."""
        return tuple(self._spelled(word) if word not in right else word for word in phrase)

    def _spelled(self, word: str) -> str:
        if word in self.by_word or not _LEAST_TYPO <= len(word) <= _MOST_TYPO:
            return word
        slips = sorted(less for less in one_letter_less(word) if less in self._typos)
        return self._typos[slips[0]] if slips else word


def name_words(text: str) -> tuple[str, ...]:
    """The stems of a name in order, and the codes of a flour in it: `550` of `type 550`."""
    found = _WORDS.findall(text.replace("'", ""))
    following = [*found[1:], ""]
    return tuple(
        stem(word)
        for word, after in zip(found, following, strict=False)
        if not (word.lower() in NUMBERED and after[:1].isdigit())
    )


def _longer_heads(name: str) -> list[str]:
    """`Cranberries, dried, sweetened` and `Cranberries, dried`."""
    parts = name.split(",")
    return [",".join(parts[:n]) for n in range(len(parts), 1, -1)] or [name]


def _typos(words: Iterable[str]) -> dict[str, str]:
    """Known words by their forms with one letter less."""
    found: dict[str, str] = {}
    for word in words:
        if len(word) >= _LEAST_KNOWN:
            for less in sorted(one_letter_less(word)):
                found.setdefault(less, word)
    return found
