"""What the tasks and the waits of a class's problem are to the people in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from classes.planning.hours.class_values import ClassWork, StepKind
from classes.planning.hours.rising import Rise, Window
from classes.planning.hours.work import Problem

EVERYBODY = "Everybody"

TITLES = {
    StepKind.PREPARE: "Prepare",
    StepKind.MIX: "Mix",
    StepKind.BULK: "Bulk fermentation",
    StepKind.DIVIDE: "Divide and shape",
    StepKind.REST: "Bench rest",
    StepKind.PROOF: "Proof",
    StepKind.SCORE: "Score",
    StepKind.BAKE: "Bake",
    StepKind.COOL: "Cool",
}


class Doing(StrEnum):
    """What a task is to those who do it."""

    HANDS = "hands on"
    WATCH = "watching"
    BAKE = "baking"
    BREAK = "break"


@dataclass(frozen=True, slots=True)
class Note:
    """What a task of the problem is in a class: `who` is a station's name or `EVERYBODY`."""

    title: str
    who: str
    doing: Doing
    kind: StepKind | None = None
    recipe: str = ""
    text: str = ""
    temperature_c: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Wait:
    """Dough that waits between two tasks; `rise` is there where it ferments meanwhile.

    After the last fold of a rise `window` is that of the rest, and `rise` keeps that of the whole.
    """

    title: str
    who: str
    recipe: str
    after: str
    until: str
    window: Window
    rise: Rise | None = None
    kind: StepKind | None = None


@dataclass(frozen=True)
class Scheduled:
    """The problem of a class, and what its tasks and waits are."""

    work: ClassWork
    problem: Problem
    notes: Mapping[str, Note]
    waits: tuple[Wait, ...]
