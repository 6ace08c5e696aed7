"""What the tasks and the waits of a class's problem mean to the people in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from classes.core.hours.problem.rising import RiseWindow, Window
from classes.core.hours.problem.values import ClassWork
from classes.core.hours.problem.work import Problem
from recipes.core.choices import StepKind, TemperatureOf
from recipes.core.written import WrittenStep

EVERYBODY = "Everybody"

MOMENTS = {"begin": "The beginning", "end": "The end of the wait"}


class Doing(StrEnum):
    """What a task is to those who do it; a moment takes no time and only marks a wait's end."""

    HANDS = "hands on"
    WATCH = "watching"
    BAKE = "baking"
    BREAK = "break"
    MOMENT = "moment"


@dataclass(frozen=True, slots=True)
class Note:
    """What a task of the problem is in a class: `who` is a station's name or `EVERYBODY`.

    `written_min` are the recipe's minutes that it covers; `mixes_dough` if the dough is mixed once
    it is done.
    """

    title: str
    who: str
    doing: Doing
    kind: StepKind | None = None
    recipe: str = ""
    text: str = ""
    temperature_c: Decimal | None = None
    temperature_of: TemperatureOf | None = None
    written_min: int = 0
    mixes_dough: bool = False


@dataclass(frozen=True, slots=True)
class Wait:
    """Dough that waits between two tasks; `rise` is set if it ferments while it waits.

    After the last fold of a rise `window` is that of the rest, and `rise` keeps that of the whole.
    `written_min` are the recipe's minutes that it covers.
    """

    title: str
    who: str
    recipe: str
    after: str
    until: str
    window: Window
    rise: RiseWindow | None = None
    kind: StepKind | None = None
    written_min: int = 0


@dataclass(frozen=True, slots=True)
class Unclear:
    """A step of a recipe that is unclear, in its own words."""

    recipe: str
    step: WrittenStep


@dataclass(frozen=True)
class Scheduled:
    """The problem of a class, and what its tasks and waits are.

    `brought` are the recipe's minutes, by recipe and station, of rises that brought dough has
    already had. `unclear` are temperatures that may be the dough's or the room's, if that makes a
    difference.
    """

    work: ClassWork
    problem: Problem
    notes: Mapping[str, Note]
    waits: tuple[Wait, ...]
    brought: Mapping[tuple[str, str], int] = field(default_factory=dict)
    unclear: tuple[Unclear, ...] = ()
