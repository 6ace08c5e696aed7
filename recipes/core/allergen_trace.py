"""Where each allergen of a recipe comes in: ingredient, component, and the steps that name it.

It lists what is entered for the ingredients, separately for each of the two lists of food law. It
says nothing about what a food lacks.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from recipes.core.allergens import EU_FOURTEEN, US_NINE, Allergen, named
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient


class StepText(NamedTuple):
    """A step of the method: its kind (`mix`, `bake`) and its text."""

    kind: str
    text: str


@dataclass(frozen=True, slots=True)
class StepFound:
    """A step, counted from 1, that names the component or the ingredient."""

    number: int
    kind: str
    text: str


@dataclass(frozen=True, slots=True)
class TraceEntry:
    """One allergen of one regime (`us` or `eu`) in one ingredient of one component."""

    regime: str
    allergen: Allergen
    ingredient: str
    component: str
    steps: tuple[StepFound, ...]


@dataclass(frozen=True, slots=True)
class MayContainEntry:
    """The note about traces entered for an ingredient, and where it is used."""

    words: str
    ingredient: str
    component: str
    steps: tuple[StepFound, ...]


@dataclass(frozen=True, slots=True)
class AllergenTrace:
    """All entries, in the order of the lists and then of the recipe."""

    entries: tuple[TraceEntry, ...]
    may_contain: tuple[MayContainEntry, ...]

    def of(self, regime: str) -> tuple[TraceEntry, ...]:
        """The entries under one of the lists, `us` or `eu`."""
        return tuple(entry for entry in self.entries if entry.regime == regime)


def trace(formula: Formula, steps: Sequence[tuple[str, str]] = ()) -> AllergenTrace:
    """Trace the allergens of a formula; `steps` are pairs of kind and text, in order."""
    texts = tuple(StepText(*step) for step in steps)
    places = tuple(_places(formula, texts))
    entries = [
        TraceEntry(regime, allergen, place.ingredient.name, place.component.name, place.steps)
        for regime, among in (("us", US_NINE), ("eu", EU_FOURTEEN))
        for allergen in among
        for place in places
        if allergen in named(_keys(place.ingredient, regime), among)
    ]
    may_contain = [
        MayContainEntry(
            place.ingredient.may_contain,
            place.ingredient.name,
            place.component.name,
            place.steps,
        )
        for place in places
        if place.ingredient.may_contain
    ]
    return AllergenTrace(tuple(entries), tuple(may_contain))


class _Use(NamedTuple):
    ingredient: FormulaIngredient
    component: FormulaComponent
    steps: tuple[StepFound, ...]


def _keys(ingredient: FormulaIngredient, regime: str) -> tuple[str, ...]:
    return ingredient.allergens_us if regime == "us" else ingredient.allergens_eu


def _places(formula: Formula, texts: Sequence[StepText]) -> Iterator[_Use]:
    """Every ingredient once per component, with the steps that name either."""
    for component in formula.components:
        for ingredient in dict.fromkeys(line.ingredient for line in component.lines):
            names = (component.name, ingredient.name)
            yield _Use(ingredient, component, tuple(_found(names, texts)))


def steps_naming(names: Sequence[str], texts: Sequence[StepText]) -> tuple[StepFound, ...]:
    """The steps that name one of these things."""
    return tuple(_found(names, texts))


def _found(names: Sequence[str], texts: Sequence[StepText]) -> Iterator[StepFound]:
    """Steps with one of the names as whole words, in any case, in singular or plural.

    In a name such as `Butter, unsalted`, only the words before the comma count.
    """
    heads = (name.partition(",")[0].strip() for name in names)
    words = "|".join(re.escape(head) for head in heads if head)
    pattern = re.compile(rf"(?<!\w)(?:{words})(?:e?s)?(?!\w)", re.IGNORECASE)
    for number, step in enumerate(texts, start=1):
        if words and pattern.search(step.text):
            yield StepFound(number, step.kind, step.text)
