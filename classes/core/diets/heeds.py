"""The notes at the top of somebody's own pages and papers, and the marks at single lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from classes.core.demand import ClassAmounts
from classes.core.diets.conflict_words import (
    as_sentence,
    conflict_words,
    decided_by,
    decided_words,
    found_words,
)
from classes.core.diets.conflicts import Concerns, Conflict, Way
from classes.core.diets.findings import Occurrence, Reason
from classes.core.keys import TickKey, Work
from classes.core.preparation import Preparation, TaskGroup


@dataclass(frozen=True, slots=True)
class Heed:
    """What a person must know about a recipe: what it contains, and what was decided."""

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
    """All notes for one person: by recipe, and what others weigh beside them."""

    heeds: tuple[Heed, ...] = ()
    beside: tuple[str, ...] = ()


def own_heeds(person: Concerns | None) -> OwnHeeds:
    """The notes for somebody; none for those who told us nothing."""
    return OwnHeeds(heeds_of(person), beside_of(person))


def heeds_of(person: Concerns | None) -> tuple[Heed, ...]:
    """The notes on top of somebody's own paper; none for those who told us nothing."""
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


MARK = "✗"


def short_words(place: Occurrence, *, on_wall: bool = False) -> str:
    """Such as `holds sesame`; on a wall, nobody's own words are quoted."""
    if place.reason is Reason.UNKNOWN:
        return "cannot say what it holds"
    if place.reason is Reason.NAMED and on_wall:
        return "somebody here must not eat it"
    return f"{'may hold' if place.reason is Reason.TRACES else 'holds'} {place.because}"


def line_words(conflict: Conflict, place: Occurrence, *, on_wall: bool = False) -> str:
    """The mark beside a line that concerns somebody, such as `✗ holds sesame: ask first`."""
    found = short_words(place, on_wall=on_wall)
    if conflict.decided is None:
        return f"{MARK} {found}: ask first"
    if conflict.decided.way is Way.TAKEN_OUT:
        return f"{MARK} {found}: taken out, leave it out"
    return f"{MARK} {found}: talked over"


def marked(work: Preparation, amounts: ClassAmounts, conflicts: Iterable[Conflict]) -> Preparation:
    """The preparation list with a mark on every line that concerns somebody."""
    words = dict(_by_line(amounts, conflicts))
    if not words:
        return work

    def group(one: TaskGroup) -> TaskGroup:
        tasks = (replace(task, concern=words.get(task.key.of_any_amount, "")) for task in one.tasks)
        return replace(one, tasks=tuple(tasks))

    return replace(
        work,
        ahead=tuple(map(group, work.ahead)),
        stations=tuple((name, tuple(map(group, groups))) for name, groups in work.stations),
    )


def _by_line(amounts: ClassAmounts, conflicts: Iterable[Conflict]) -> Iterator[tuple[TickKey, str]]:
    """The key of a task, whatever its amount, and the words for it."""
    recipes = {recipe.taught.key: recipe.taught.formula for recipe in amounts.recipes}
    for conflict in conflicts:
        for place in conflict.left:
            parts = recipes[place.taught].components if place.taught in recipes else ()
            for number, part in enumerate(parts):
                if part.name == place.component:
                    in_bulk = part.kind.made_in_bulk
                    key = TickKey(
                        Work.AHEAD if in_bulk else Work.WEIGH,
                        place.ingredient_key,
                        taught=place.taught,
                        person=None if in_bulk else conflict.person,
                        part=number,
                    )
                    yield key, line_words(conflict, place)
