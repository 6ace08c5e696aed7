"""People whose own bread contains what they must not eat, and what was decided about it.

A conflict is one person and one recipe that they bake. It is open until somebody decides, and
reopens when the basis of the decision changes: what they told us, what they bake, or what is
entered for its ingredients. A variant settles it only if nothing is found in the variant.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from hashlib import sha256

from classes.core.diets.findings import (
    BakedRecipe,
    Eater,
    Finding,
    Occurrence,
    Reason,
    has_told,
    places_in,
    told_keys,
)
from classes.core.keys import PersonKey


class Evidence(StrEnum):
    """What is known of a recipe for a person: contains it, packs mention traces, or neither."""

    HOLDS = "holds it"
    TRACES = "may hold it"
    UNKNOWN = "cannot say"


class Way(StrEnum):
    """What can be decided about a conflict."""

    VARIANT = "variant"
    OTHER_TASK = "other-task"
    TAKEN_OUT = "taken-out"
    TALKED_OVER = "talked-over"


class Lapse(StrEnum):
    """Why a decision no longer settles a conflict."""

    TOLD = "What they told has changed since."
    BAKES = "What they bake has changed since."
    FOUND = "What is entered for its ingredients has changed since."
    STILL_HOLDS = "What they bake now is not clear of it either."


@dataclass(frozen=True, slots=True)
class Basis:
    """What a decision is about: what was told, what is baked, and what was found in it."""

    told: tuple[str, ...]
    bakes: str
    found: tuple[str, ...]

    def lapse(self, now: Basis) -> Lapse | None:
        """Why a decision on this basis no longer fits; None if it does."""
        if self.told != now.told:
            return Lapse.TOLD
        if self.bakes != now.bakes:
            return Lapse.BAKES
        return Lapse.FOUND if self.found != now.found else None


@dataclass(frozen=True, slots=True)
class Decided:
    """A decision: which way, on what basis, by whom, when (in words), and a short note."""

    way: Way
    basis: Basis
    by: str
    when: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Conflict:
    """One person and one recipe that they bake, or would bake without the decision.

    `title` names the recipe and `label` the revision and the variant. `places` is what was found
    before anything is taken out, `left` what remains of that in what they bake. `decided` settles
    it; `earlier` is a decision that no longer does, with the reason.
    """

    eater: Eater
    labels: tuple[str, ...]
    title: str
    label: str
    revision: str
    basis: Basis
    places: tuple[Occurrence, ...]
    left: tuple[Occurrence, ...] = ()
    decided: Decided | None = None
    earlier: Decided | None = None
    lapse: Lapse | None = None

    @property
    def is_open(self) -> bool:
        """Whether somebody has to decide."""
        return self.decided is None

    @property
    def mark(self) -> str:
        """A mark of the conflict and its decision, which changes when either does."""
        told = repr((self.basis, self.decided, self.earlier))
        return sha256(told.encode()).hexdigest()[:16]

    @property
    def person(self) -> PersonKey:
        """The key of the person."""
        return self.eater.key

    @property
    def state(self) -> Evidence:
        reasons = {place.reason for place in self.places}
        if reasons & {Reason.HOLDS, Reason.NAMED}:
            return Evidence.HOLDS
        return Evidence.TRACES if Reason.TRACES in reasons else Evidence.UNKNOWN


@dataclass(frozen=True, slots=True)
class Concerns:
    """Everything known for one person: their own conflicts, and what others weigh beside them."""

    finding: Finding
    conflicts: tuple[Conflict, ...]

    @property
    def eater(self) -> Eater:
        return self.finding.eater

    @property
    def near(self) -> tuple[Occurrence, ...]:
        """What others weigh at the person's station."""
        return tuple(place for place in self.finding.places if place.near)

    @property
    def open(self) -> tuple[Conflict, ...]:
        return tuple(conflict for conflict in self.conflicts if conflict.is_open)


Decisions = Mapping[tuple[PersonKey, str], Decided]
"""Decisions by the keys of the person and the revision."""


def own_places(eater: Eater, recipe: BakedRecipe) -> tuple[Occurrence, ...]:
    """What is found in a recipe as if the person baked it."""
    return tuple(places_in(recipe, eater, told_keys(eater)))


def basis_of(eater: Eater, recipe: BakedRecipe, places: Iterable[Occurrence]) -> Basis:
    """What a decision about a person and a recipe would be about."""
    words = [f"words: {eater.words}"] if eater.words else []
    told = (*sorted(told_keys(eater)), *words, *(["in private"] if eater.private else []))
    found = sorted(
        f"{place.reason}: {place.ingredient_key} in {place.component}" for place in places
    )
    return Basis(told, recipe.bakes, tuple(found))


def is_unread(eater: Eater, chosen: Iterable[BakedRecipe]) -> bool:
    """Whether what somebody told us, or has yet to tell, cannot be searched for in any recipe."""
    if eater.private or not eater.words or told_keys(eater):
        return eater.private
    return not any(own_places(eater, recipe) for recipe in chosen)


def settles(decided: Decided, now: Basis, *, is_clear: bool) -> Lapse | None:
    """Why a decision does not settle a conflict; None if it does."""
    lapse = decided.basis.lapse(now)
    if lapse is None and decided.way is Way.VARIANT and not is_clear:
        return Lapse.STILL_HOLDS
    return lapse


def concerns(
    eaters: Sequence[Eater],
    chosen: Sequence[BakedRecipe],
    found: Sequence[Finding],
    decisions: Decisions,
) -> tuple[Concerns, ...]:
    """Everybody who told us something, with their conflicts.

    `chosen` is what everybody would bake without the decisions, `found` is what they bake.
    """
    by_key = {concern.eater.key: concern for concern in found}
    return tuple(
        Concerns(by_key[eater.key], tuple(_conflicts(eater, chosen, by_key[eater.key], decisions)))
        for eater in eaters
        if has_told(eater)
    )


def _conflicts(
    eater: Eater, chosen: Sequence[BakedRecipe], found: Finding, decisions: Decisions
) -> Iterator[Conflict]:
    """Their conflicts, in the order of the recipes.

    A recipe in which nothing is found gives none, unless a decision about it still fits.
    """
    unread = is_unread(eater, chosen)
    for recipe in chosen:
        if eater.key in recipe.eaters:
            places = own_places(eater, recipe)
            decided = decisions.get((eater.key, recipe.revision))
            basis, is_clear = basis_of(eater, recipe, places), not places and not unread
            lapse = settles(decided, basis, is_clear=is_clear) if decided else None
            if not is_clear or (decided and not lapse):
                yield Conflict(
                    eater=eater,
                    labels=found.labels,
                    title=recipe.formula.title,
                    label=recipe.title,
                    revision=recipe.revision,
                    basis=basis,
                    places=places,
                    left=tuple(place for place in found.places if place.is_own_in(recipe.revision)),
                    decided=None if lapse else decided,
                    earlier=decided if lapse else None,
                    lapse=lapse,
                )
