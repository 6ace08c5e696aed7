"""Signs for the oven door: dough is inside, or it is hot."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import Enum
from typing import ClassVar

from classes.plan import ClassPlan
from handouts.kind import WALL, Leaves, Material, PaperKind, labeled
from handouts.paper import Paper, PaperError, paper_head
from handouts.safety.values import Hazard

HAZARDS = frozenset({Hazard.OVEN})
SHORT = 8


class NoOven(PaperError):
    """Signs were asked for, but the kitchen has no oven."""

    def __init__(self) -> None:
        super().__init__("The kitchen has no oven. Enter its ovens first.")


class Warns(Enum):
    """A warning: its name, its words, what its drawing shows, and what is filled in by hand."""

    DOUGH_INSIDE = (
        "dough-inside",
        ("Dough inside", "Do not turn on"),
        "An oven with a bowl of dough in it; its knob points to off.",
        ("Since", "Out by"),
    )
    HOT = (
        "hot",
        ("Hot", "Do not touch"),
        "An oven that glows at its edges, and a mitt beside it.",
        ("On since", "Off at"),
    )

    def __init__(
        self, label: str, words: tuple[str, str], drawn: str, writes: tuple[str, str]
    ) -> None:
        self.label = label
        self.words = words
        self.drawn = drawn
        self.writes = writes


@dataclass(frozen=True, kw_only=True)
class OvenSign(Paper):
    """One page for one oven's door. It has no place for anything private."""

    template: ClassVar[str] = "handouts/oven_sign.html"
    style: ClassVar[str] = "oven-sign"

    oven: str
    warns: Warns

    @property
    def is_short(self) -> bool:
        """Whether the oven's name has room in large letters."""
        return len(self.oven) <= SHORT


def oven_signs(plan: ClassPlan, printed_at: datetime) -> tuple[OvenSign, ...]:
    """Both signs of each of the kitchen's ovens. Raises NoOven and NothingTaught."""
    head = paper_head(plan, printed_at)
    signs = tuple(
        OvenSign(head=head, hazards=HAZARDS, oven=oven.name, warns=warns)
        for oven in plan.kitchen.ovens
        for warns in Warns
    )
    if not signs:
        raise NoOven
    return signs


def _leaves(material: Material) -> Leaves:
    papers = oven_signs(material.plan, material.at)
    return labeled((f"{paper.oven}, {paper.warns.label}", paper) for paper in papers)


KIND = PaperKind(
    "oven-signs",
    "Oven signs",
    "For each oven: dough inside, and hot.",
    WALL,
    _leaves,
)
