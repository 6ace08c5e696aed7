"""What of a recipe is weighed for a step, read from the words of the step.

A line's grams stand in a step only where nothing is left to guess: one step names it, and not with
words such as "half" or "the rest". Steps that prepare are read for the parts that are made ahead,
steps that mix for the dough and for those parts by name. What stays out is in the table.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from handouts.recipe_card import RecipePart, RecipeStep, StepGrams
from recipes.core.choices import StepKind

PREPARE, MIX = StepKind.PREPARE.label, StepKind.MIX.label
_ALL_FLOURS = re.compile(r"\bflours\b", re.IGNORECASE)
_NOT = "no not without"
_PARTLY = (
    "about any half hold holding keep less little more most part pinch quarter remaining reserve "
    "reserved rest some splash third"
)
_CLAUSE = re.compile(r"[.;:,!?()\n]")


@dataclass(frozen=True, slots=True)
class _Thing:
    """A line of the table, or a whole part that is made ahead, with the words that mean it."""

    shown: StepGrams
    words: tuple[str, ...]
    goes_in_at: str
    is_flour: bool = False


def with_grams(steps: Sequence[RecipeStep], parts: Sequence[RecipePart]) -> tuple[RecipeStep, ...]:
    """The steps of a recipe, each with what goes in at it."""
    ahead = [part for part in parts if part.amounts.kind.made_in_bulk]
    if ahead and all(step.kind != PREPARE for step in steps):
        return tuple(steps)
    things = _things(parts)
    named = [
        {thing: _named(step.text, thing) for thing in things if thing.goes_in_at == step.kind}
        for step in steps
    ]
    counts = Counter(thing for some in named for thing, whole in some.items() if whole is not None)
    return tuple(
        replace(step, grams=tuple(of.shown for of in some if some[of] and counts[of] == 1))
        for step, some in zip(steps, named, strict=True)
    )


def _things(parts: Sequence[RecipePart]) -> list[_Thing]:
    """What is weighed; a word that means two things of the same steps means neither."""
    found = [thing for part in parts for thing in _things_of(part)]
    taken = Counter((thing.goes_in_at, word) for thing in found for word in thing.words)
    alone = (
        replace(thing, words=tuple(w for w in thing.words if taken[thing.goes_in_at, w] == 1))
        for thing in found
    )
    return [thing for thing in alone if thing.words or thing.is_flour]


def _things_of(part: RecipePart) -> Iterator[_Thing]:
    is_ahead, name = part.amounts.kind.made_in_bulk, part.amounts.name
    if part.amounts.tub:
        yield _Thing(StepGrams(name, part.amounts.tub), _words(name), MIX)
    elif part.amounts.kind.goes_into_dough:
        for line in part.lines:
            ingredient, shown = (
                line.amount.ingredient,
                StepGrams(line.amount.name, line.amount.weighed),
            )
            at = PREPARE if is_ahead else MIX
            yield _Thing(shown, _words(ingredient.name), at, ingredient.is_flour)


def _words(name: str) -> tuple[str, ...]:
    """A name as it stands in a sentence, whole or by its noun: `bread flour`, `flour`."""
    return tuple(dict.fromkeys((name.lower(), name.lower().split()[-1])))


def _named(text: str, thing: _Thing) -> bool | None:
    """Whether a step's words mean all of a thing; None if they do not name it."""
    patterns = [_word(word) for word in thing.words]
    if thing.is_flour:
        patterns.append(_ALL_FLOURS)
    before = [
        _CLAUSE.split(text[: match.start()])[-1]
        for pattern in patterns
        for match in pattern.finditer(text)
    ]
    wholes = [not _after(_PARTLY, clause) for clause in before if not _after(_NOT, clause)]
    return all(wholes) if wholes else None


@cache
def _word(word: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![\w-]){re.escape(word)}(?![\w-])", re.IGNORECASE)


@cache
def _before(words: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(words.split())})(?: \w+){{0,2}} $", re.IGNORECASE)


def _after(words: str, clause: str) -> bool:
    """Whether what comes next in a clause follows one of the words, or nearly."""
    return _before(words).search(clause) is not None
