"""The allergen sheet: who must not eat what, and where it is in the class. For the staff only.

It lists what is entered for the ingredients and says nothing about what a food lacks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from classes.core.diets.conflicts import Concerns
from classes.core.diets.findings import Finding, Occurrence
from classes.core.keys import PersonKey
from classes.plan import ClassPlan, Student
from handouts.kind import DOOR, Leaves, Material, PaperKind, only
from handouts.paper import Paper, PaperError, paper_head
from handouts.safety.heeds import conflicts_in_words
from handouts.safety.values import Hazard

HAZARDS = frozenset({Hazard.ALLERGENS, Hazard.HANDS, Hazard.FLOUR})
IN_PRIVATE = "wants to tell you in private: ask"
NOT_SAID = "has not said: ask"
NO_ANSWER = "prefers not to answer: ask in private"


class NobodyToAsk(PaperError):
    """An allergen sheet was asked for, but nobody is expected in the class."""


@dataclass(frozen=True, slots=True)
class ToAsk:
    """Somebody to talk to before the class, and what they told us; `read_as` is how it was read."""

    station: str
    name: str
    told: str
    read_as: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PackToRead:
    """An ingredient whose pack must be read, why, and for which stations."""

    ingredient: str
    why: tuple[str, ...]
    stations: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HeldIngredient:
    """An ingredient that concerns somebody: why, and the parts and steps where it is used.

    `own` is whether it is in the bread that they bake themselves.
    """

    ingredient: str
    why: str
    where: tuple[str, ...]
    own: bool


@dataclass(frozen=True, slots=True)
class Traced:
    """What somebody told us, compared with everything that the class bakes.

    `conflicts` are their own recipes that contain it, each with what was decided.
    """

    name: str
    told: str
    held: tuple[HeldIngredient, ...]
    conflicts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StationTrace:
    """A station: what it avoids as allergens' labels, and each of its people with a finding."""

    name: str
    avoids: tuple[str, ...]
    people: tuple[Traced, ...]


@dataclass(frozen=True, kw_only=True)
class AllergenSheet(Paper):
    """What people must not eat. Private: only for the instructor and the assistant.

    `nothing` counts those who said that there is nothing.
    """

    template: ClassVar[str] = "handouts/allergen_sheet.html"
    style: ClassVar[str] = "allergens"

    to_ask: tuple[ToAsk, ...]
    nothing: int
    packs: tuple[PackToRead, ...]
    stations: tuple[StationTrace, ...]


def allergen_sheet(plan: ClassPlan, printed_at: datetime) -> AllergenSheet:
    """The sheet of a class. Raises NobodyToAsk and NothingTaught."""
    if not plan.students:
        raise NobodyToAsk
    people, order = plan.concerns_of, plan.stations
    found = {key: concerns.finding for key, concerns in people.items()}
    students = sorted(plan.students, key=lambda student: order.index(student.station))
    return AllergenSheet(
        to_ask=tuple(_to_ask(students, found)),
        nothing=sum(student.has_nothing and not student.told for student in students),
        packs=tuple(_packs(order, found.values())),
        stations=tuple(_stations(order, students, people)),
        head=paper_head(plan, printed_at),
        hazards=HAZARDS,
    )


def _to_ask(students: Iterable[Student], found: Mapping[PersonKey, Finding]) -> Iterator[ToAsk]:
    """Everybody except those who said that there is nothing."""
    for student in students:
        if told := _told(student):
            finding = found.get(student.key)
            read_as = finding.labels if finding and student.wrote else ()
            yield ToAsk(student.station, student.name, told, read_as)


def _told(student: Student) -> str:
    """What somebody told us, or why it is not known; empty if they said that there is nothing."""
    said = [student.told] if student.told else []
    if student.wants_privacy:
        said.append(IN_PRIVATE)
    if not said and student.is_silent:
        return NO_ANSWER if student.was_asked else NOT_SAID
    return "; ".join(said)


def _packs(order: Sequence[str], found: Iterable[Finding]) -> Iterator[PackToRead]:
    """Each ingredient that concerns somebody, in the order of the findings."""
    why: dict[str, dict[str, None]] = {}
    stations: dict[str, dict[str, None]] = {}
    for finding in found:
        for place in finding.places:
            why.setdefault(place.ingredient, {})[_why(place)] = None
            stations.setdefault(place.ingredient, {})[finding.eater.station] = None
    for ingredient, reasons in why.items():
        at = tuple(sorted(stations[ingredient], key=order.index))
        yield PackToRead(ingredient, tuple(reasons), at)


def _why(place: Occurrence) -> str:
    """Such as `sesame`, the supplier's words about traces, or that nobody can say."""
    if place.is_unknown:
        return "nothing entered: cannot say"
    return f"may contain {place.traces}" if place.traces else place.because


def _stations(
    order: Sequence[str], students: Sequence[Student], people: Mapping[PersonKey, Concerns]
) -> Iterator[StationTrace]:
    """The stations of those who told us something, or have yet to say what it is."""
    traced = [(student, people[student.key]) for student in students if student.key in people]
    for name in order:
        here = [
            (student, concerns) for student, concerns in traced if concerns.eater.station == name
        ]
        if here:
            labels = (label for _, concerns in here for label in concerns.finding.labels)
            shown = (_traced(student, concerns) for student, concerns in here)
            yield StationTrace(name, tuple(dict.fromkeys(labels)), tuple(shown))


def _traced(student: Student, concerns: Concerns) -> Traced:
    return Traced(
        student.name, _told(student), _held(concerns.finding), conflicts_in_words(concerns)
    )


def _held(finding: Finding) -> tuple[HeldIngredient, ...]:
    """The places of a finding, grouped by ingredient, the person's own bread first."""
    grouped: dict[tuple[str, str, bool], dict[str, list[str]]] = {}
    for place in finding.places:
        recipes = grouped.setdefault((place.ingredient, _why(place), place.own), {})
        recipes.setdefault(place.recipe, []).append(_part(place))
    return tuple(
        HeldIngredient(ingredient, why, tuple(_listed(recipes)), own)
        for (ingredient, why, own), recipes in grouped.items()
    )


def _part(place: Occurrence) -> str:
    """Such as `Seed topping, step 4`."""
    numbers = ", ".join(str(step.number) for step in place.steps)
    noun = "step" if len(place.steps) == 1 else "steps"
    return f"{place.component}, {noun} {numbers}" if numbers else place.component


def _listed(recipes: dict[str, list[str]]) -> Iterator[str]:
    """Such as `Pillow rolls, revision 1: Roux, step 1; Dough, step 1`."""
    for recipe, parts in recipes.items():
        yield f"{recipe}: {'; '.join(parts)}"


def _leaves(material: Material) -> Leaves:
    return only([allergen_sheet(material.plan, material.at)] if material.students else [])


KIND = PaperKind(
    "allergen-sheet",
    "Allergen sheet",
    "What people told, against every recipe, filling, topping, wash, dusting and pack.",
    DOOR,
    _leaves,
    private=True,
)
