"""The emergency card: whom to call, what to read out, and what to do until help comes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from classes.plan import ClassPlan
from handouts.kind import WALL, Leaves, Material, PaperKind, only
from handouts.paper import Paper, paper_head
from handouts.safety.first_aid import FIRST, NUMBERS_SOURCE, THEN, USUAL_NUMBERS, Emergency


@dataclass(frozen=True, slots=True)
class Instructions:
    """An emergency as it is printed: what to do, in order."""

    heading: str
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AdviceSource:
    """The source of the advice under a heading."""

    heading: str
    text: str


@dataclass(frozen=True, kw_only=True)
class EmergencyCard(Paper):
    """The card beside the telephone; what the kitchen has not entered is a line to write on."""

    template: ClassVar[str] = "handouts/emergency_card.html"
    style: ClassVar[str] = "emergency"

    number: str
    place: str
    access_facts: str
    first_aid_place: str

    @property
    def usual_numbers(self) -> str:
        """The emergency numbers of the region, to choose from if none is entered."""
        return USUAL_NUMBERS[self.head.region]

    @property
    def first(self) -> tuple[Instructions, ...]:
        """What is on the first page."""
        return self._advice(FIRST)

    @property
    def then(self) -> tuple[Instructions, ...]:
        return self._advice(THEN)

    @property
    def sources(self) -> tuple[AdviceSource, ...]:
        advice = tuple(
            AdviceSource(emergency.heading, emergency.source) for emergency in (*FIRST, *THEN)
        )
        return (
            advice if self.number else (*advice, AdviceSource("Emergency numbers", NUMBERS_SOURCE))
        )

    def _advice(self, emergencies: tuple[Emergency, ...]) -> tuple[Instructions, ...]:
        region = self.head.region
        return tuple(
            Instructions(emergency.heading, emergency.steps_in(region)) for emergency in emergencies
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
        first_aid_place=kitchen.first_aid_place,
    )


def _leaves(material: Material) -> Leaves:
    return only([emergency_card(material.plan, material.at)])


KIND = PaperKind(
    "emergency-card",
    "Emergency card",
    "Whom to call, where the first-aid box is, and what to do first.",
    WALL,
    _leaves,
)
