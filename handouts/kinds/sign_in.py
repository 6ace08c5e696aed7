"""The sign-in sheet: who came and who left, with rows for those who come unannounced.

Everybody can read it, so it has no place for what somebody must not eat, only a box that says that
they were asked.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from classes.plan import ClassPlan
from handouts.kind import DOOR, Leaves, Material, PaperKind, only
from handouts.paper import Paper, paper_head

SPARE_ROWS = 6
MOST_SPARE_ROWS = 10


@dataclass(frozen=True, slots=True)
class Guest:
    """Somebody who is expected, and the station they go to."""

    name: str
    station: str


@dataclass(frozen=True, kw_only=True)
class SignInSheet(Paper):
    """Who is expected, by name, and empty rows for walk-ins."""

    template: ClassVar[str] = "handouts/sign_in.html"
    style: ClassVar[str] = "sign-in"

    guests: tuple[Guest, ...]
    spare: int

    @property
    def spare_rows(self) -> range:
        """Empty rows for people who are not on the roster."""
        return range(self.spare)


def sign_in_sheet(plan: ClassPlan, printed_at: datetime) -> tuple[SignInSheet, ...]:
    """The sign-in sheet of a class, with names in alphabetical order. Raises NothingTaught."""
    guests = [Guest(student.name, student.station) for student in plan.students]
    free = max(0, plan.seats - len(guests))
    return (
        SignInSheet(
            head=paper_head(plan, printed_at),
            hazards=frozenset(),
            guests=tuple(sorted(guests, key=lambda guest: (guest.name.casefold(), guest.station))),
            spare=min(MOST_SPARE_ROWS, SPARE_ROWS + free),
        ),
    )


def _leaves(material: Material) -> Leaves:
    return only(sign_in_sheet(material.plan, material.at))


KIND = PaperKind(
    "sign-in",
    "Sign-in sheet",
    "Who is coming, with rows for walk-ins and the question that comes first.",
    DOOR,
    _leaves,
)
