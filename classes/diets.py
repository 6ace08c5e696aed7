"""A class's people and recipes as the search for allergens needs them, and what was ticked off."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from classes.changes import grams, lines_of, place_of
from classes.models import ClassSession, Enrollment, TaughtRecipe, Tick
from classes.offers import Offer, offers_for
from classes.planning.diet_nothing import words_told
from classes.planning.diets import Baked, Eater, Finding, Place, findings
from classes.planning.telling import known_by
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

    findings: tuple[Finding, ...]
    redo: tuple[Redo, ...]
    offers: tuple[Offer, ...]
    silent: tuple[Enrollment, ...]
    avoided: tuple[tuple[str, tuple[str, ...]], ...]


def diet_sheet(session: ClassSession, numbers: ClassNumbers | None) -> DietSheet:
    """The sheet of a class fetched `with_plan`; for the staff alone.

    `numbers` are the class's, or None where nobody bakes yet.
    """
    found = class_findings(session)
    concerned = any(finding.places for finding in found)
    return DietSheet(
        findings=found,
        redo=tuple(_redo(session, found, numbers)) if numbers else (),
        offers=offers_for(numbers, found, class_findings) if numbers and concerned else (),
        silent=tuple(one for one in expected(session) if not one.told and one.is_silent),
        avoided=_avoided(found),
    )


def class_findings(session: ClassSession) -> tuple[Finding, ...]:
    """What everybody who is expected must not eat, against all that the class bakes."""
    stations = {person.key: person.station for person in people_of(session)}
    eaters = [_eater(one, stations) for one in expected(session)]
    return findings(eaters, tuple(_baked(session)))


def avoided_at(session: ClassSession) -> dict[str, tuple[str, ...]]:
    """What each station avoids, without names: for its card."""
    return dict(_avoided(class_findings(session)))


def _eater(one: Enrollment, stations: dict[str, str]) -> Eater:
    key = f"student-{one.pk}"
    station = stations.get(key, "")
    words = words_told(one.must_not_eat)
    return Eater(key, one.name, station, tuple(one.allergens), words, one.wants_privacy)


def _baked(session: ClassSession) -> Iterator[Baked]:
    """Every recipe and variant with those who bake it."""
    needs = class_needs(session)
    everybody = frozenset(person.key for person in needs.people)
    rows: dict[str, TaughtRecipe] = {str(row.revision_id): row for row in session.taught.all()}
    for taught in needs.taught:
        steps = rows[taught.revision].revision.steps.all()
        yield Baked(
            title=taught.label,
            formula=taught.formula,
            steps=tuple((step.kind, step.text) for step in steps),
            eaters=everybody if taught.only_for is None else taught.only_for,
            dusting_flour=taught.dusting_flour if taught.dusting_g else None,
        )


def _redo(
    session: ClassSession, found: tuple[Finding, ...], numbers: ClassNumbers
) -> Iterator[Redo]:
    """Ingredients that were ticked off before somebody told that they concern them, oldest first.

    A tick made later was made with the knowledge.
    """
    since = {f"student-{one.pk}": one.told_since for one in expected(session)}
    listed = lines_of(numbers)
    lines: dict[str, list[Ticked]] = {}
    concerns: dict[str, list[tuple[Finding, Place]]] = {}
    for tick in session.ticks.select_related("done_by"):
        ingredient, amount = tick.key.split("|")[-2:]
        unknown = [
            (finding, place)
            for finding in found
            for place in finding.places
            if place.ingredient_key == ingredient
            and not known_by(since[finding.eater.key], place.told, tick.done_at)
        ]
        if unknown:
            shown = amount if tick.key.startswith("buy|") else grams(Decimal(amount))
            done = Ticked(tick, place_of(listed, tick.key), shown)
            lines.setdefault(ingredient, []).append(done)
            concerns.setdefault(ingredient, []).extend(unknown)
    for key, places in concerns.items():
        yield Redo(
            ingredient=places[0][1].ingredient,
            because=_listed(place.traces or place.because for _, place in places),
            concerns=tuple(dict.fromkeys(finding.eater.name for finding, _ in places)),
            lines=tuple(lines[key]),
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
