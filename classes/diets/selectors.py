"""A class's people and recipes as the search for allergens needs them, and what was ticked off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Q

from classes.amounts.changes import (
    grams,
    lines_of,
    place_of,
)
from classes.core.diets.conflicts import (
    Basis,
    Concerns,
    Conflict,
    basis_of,
    concerns,
    own_places,
)
from classes.core.diets.findings import (
    BakedRecipe,
    Eater,
    Finding,
    Occurrence,
    findings,
    has_told,
)
from classes.core.diets.heeds import OwnHeeds, own_heeds
from classes.core.keys import PersonKey, Work
from classes.core.telling import known_by
from classes.diets.decisions import (
    baked_of,
    decisions_of,
    eater_of,
)
from classes.diets.offers import Offer, offers_for
from classes.enrollment.models import Enrollment
from classes.models import ClassSession, Tick
from classes.selectors import ClassNumbers, class_needs, expected, people_of

ASK = "see the instructor"


@dataclass(frozen=True, slots=True)
class Ticked:
    """A line that somebody ticked off: whose tub or list it was, and how much went into it."""

    tick: Tick
    where: str
    amount: str


@dataclass(frozen=True, slots=True)
class Redo:
    """An ingredient that concerns somebody, with the lines ticked off before that was told."""

    ingredient: str
    because: str
    concerns: tuple[str, ...]
    lines: tuple[Ticked, ...]


@dataclass(frozen=True, slots=True)
class DietSheet:
    """All that is known for a class; `silent` are those who were not asked or did not answer.

    `offers` are the variants that would change it, worked out for the whole class.
    """

    people: tuple[Concerns, ...]
    redo: tuple[Redo, ...]
    offers: tuple[Offer, ...]
    silent: tuple[Enrollment, ...]
    avoided: tuple[tuple[str, tuple[str, ...]], ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        return tuple(one.finding for one in self.people)

    @property
    def open(self) -> tuple[Conflict, ...]:
        """The conflicts that nobody has decided."""
        return tuple(one for person in self.people for one in person.open)


def diet_sheet(session: ClassSession, numbers: ClassNumbers | None) -> DietSheet:
    """The sheet of a class fetched `with_plan`; for the staff only.

    `numbers` are the class's, or None where nobody bakes yet.
    """
    people = class_concerns(session)
    found = tuple(one.finding for one in people)
    concerned = any(not place.is_unknown for finding in found for place in finding.places)
    return DietSheet(
        people=people,
        redo=tuple(_redo(session, found, numbers)) if numbers else (),
        offers=offers_for(numbers, found, class_findings) if numbers and concerned else (),
        silent=tuple(one for one in expected(session) if not one.told and one.is_silent),
        avoided=_avoided(found),
    )


def class_findings(session: ClassSession) -> tuple[Finding, ...]:
    """What everybody who is expected must not eat, against all that the class bakes."""
    return findings(eaters_of(session), baked_in(session))


def class_concerns(session: ClassSession) -> tuple[Concerns, ...]:
    """Everybody who is expected and told something, with their conflicts and the decisions.

    Of a class fetched `with_plan`, for its staff alone; a person is shown their own and no other.
    """
    told = [one for one in eaters_of(session) if has_told(one)]
    if not told:
        return ()
    chosen = baked_in(session, decided=False)
    return concerns(told, chosen, findings(told, baked_in(session)), decisions_of(session))


def basis_in(session: ClassSession, person: PersonKey, revision: str) -> Basis | None:
    """What a decision about a person and a revision would be about now; None if not baked."""
    eater = next((one for one in eaters_of(session) if one.key == person), None)
    for recipe in baked_in(session, decided=False):
        if eater and recipe.revision == revision and person in recipe.eaters:
            return basis_of(eater, recipe, own_places(eater, recipe))
    return None


def conflict_in(session: ClassSession, person: PersonKey, revision: str) -> Conflict | None:
    """The conflict of a person and a revision in a class fetched `with_plan`."""
    every = (one for found in class_concerns(session) for one in found.conflicts)
    return next((one for one in every if (one.person, one.revision) == (person, revision)), None)


def heeds_for(own: Enrollment) -> OwnHeeds:
    """What is at the top of somebody's own page."""
    if not has_told(eater_of(own)):
        return OwnHeeds()
    session = ClassSession.objects.with_plan().get(pk=own.session_id)
    people = {one.eater.key: one for one in class_concerns(session)}
    return own_heeds(people.get(PersonKey.student(own.pk)))


def open_conflicts(session: ClassSession) -> tuple[Conflict, ...]:
    """The conflicts of a class fetched `with_plan` that nobody has decided."""
    return tuple(one for person in class_concerns(session) for one in person.open)


def undecided_in(sessions: Iterable[ClassSession]) -> list[tuple[ClassSession, int]]:
    """Which of these classes have conflicts that nobody has decided, and how many; in order."""
    keys = [one.pk for one in sessions]
    told = ~Q(allergens=[], must_not_eat="") | Q(diet=Enrollment.Diet.PRIVATE)
    people = Enrollment.objects.filter(told, session__in=keys)
    wanted = set(people.values_list("session", flat=True))
    if not wanted:
        return []
    planned = ClassSession.objects.with_plan().in_bulk(wanted)
    counted = [(planned[pk], len(open_conflicts(planned[pk]))) for pk in keys if pk in wanted]
    return [(session, count) for session, count in counted if count]


def avoided_at(session: ClassSession) -> dict[str, tuple[str, ...]]:
    """What each station avoids, without names: for its card."""
    return dict(_avoided(class_findings(session)))


def eaters_of(session: ClassSession) -> list[Eater]:
    """Everybody expected, where they stand, and what they told."""
    stations = {person.key: person.station for person in people_of(session)}
    return [eater_of(one, stations.get(PersonKey.student(one.pk), "")) for one in expected(session)]


def baked_in(session: ClassSession, *, decided: bool = True) -> tuple[BakedRecipe, ...]:
    """Every recipe and variant with those who bake it; unless `decided`, as they chose."""
    needs = class_needs(session, decided=decided)
    everybody = frozenset(person.key for person in needs.people)
    at = {person.key: person.station for person in needs.people}
    rows = {str(row.revision_id): row for row in session.taught.all()}
    made = []
    for taught in needs.taught:
        eaters = everybody if taught.only_for is None else taught.only_for
        stations = frozenset(at[key] for key in eaters)
        made.append(baked_of(taught, rows[taught.revision], eaters, stations))
    return tuple(made)


def _redo(
    session: ClassSession, found: tuple[Finding, ...], numbers: ClassNumbers
) -> Iterator[Redo]:
    """Ingredients that were ticked off before somebody told that they concern them, oldest first.

    A tick made later was made with the knowledge.
    """
    since = {PersonKey.student(one.pk): one.told_since for one in expected(session)}
    listed = lines_of(numbers)
    lines: dict[str, list[Ticked]] = {}
    concerns: dict[str, list[tuple[Finding, Occurrence]]] = {}
    for tick in session.ticks.select_related("done_by"):
        key = tick.line
        unknown = [
            (finding, place)
            for finding in found
            for place in finding.places
            if place.ingredient_key == key.ingredient
            and not known_by(since[finding.eater.key], place.told, tick.done_at)
        ]
        if unknown:
            amount = key.amount if key.work is Work.BUY else grams(Decimal(key.amount))
            done = Ticked(tick, place_of(listed, key), amount)
            lines.setdefault(key.ingredient, []).append(done)
            concerns.setdefault(key.ingredient, []).extend(unknown)
    for ingredient, places in concerns.items():
        yield Redo(
            ingredient=places[0][1].ingredient,
            because=_listed(place.traces or place.because for _, place in places),
            concerns=tuple(dict.fromkeys(finding.eater.name for finding, _ in places)),
            lines=tuple(lines[ingredient]),
        )


def _listed(words: Iterator[str]) -> str:
    return ", ".join(dict.fromkeys(words))


def _avoided(found: tuple[Finding, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What each station avoids: allergens by their labels, anything else only as `ASK`.

    People's own words stay off the wall: they may tell who they are.
    """
    stations: dict[str, list[str]] = {}
    for finding in found:
        words = list(finding.labels)
        if finding.eater.private or not words:
            words.append(ASK)
        stations.setdefault(finding.eater.station, []).extend(words)
    return tuple((at, tuple(dict.fromkeys(words))) for at, words in stations.items())
