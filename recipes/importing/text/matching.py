"""Names on ingredient lines to known ingredients: exact, likely with a doubt, or none.

A name fits if all words of one of an ingredient's names are in it. What is left over may only be a
state (`warm`, `chopped`): a word that could make another thing of it (`almond milk`) means that
nothing is proposed, because a wrong match could hide an allergen. A flour is also told by its grain
and grade.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from copy import copy
from dataclasses import dataclass

from recipes.core.regions import HomeRegion
from recipes.core.written import NamedFlour
from recipes.importing.naming.grades import GRADING, OTHER_GRAINS, nearest, read_flour
from recipes.importing.naming.index import Name, NameIndex, Sense
from recipes.importing.naming.nearness import (
    KINDS_BY_STEM,
    MOST_OFFERED,
    nearest_keys,
    sort_named,
    sort_of,
)
from recipes.importing.naming.spelling import stem, stems
from recipes.importing.text.words import (
    CHANGING_WORDS,
    FILLERS,
    OPPOSITES,
    SOFT_STATES,
    STATES,
)
from recipes.importing.values import KnownIngredient, Match, Sureness

MOST_WORDS = 12

_STATES = frozenset(map(stem, STATES))
_RIGHT = _STATES | GRADING | KINDS_BY_STEM.keys()
_PLAIN_STATES = _STATES - GRADING
_SOFT = frozenset(map(stem, SOFT_STATES))
_CHANGING = frozenset(map(stem, CHANGING_WORDS)) | OTHER_GRAINS
_OPPOSITES = {stem(word): frozenset(map(stem, others)) for word, others in OPPOSITES.items()}


@dataclass(frozen=True, slots=True)
class Fit:
    """A match, and the stems that made it; `states` are stems for the note.

    Those are states left over, and states that the ingredient's own name does not tell.
    """

    match: Match
    used: frozenset[str] = frozenset()
    states: frozenset[str] = frozenset()


class IngredientBook:
    """Known ingredients, by all their names. Build it once, use it often.

    Its `region` says what words, cups, spoons and eggs lines mean; None is not known. `fed` gives
    the flours of a starter by its key, where anybody knows them.
    """

    def __init__(
        self,
        ingredients: Iterable[KnownIngredient],
        region: HomeRegion | None = HomeRegion.US,
        fed: Callable[[str], Sequence[NamedFlour]] = lambda key: (),
    ) -> None:
        self.region = region
        self.fed = fed
        self._index = NameIndex(ingredients)

    def in_region(self, region: HomeRegion | None) -> IngredientBook:
        """The same ingredients, named and measured as in a region; nothing is built again."""
        book = copy(self)
        book.region = region
        return book

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys of all ingredients, in the order they were given."""
        return tuple(self._index.known)

    def get(self, key: str) -> KnownIngredient | None:
        """The ingredient of a key, or None."""
        return self._index.known.get(key)

    def named(self, name: str) -> KnownIngredient | None:
        """The ingredient of exactly this name, or None."""
        return next((known for known in self._index.known.values() if known.name == name), None)

    def fit(self, words: Sequence[str], codes: Sequence[str] = ()) -> Fit:
        """The ingredient that the words of a name fit best; `codes` are a flour's numbers."""
        phrase = tuple(stem(word) for word in words)[:MOST_WORDS]
        phrase = self._index.respelled(phrase, _RIGHT)
        codes = tuple(stem(code) for code in codes)
        found = self._best(phrase, codes)
        right = self._index.respelled(self._index.corrected(phrase, _RIGHT), _RIGHT)
        better = self._best(right, codes) if right != phrase else None
        if better and (found is None or len(better.words) > len(found.words)):
            return self._judged(better, right, codes, typo=True)
        if found is None:
            return self._graded(phrase, codes) or self._none(right)
        return self._judged(found, phrase, codes, typo=False)

    def _best(self, phrase: tuple[str, ...], codes: tuple[str, ...]) -> Name | None:
        """The name with the most significant words, all of them in the phrase."""
        last = _head(phrase)

        def rank(name: Name) -> tuple[int, int, bool, bool]:
            telling, sure = name.words - _PLAIN_STATES, name.sense(self.region).sure
            return len(telling), len(name.words), last in name.words, sure

        return max(self._index.within((*phrase, *codes)), key=rank, default=None)

    def _judged(
        self, name: Name, phrase: tuple[str, ...], codes: tuple[str, ...], *, typo: bool
    ) -> Fit:
        left = frozenset(phrase) - name.words - FILLERS
        strange = left - _STATES
        numbers = frozenset(codes) - name.words
        if numbers or strange or left & GRADING:
            graded = self._graded(phrase, codes)
            if graded is not None:
                return graded
        sense = name.sense(self.region)
        if sense.like:
            return Fit(Match("", Sureness.NONE, self._offered(sense.keys, phrase)))
        if self._is_another(name, left, strange) or _head(phrase) not in name.words | _STATES:
            return self._none(phrase)
        unsure = typo or not sense.sure or bool(strange or numbers) or bool(left & _SOFT)
        return self._fit(sense, name.words, phrase, unsure=unsure)

    def _fit(
        self, sense: Sense, used: frozenset[str], phrase: tuple[str, ...], *, unsure: bool
    ) -> Fit:
        key = sense.keys[0]
        offered = self._offered(sense.keys, phrase) if unsure else sense.keys
        sureness = Sureness.LIKELY if unsure else Sureness.EXACT
        untold = used - set(stems(self._index.known[key].name))
        states = (frozenset(phrase) - used - FILLERS | untold) & _STATES
        return Fit(Match(key, sureness, offered, sense.note if unsure else ""), used, states)

    def _graded(self, phrase: tuple[str, ...], codes: tuple[str, ...]) -> Fit | None:
        """The fit of a flour told by grain and grade, if the phrase says no more than that."""
        words = tuple(word for word in phrase if word not in _PLAIN_STATES | FILLERS)
        flour = read_flour(words, codes)
        graded = nearest(flour, self._index.known) if flour else None
        if graded is None:
            return None
        sense = Sense(graded.keys, graded.sure, note=graded.note)
        return self._fit(sense, frozenset(words), phrase, unsure=not graded.sure)

    def _none(self, phrase: tuple[str, ...]) -> Fit:
        near = nearest_keys(self._index, phrase, sort_named(phrase), self.region)
        return Fit(Match("", Sureness.NONE, near))

    def _offered(self, keys: tuple[str, ...], phrase: tuple[str, ...]) -> tuple[str, ...]:
        """The keys a name has; if that is only one, also what is near to it."""
        if len(keys) > 1:
            return keys[:MOST_OFFERED]
        sort = sort_of(self._index.known[keys[0]])
        near = nearest_keys(self._index, phrase, sort, self.region)
        return tuple(dict.fromkeys((*keys, *near)))[:MOST_OFFERED]

    def _is_another(self, name: Name, left: frozenset[str], strange: frozenset[str]) -> bool:
        if any(word in _CHANGING or self._index.holds(word) for word in strange):
            return True
        key = name.sense(self.region).keys[0]
        own = set(stems(self._index.known[key].name)) | name.words
        return any(own & _OPPOSITES[word] for word in left if word in _OPPOSITES)

    def named_in(self, text: str) -> tuple[str, ...]:
        """Keys of the ingredients that a text names, looking only at its first words."""
        phrase = self._index.respelled(stems(text)[: MOST_WORDS * 2], _RIGHT)
        names = sorted(self._index.within(phrase), key=lambda name: -len(name.words))
        covered: set[str] = set()
        keys: dict[str, None] = {}
        for name in names:
            if not name.words <= covered:
                covered |= name.words
                sense = name.sense(self.region)
                if not sense.like:
                    keys[sense.keys[0]] = None
        return tuple(keys)


def _head(phrase: Sequence[str]) -> str:
    """The last word that says more than a state: the noun of the name."""
    return next(
        (word for word in reversed(phrase) if word not in _STATES), phrase[-1] if phrase else ""
    )
