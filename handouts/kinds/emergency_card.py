"""The emergency card: whom to call, what to read out, where things are, and what to do first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from classes.plan import ClassPlan, KitchenFacts
from handouts.kind import WALL, Leaves, Material, PaperKind, only
from handouts.paper import Paper, paper_head
from handouts.safety.first_aid import EMERGENCIES, USUAL_NUMBERS


@dataclass(frozen=True, slots=True)
class Instructions:
    """An emergency as it is printed: the first thing to do, and the rest in order."""

    heading: str
    first: str
    then: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HelpPlace:
    """Something that helps, and where it is; empty if the kitchen does not say."""

    what: str
    where: str


@dataclass(frozen=True, kw_only=True)
class EmergencyCard(Paper):
    """The card beside the telephone; what the kitchen has not entered is a line to write on."""

    template: ClassVar[str] = "handouts/emergency_card.html"
    style: ClassVar[str] = "emergency"

    number: str
    place: str
    access_facts: str
    places: tuple[HelpPlace, ...]

    @property
    def usual_numbers(self) -> str:
        """The emergency numbers of the region, to choose from if none is entered."""
        return USUAL_NUMBERS[self.head.region]

    @property
    def advice(self) -> tuple[Instructions, ...]:
        """What to do, in the wording of the region."""
        region = self.head.region
        return tuple(
            Instructions(one.heading, one.first_in(region), one.then_in(region))
            for one in EMERGENCIES
        )


def emergency_card(plan: ClassPlan, printed_at: datetime) -> EmergencyCard:
    """The card of the kitchen that a class is in. Raises NothingTaught."""
    kitchen = plan.kitchen
    return EmergencyCard(
        head=paper_head(plan, printed_at),
        hazards=frozenset(),
        number=kitchen.emergency_number,
        place=kitchen.place,
        access_facts=kitchen.access_facts,
        places=(
            first_aid_box(kitchen),
            HelpPlace("Defibrillator", kitchen.defibrillator_place),
            HelpPlace("Extinguisher, blanket", kitchen.extinguisher_place),
            HelpPlace("Main switch, gas tap", kitchen.shutoff_place),
            meeting_point(kitchen),
        ),
    )


def first_aid_box(kitchen: KitchenFacts) -> HelpPlace:
    return HelpPlace("First-aid box", kitchen.first_aid_place)


def meeting_point(kitchen: KitchenFacts) -> HelpPlace:
    return HelpPlace("Meeting point", kitchen.meeting_point)


def _leaves(material: Material) -> Leaves:
    return only([emergency_card(material.plan, material.at)])


KIND = PaperKind(
    "emergency-card",
    "Emergency card",
    "Whom to call, where things are, and what to do first.",
    WALL,
    _leaves,
    usual_pages=2,
)
