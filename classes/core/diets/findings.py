"""What people must not eat compared with what a class bakes: where each allergen comes in.

It lists what is entered for the ingredients and says nothing about what a food lacks. For an
ingredient about which nobody has entered anything, it says "cannot say". People's words are
searched for names of allergens and ingredients; those who wrote them have the last word.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from classes.core.diets.words import held_keys, keys_in, name_in, one_key
from classes.core.keys import PersonKey
from recipes.core.allergen_trace import StepFound, StepText, steps_naming
from recipes.core.allergens import label_of
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient

DUSTING = "Dusting flour"

# The kinds of steps that use each kind of part, for parts that no step names.
USED_IN = {"dough": ("mix",), "preferment": ("prepare",), "soaker": ("prepare",)}
USED_IN |= {"roux": ("prepare",), "filling": ("divide",), "topping": ("divide",)}
USED_IN |= {"wash": ("bake",), DUSTING: ("divide",)}


class Reason(StrEnum):
    """Why an ingredient concerns somebody.

    It contains an allergen they marked; their words name it; its pack mentions traces; or nobody
    has entered what it contains.
    """

    HOLDS = "holds"
    NAMED = "named"
    TRACES = "traces"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Eater:
    """Somebody in a class: what they marked and wrote, or that they prefer to say it in private."""

    key: PersonKey
    name: str
    station: str
    allergens: tuple[str, ...]
    words: str
    private: bool = False


@dataclass(frozen=True, slots=True)
class BakedRecipe:
    """A recipe as somebody bakes it; `eaters` are the keys of those people.

    `steps` are pairs of kind and text, in order; `stations` are those at which it is weighed. `key`
    is that of the recipe in its class, `revision` that of the revision, and `bakes` identifies the
    revision with its variant.
    """

    title: str
    formula: Formula
    steps: tuple[tuple[str, str], ...]
    eaters: frozenset[PersonKey]
    dusting_flour: FormulaIngredient | None = None
    stations: frozenset[str] = frozenset()
    key: str = ""
    revision: str = ""
    bakes: str = ""


@dataclass(frozen=True, slots=True)
class Occurrence:
    """Where an ingredient that concerns somebody is used.

    `because` is the allergen or the word, `traces` the supplier's own words about traces, `own`
    whether it is in the bread that the person bakes, and `told` the allergens' keys or the words
    that make it concern them. `near` is whether others weigh it at the person's station, `taught`
    the key of the recipe in its class and `revision` that of the revision.
    """

    recipe: str
    component: str
    ingredient: str
    ingredient_key: str
    because: str
    traces: str
    steps: tuple[StepFound, ...]
    own: bool
    told: tuple[str, ...]
    reason: Reason = Reason.HOLDS
    near: bool = False
    taught: str = ""
    revision: str = ""

    def is_own_in(self, revision: str) -> bool:
        """Whether it is in the bread that the person bakes of a revision."""
        return self.own and self.revision == revision

    @property
    def is_unknown(self) -> bool:
        """Whether nobody has entered what the ingredient contains."""
        return self.reason is Reason.UNKNOWN


@dataclass(frozen=True, slots=True)
class Finding:
    """The findings for one person: `places` where it comes in, those in their own bread first."""

    eater: Eater
    keys: tuple[str, ...]
    places: tuple[Occurrence, ...]

    @property
    def labels(self) -> tuple[str, ...]:
        return tuple(label_of(key) for key in self.keys)


def has_told(one: Eater) -> bool:
    """Whether somebody told us something, or prefers to say it in private."""
    return bool(one.allergens or one.words or one.private)


def findings(eaters: Iterable[Eater], baked: Sequence[BakedRecipe]) -> tuple[Finding, ...]:
    """A finding for everybody who told us something; nobody else is listed."""
    return tuple(_finding(eater, baked) for eater in eaters if has_told(eater))


def told_keys(eater: Eater) -> tuple[str, ...]:
    """The allergens that somebody marked, and those that their words name."""
    marked = (one_key(key) for key in eater.allergens)
    return tuple(dict.fromkeys((*marked, *keys_in(eater.words))))


def _finding(eater: Eater, baked: Sequence[BakedRecipe]) -> Finding:
    keys = told_keys(eater)
    places = [place for recipe in baked for place in places_in(recipe, eater, keys)]
    return Finding(eater, keys, tuple(sorted(places, key=lambda place: not place.own)))


def places_in(recipe: BakedRecipe, eater: Eater, keys: Sequence[str]) -> Iterator[Occurrence]:
    """Where a recipe contains what somebody told us; `keys` are the allergens in that."""
    own = eater.key in recipe.eaters
    near = not own and eater.station in recipe.stations
    for name, kind, ingredient in _ingredients(recipe):
        for found in _reasons(ingredient, eater, keys, own=own):
            yield Occurrence(
                recipe=recipe.title,
                component=name,
                ingredient=ingredient.name,
                ingredient_key=ingredient.key,
                because=found.because,
                traces=found.traces,
                steps=_steps(recipe, name, kind, ingredient),
                own=own,
                told=found.told,
                reason=found.reason,
                near=near,
                taught=recipe.key,
                revision=recipe.revision,
            )


def _ingredients(recipe: BakedRecipe) -> Iterator[tuple[str, str, FormulaIngredient]]:
    """Every ingredient once in every part: the part's name and kind, and the ingredient."""
    for part in recipe.formula.components:
        for ingredient in _once(part):
            yield part.name, part.kind.value, ingredient
    if recipe.dusting_flour:
        yield DUSTING, DUSTING, recipe.dusting_flour


def _once(part: FormulaComponent) -> list[FormulaIngredient]:
    return list({line.ingredient.key: line.ingredient for line in part.lines}.values())


class _Found(NamedTuple):
    reason: Reason
    because: str
    traces: str
    told: tuple[str, ...]


def _reasons(
    ingredient: FormulaIngredient, eater: Eater, keys: Sequence[str], *, own: bool
) -> Iterator[_Found]:
    """Why an ingredient concerns somebody, its note on traces if that is why, and what was told.

    The reasons are the allergens it contains, else its name, and traces of others. If nothing is
    entered for it, that is a reason only in what they bake themselves.
    """
    holds = held_keys({*ingredient.allergens_us, *ingredient.allergens_eu})
    if held := tuple(key for key in keys if key in holds):
        yield _Found(Reason.HOLDS, _labels(held), "", held)
    elif named := name_in(ingredient, eater.words):
        yield _Found(Reason.NAMED, named, "", (eater.words,))
    elif own and keys and not ingredient.allergens_known:
        yield _Found(Reason.UNKNOWN, "", "", ())
    carried = held_keys(set(keys_in(ingredient.may_contain))) - holds
    if traces := tuple(key for key in keys if key in carried):
        yield _Found(Reason.TRACES, _labels(traces), ingredient.may_contain, traces)


def _labels(keys: Iterable[str]) -> str:
    return ", ".join(map(label_of, keys))


def _steps(
    recipe: BakedRecipe, name: str, kind: str, ingredient: FormulaIngredient
) -> tuple[StepFound, ...]:
    """The steps that name a part, an ingredient or its last word; else those that use the part."""
    texts = tuple(StepText(*step) for step in recipe.steps)
    if kind == DUSTING:
        return _dusted(texts)
    head = ingredient.name.partition(",")[0]
    for wanted in ((name, ingredient.name), (_last_word(head), _last_word(name))):
        if found := steps_naming(wanted, texts):
            return found
    return _of_kind(texts, USED_IN.get(kind, ()))


def _last_word(text: str) -> str:
    """The last word of a name in the singular: `topping` for `Seed topping`."""
    return (text.split() or [""])[-1].removesuffix("s")


def _dusted(texts: Sequence[StepText]) -> tuple[StepFound, ...]:
    """Where bread is dusted: when it is shaped, and wherever a step says so."""
    kinds = USED_IN[DUSTING]
    return tuple(
        StepFound(number, step.kind, step.text)
        for number, step in enumerate(texts, start=1)
        if step.kind in kinds or re.search(r"\b(?:dust|flour(?:ed|ing)\b)", step.text, re.I)
    )


def _of_kind(texts: Sequence[StepText], kinds: Sequence[str]) -> tuple[StepFound, ...]:
    return tuple(
        StepFound(number, step.kind, step.text)
        for number, step in enumerate(texts, start=1)
        if step.kind in kinds
    )


ASK = "see the instructor"


def avoided_at(found: Iterable[Finding]) -> dict[str, tuple[str, ...]]:
    """What each station avoids: allergens by their labels, anything else only as `ASK`.

    People's own words stay off the wall: they may tell who they are.
    """
    stations: dict[str, list[str]] = {}
    for finding in found:
        words = list(finding.labels)
        if finding.eater.private or not words:
            words.append(ASK)
        stations.setdefault(finding.eater.station, []).extend(words)
    return {at: tuple(dict.fromkeys(words)) for at, words in stations.items()}
