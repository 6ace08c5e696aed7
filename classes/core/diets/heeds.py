"""What is at the top of somebody's own pages and papers, and of nobody else's."""

from __future__ import annotations

from dataclasses import dataclass

from classes.core.diets.conflict_words import (
    as_sentence,
    conflict_words,
    decided_by,
    decided_words,
    found_words,
)
from classes.core.diets.conflicts import Concerns, Conflict
from classes.core.diets.findings import Occurrence


@dataclass(frozen=True, slots=True)
class Heed:
    """What a person has to know of one recipe: what it holds, and what was decided with them."""

    title: str
    words: tuple[str, ...]
    decided: str = ""
    by: str = ""
    note: str = ""

    @property
    def is_open(self) -> bool:
        return not self.decided


@dataclass(frozen=True, slots=True)
class OwnHeeds:
    """All of that for one person: by recipe, and what others weigh beside them."""

    heeds: tuple[Heed, ...] = ()
    beside: tuple[str, ...] = ()


def own_heeds(person: Concerns | None) -> OwnHeeds:
    """The notes for somebody; none for who told nothing."""
    return OwnHeeds(heeds_of(person), beside_of(person))


def heeds_of(person: Concerns | None) -> tuple[Heed, ...]:
    """The notes on top of somebody's own paper; none for who told nothing."""
    return tuple(map(_heed, person.conflicts)) if person else ()


def _heed(one: Conflict) -> Heed:
    note = one.decided.note if one.decided else ""
    words = tuple(map(as_sentence, conflict_words(one)))
    return Heed(one.label, words, decided_words(one), decided_by(one), note)


def beside_of(person: Concerns | None) -> tuple[str, ...]:
    """What others weigh at somebody's station, by recipe."""
    if person is None:
        return ()
    near: dict[str, list[Occurrence]] = {}
    for place in person.near:
        near.setdefault(place.recipe, []).append(place)
    return tuple(f"{title} {'; '.join(found_words(at))}" for title, at in near.items())
