"""What to offer for a name that fits nothing, or leaves something open.

Offers are of the same kind and, among flours and grains, of the same grain or wholeness; shared
colors and states do not count.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from recipes.core.choices import IngredientKind
from recipes.core.regions import HomeRegion
from recipes.importing.naming.grades import GRADING, OTHER_GRAINS, grain_of, is_whole
from recipes.importing.naming.index import Name, NameIndex
from recipes.importing.naming.spelling import stem, stems
from recipes.importing.text.words import FILLERS, KIND_WORDS, STATES, word_set
from recipes.importing.values import KnownIngredient

MOST_OFFERED = 5
_MOST_LOOKED_AT = 150
_MILLED = frozenset({IngredientKind.FLOUR, IngredientKind.GRAIN})
_ALLIED = (
    _MILLED,
    frozenset({IngredientKind.LIQUID, IngredientKind.DAIRY}),
    frozenset({IngredientKind.SEED, IngredientKind.SPICE}),
    frozenset({IngredientKind.FRUIT, IngredientKind.VEGETABLE}),
)
# Words for substitutes, which are not near to what they replace.
_INSTEAD = frozenset(
    map(stem, ("free", "vegan", "substitute", "alternative", "replacement", "replacer"))
)
# The kind that a stem suggests at the end of a name.
KINDS_BY_STEM = {stem(word): kind for word, kind in KIND_WORDS.items()}
_QUALITIES = frozenset(
    map(
        stem,
        STATES
        | GRADING
        | word_set(
            """salted unsalted sweetened unsweetened dried dry sweet sour bitter black white red
            green golden yellow brown hulled natural plain fine coarse flake seeded mild strong
            hot vegetable baking cooking candied smoked liquid thick thin style type
            paste puree sauce mix mixture spread filling topping whipped
            powder blend"""
        ),
    )
)


@dataclass(frozen=True, slots=True)
class Sort:
    """What sort of thing is meant: its kind if known; for milled things, grain and wholeness."""

    kind: IngredientKind | None
    grain: str = ""
    whole: bool = False

    @property
    def is_milled(self) -> bool:
        return self.kind in _MILLED

    def distance(self, other: Sort) -> tuple[bool, ...] | None:
        """How far another sort is from this one; None if it should not be offered."""
        if self.kind is None:
            return (False,)
        if other.kind is not self.kind and {self.kind, other.kind} not in _ALLIED:
            return None
        apart = other.grain != self.grain, other.whole != self.whole
        if self.is_milled and (apart[0] and not (self.whole and other.whole)):
            return None
        return other.kind is not self.kind, *apart


def sort_of(one: KnownIngredient) -> Sort:
    """The sort of a known ingredient."""
    return _sort_of(one.kind, one.name)


@lru_cache(maxsize=2048)
def _sort_of(kind: IngredientKind, name: str) -> Sort:
    return _sort(kind, stems(name))


def sort_named(phrase: Sequence[str]) -> Sort:
    """The sort that a phrase's last telling word suggests."""
    return _sort(kind_named(phrase), phrase)


def kind_named(phrase: Sequence[str]) -> IngredientKind | None:
    """The kind that the last telling word of a phrase suggests; None if it suggests none."""
    return KINDS_BY_STEM.get(head_of(phrase))


def head_of(phrase: Sequence[str]) -> str:
    """The last word that says more than a quality: the noun of a name."""
    telling = (word for word in reversed(phrase) if word not in _QUALITIES or word in KINDS_BY_STEM)
    return next(telling, phrase[-1] if phrase else "")


def _sort(kind: IngredientKind | None, words: Sequence[str]) -> Sort:
    if kind not in _MILLED:
        return Sort(kind)
    return Sort(kind, grain_of(words), is_whole(words))


def nearest_keys(
    index: NameIndex, phrase: Sequence[str], sort: Sort, region: HomeRegion | None = None
) -> tuple[str, ...]:
    """Keys of known ingredients near to a phrase of that sort, nearest first."""
    if not _INSTEAD.isdisjoint(phrase):
        return ()
    telling = frozenset(phrase) - _QUALITIES - FILLERS
    needed = _needed(phrase, sort)
    ranked: dict[str, tuple[float, ...]] = {}
    for place, name in enumerate(_sharing(index, telling)):
        shared = len(name.words & telling)
        alike = -shared / len(name.words | telling)
        for key in name.sense(region).keys:
            if not _is_of_the_same(needed, sort, stems(index.known[key].name)):
                continue
            far = sort.distance(sort_of(index.known[key]))
            if far is not None:
                rank = (*far, alike, place)
                ranked[key] = min(ranked.get(key, rank), rank)
    return tuple(sorted(ranked, key=lambda key: ranked[key]))[:MOST_OFFERED]


def _needed(phrase: Sequence[str], sort: Sort) -> frozenset[str]:
    """The words that the name of what is offered must have: without a kind, the noun.

    Else the plants that make another thing of what is no flour: no milk is near to one of hemp.
    """
    if sort.kind is None:
        return frozenset({head_of(phrase)})
    return frozenset() if sort.is_milled else OTHER_GRAINS.intersection(phrase)


def _is_of_the_same(needed: frozenset[str], sort: Sort, words: Sequence[str]) -> bool:
    """Whether a name has the words needed, and no plant besides them."""
    plants = frozenset() if sort.is_milled else OTHER_GRAINS.intersection(words)
    return needed.issubset(words) and (sort.kind is None or plants <= needed)


def _sharing(index: NameIndex, words: Iterable[str]) -> list[Name]:
    """Names that share a word, those of rare words first; never more than a page of them."""
    found: dict[int, Name] = {}
    for word in sorted(words, key=lambda word: (len(index.by_word.get(word, ())), word)):
        for name in index.by_word.get(word, ())[: _MOST_LOOKED_AT - len(found)]:
            found.setdefault(id(name), name)
    return list(found.values())
