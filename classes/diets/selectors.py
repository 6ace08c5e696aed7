"""A class's people and recipes for the search for allergens, and what was ticked off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Q

from classes.amounts.changes import grams, lines_of, place_of
from classes.core.diets.conflicts import Basis, Concerns, Conflict, basis_of, own_places
from classes.core.diets.findings import Finding, Occurrence, has_told
from classes.core.diets.heeds import OwnHeeds, own_heeds
from classes.core.diets.words import known_by
from classes.core.keys import PersonKey, Work
from classes.diets.decisions import eater_of
from classes.diets.offers import Offer, offers_for
from classes.enrollment.models import Enrollment
from classes.models import ClassSession, Tick
from classes.plan import ClassPlan, Student
from classes.selectors import class_plan, expected


@dataclass(frozen=True, slots=True)
class Ticked:
    """A line that somebody ticked off: whose tub or list it was, and how much went into it."""

    tick: Tick
    where: str
    amount: str


@dataclass(frozen=True, slots=True)
class Redo:
    """An ingredient that concerns somebody, with lines ticked off before they told us."""

    ingredient: str
    because: str
    concerns: tuple[str, ...]
    lines: tuple[Ticked, ...]


@dataclass(frozen=True, slots=True)
class DietSheet:
    """Everything known for a class; `silent` are those who were not asked or did not answer.

    `offers` are the variants that would change it, worked out for the whole class.
    """

    people: tuple[Concerns, ...]
    redo: tuple[Redo, ...]
    offers: tuple[Offer, ...]
    silent: tuple[Student, ...]
    avoided: tuple[tuple[str, tuple[str, ...]], ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        return tuple(person.finding for person in self.people)

    @property
    def open(self) -> tuple[Conflict, ...]:
        """The conflicts that nobody has decided."""
        return tuple(conflict for person in self.people for conflict in person.open)


def diet_sheet(session: ClassSession, plan: ClassPlan) -> DietSheet:
    """The sheet of a class fetched `with_plan`; for the staff only."""
    bakes = plan.has_bakers
    concerned = any(not place.is_unknown for finding in plan.findings for place in finding.places)
    return DietSheet(
        people=plan.concerns,
        redo=tuple(_redo(session, plan)) if bakes else (),
        offers=offers_for(session, plan) if bakes and concerned else (),
        silent=tuple(
            student for student in plan.students if student.is_silent and not student.told
        ),
        avoided=tuple(plan.avoided.items()),
    )


def basis_in(plan: ClassPlan, person: PersonKey, revision: str) -> Basis | None:
    """The present basis of a decision about a person and a revision; None if not baked."""
    eater = next((eater for eater in plan.eaters if eater.key == person), None)
    for recipe in plan.chosen_baked:
        if eater and recipe.revision == revision and person in recipe.eaters:
            return basis_of(eater, recipe, own_places(eater, recipe))
    return None


def conflict_in(plan: ClassPlan, person: PersonKey, revision: str) -> Conflict | None:
    """The conflict of a person and a revision."""
    of_both = (
        case for case in plan.conflicts if (case.person, case.revision) == (person, revision)
    )
    return next(of_both, None)


def heeds_for(own: Enrollment) -> OwnHeeds:
    """The notes at the top of somebody's own page."""
    eater = eater_of(own)
    if not has_told(eater):
        return OwnHeeds()
    plan = class_plan(ClassSession.objects.with_plan().get(pk=own.session_id))
    return own_heeds(plan.concerns_of.get(eater.key))


def undecided_in(sessions: Iterable[ClassSession]) -> list[tuple[ClassSession, int]]:
    """Which of these classes have undecided conflicts, and how many; in order."""
    keys = [session.pk for session in sessions]
    told = ~Q(allergens=[], must_not_eat="") | Q(diet=Enrollment.Diet.PRIVATE)
    people = Enrollment.objects.filter(told, session__in=keys)
    wanted = set(people.values_list("session", flat=True))
    if not wanted:
        return []
    planned = ClassSession.objects.with_plan().in_bulk(wanted)
    plans = [(planned[pk], class_plan(planned[pk])) for pk in keys if pk in wanted]
    counted = [
        (session, sum(conflict.is_open for conflict in plan.conflicts)) for session, plan in plans
    ]
    return [(session, count) for session, count in counted if count]


def _redo(session: ClassSession, plan: ClassPlan) -> Iterator[Redo]:
    """Ingredients that were ticked off before somebody told us about them, oldest first.

    A later tick was made with that knowledge.
    """
    since = {
        PersonKey.student(enrollment.pk): enrollment.told_since for enrollment in expected(session)
    }
    listed = lines_of(plan)
    lines: dict[str, list[Ticked]] = {}
    concerns: dict[str, list[tuple[Finding, Occurrence]]] = {}
    for tick in session.ticks.select_related("done_by"):
        key = tick.line
        unknown = [
            (finding, place)
            for finding in plan.findings
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
