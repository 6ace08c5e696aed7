"""A class's people and recipes as the search for allergens needs them, and what was ticked off."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from classes.models import ClassSession, Enrollment, TaughtRecipe, Tick
from classes.planning.diets import Baked, Eater, Finding, findings
from classes.selectors import class_needs, expected, people_of
from recipes.models import Variant


@dataclass(frozen=True, slots=True)
class Redo:
    """A line ticked off with an ingredient that somebody must not eat: to be looked at again."""

    tick: Tick
    what: str
    ingredient: str


@dataclass(frozen=True, slots=True)
class DietSheet:
    """All that is known for a class; `silent` are those who were not asked or did not answer."""

    findings: tuple[Finding, ...]
    redo: tuple[Redo, ...]
    variants: tuple[Variant, ...]
    silent: tuple[Enrollment, ...]
    avoided: tuple[tuple[str, tuple[str, ...]], ...]


def diet_sheet(session: ClassSession) -> DietSheet:
    """The sheet of a class fetched `with_plan`; for the staff alone."""
    roster = expected(session)
    stations = {person.key: person.station for person in people_of(session)}
    eaters = [_eater(one, stations) for one in roster]
    found = findings(eaters, tuple(_baked(session)))
    return DietSheet(
        findings=found,
        redo=tuple(_redo(session, found)),
        variants=tuple(_variants(session)),
        silent=tuple(one for one in roster if not one.told and one.is_silent),
        avoided=_avoided(found),
    )


def _eater(one: Enrollment, stations: dict[str, str]) -> Eater:
    key = f"student-{one.pk}"
    station = stations.get(key, "")
    return Eater(key, one.name, station, tuple(one.allergens), one.must_not_eat, one.wants_privacy)


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


def _redo(session: ClassSession, found: tuple[Finding, ...]) -> Iterator[Redo]:
    """Ticked lines whose ingredient concerns somebody, oldest first."""
    names = {
        place.ingredient_key: place.ingredient for finding in found for place in finding.places
    }
    for tick in session.ticks.select_related("done_by"):
        parts = tick.key.split("|")
        key = next((part for part in parts if part in names), None)
        if key is not None:
            yield Redo(tick, _WHAT.get(parts[0], parts[0]), names[key])


_WHAT = {"buy": "bought", "ahead": "made ahead", "weigh": "weighed"}


def _variants(session: ClassSession) -> Iterator[Variant]:
    for row in session.taught.all():
        yield from row.revision.variants.all()


def _avoided(found: tuple[Finding, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What each station avoids, without names: for the wall and the station's card."""
    stations: dict[str, list[str]] = {}
    for finding in found:
        words = [*finding.labels] or (["see the instructor"] if finding.eater.words else [])
        if finding.eater.private:
            words = [*words, "see the instructor"]
        stations.setdefault(finding.eater.station, []).extend(words)
    return tuple(
        (station, tuple(dict.fromkeys(words))) for station, words in stations.items() if words
    )
