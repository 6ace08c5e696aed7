"""What people must not eat against what a class bakes: where each allergen comes in.

It lists what is entered for the ingredients and says nothing about what a food lacks. Words are
searched for the names of allergens and ingredients; who wrote them has the last word.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from recipes.baking.allergen_trace import StepFound, StepText, steps_naming
from recipes.baking.allergens import EU_FOURTEEN, US_NINE, label_of
from recipes.baking.formula import Formula, Ingredient

# Keys of the two lists that mean the same food; wheat and gluten cereals do not.
SAME = {"egg": "eggs", "tree-nuts": "nuts", "crustacean-shellfish": "crustaceans"}
LABELS = {one.key: one.label for one in (*US_NINE, *EU_FOURTEEN)}
DUSTING = "Dusting flour"


@dataclass(frozen=True, slots=True)
class Eater:
    """Somebody in a class: what they marked and wrote, or that they want to say it in private."""

    key: str
    name: str
    station: str
    allergens: tuple[str, ...]
    words: str
    private: bool = False
    asked: bool = True


@dataclass(frozen=True, slots=True)
class Baked:
    """A recipe as somebody bakes it; `eaters` are the keys of those people."""

    title: str
    formula: Formula
    steps: tuple[tuple[str, str], ...]
    eaters: frozenset[str]
    dusting_flour: Ingredient | None = None


@dataclass(frozen=True, slots=True)
class Place:
    """Where an ingredient with an allergen is used. `traces` is the supplier's own words."""

    recipe: str
    component: str
    ingredient: str
    ingredient_key: str
    because: str
    traces: str
    steps: tuple[StepFound, ...]
    own: bool


@dataclass(frozen=True, slots=True)
class Finding:
    """What is known for one person: `places` where it comes in, in their own bread or others'."""

    eater: Eater
    keys: tuple[str, ...]
    places: tuple[Place, ...]

    @property
    def labels(self) -> tuple[str, ...]:
        return tuple(label_of(key) for key in self.keys)


def one_key(key: str) -> str:
    """The key by which both lists name the same food."""
    return SAME.get(key, key)


def keys_in(words: str) -> tuple[str, ...]:
    """The allergens that words name, in singular or plural."""
    found = [one_key(key) for key, label in LABELS.items() if _names(label, words)]
    return tuple(dict.fromkeys(found))


def _names(label: str, words: str) -> bool:
    stem = re.escape(label.removesuffix("s"))
    return re.search(rf"(?<!\w){stem}(?:e?s)?(?!\w)", words, re.IGNORECASE) is not None


def findings(eaters: Iterable[Eater], baked: Sequence[Baked]) -> tuple[Finding, ...]:
    """A finding for everybody who told something; nobody else is listed."""
    told = [one for one in eaters if one.allergens or one.words or one.private]
    return tuple(_finding(eater, baked) for eater in told)


def _finding(eater: Eater, baked: Sequence[Baked]) -> Finding:
    marked = (one_key(key) for key in eater.allergens)
    keys = tuple(dict.fromkeys((*marked, *keys_in(eater.words))))
    places = [place for recipe in baked for place in _places(recipe, eater, keys)]
    return Finding(eater, keys, tuple(sorted(places, key=lambda place: not place.own)))


def _places(recipe: Baked, eater: Eater, keys: Sequence[str]) -> Iterator[Place]:
    for component, ingredient in _ingredients(recipe):
        own = eater.key in recipe.eaters
        steps = steps_naming((component, ingredient.name), _texts(recipe))
        for because, traces in _reasons(ingredient, eater, keys):
            yield Place(
                recipe.title,
                component,
                ingredient.name,
                ingredient.key,
                because,
                traces,
                steps,
                own,
            )


def _texts(recipe: Baked) -> tuple[StepText, ...]:
    return tuple(StepText(kind, text) for kind, text in recipe.steps)


def _ingredients(recipe: Baked) -> Iterator[tuple[str, Ingredient]]:
    seen = set()
    for part in recipe.formula.components:
        for line in part.lines:
            if (part.name, line.ingredient.key) not in seen:
                seen.add((part.name, line.ingredient.key))
                yield part.name, line.ingredient
    if recipe.dusting_flour:
        yield DUSTING, recipe.dusting_flour


def _reasons(
    ingredient: Ingredient, eater: Eater, keys: Sequence[str]
) -> Iterator[tuple[str, str]]:
    """Why an ingredient concerns somebody: an allergen it holds, its traces, or its very name."""
    holds = {one_key(key) for key in (*ingredient.allergens_us, *ingredient.allergens_eu)}
    held = [key for key in keys if key in holds]
    for key in held:
        yield label_of(key), ""
    traces = keys_in(ingredient.may_contain)
    for key in keys:
        if key in traces and key not in held:
            yield label_of(key), ingredient.may_contain
    head = ingredient.name.partition(",")[0].strip()
    if not held and head and _names(head, eater.words):
        yield head.lower(), ""
