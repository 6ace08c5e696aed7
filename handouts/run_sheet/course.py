"""What a run sheet is made of: a plan on its clock, and the lines made from it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from classes.core.hours.advice.critical import ChainLink
from classes.core.hours.ahead.everything import AheadTask, ahead_of
from classes.core.hours.drawing.spans import INSTRUCTOR, ActivityKind
from classes.core.hours.problem.notes import EVERYBODY, Scheduled
from classes.core.hours.problem.oven_time import OvenTime, oven_times
from classes.core.hours.problem.values import TimedRecipe
from classes.core.hours.problem.work import Load, Plan
from classes.hours.plan import ClassHours
from classes.plan import ClassPlan
from handouts.paper import PaperError
from recipes.core.heat.core_temperature import Core
from wording.lists import joined


@dataclass(frozen=True, slots=True)
class Aim:
    """When a rise may end, on the clock, and by what sign; `is_told` if an earlier row has it."""

    best: str
    earliest: str
    latest: str
    sign: str = ""
    is_told: bool = False


@dataclass(frozen=True, slots=True)
class LoadLine:
    """What an oven holds: `6 of 6` of its places, `Bench 1: 4, Bench 3: 2`."""

    oven: str
    filled: str
    holds: str


@dataclass(frozen=True, slots=True)
class MixerTurn:
    """Doughs of one mass, each in a mixer: what that holds, and in how many turns."""

    held: str
    dough_g: Decimal
    turns: int
    doughs: int = 1


@dataclass(frozen=True, slots=True)
class HandLine:
    """Who does the work of a row, and in which mixer, if in one."""

    who: str
    mixer: MixerTurn | None = None


@dataclass(frozen=True, slots=True)
class Rest:
    """Where dough waits after the work of a row, and until when.

    `stands` says how full the place then is; `who` is empty if all dough of the row waits there.
    `is_told` if an earlier row says how warm that is.
    """

    what: str
    until: str
    place: str
    temperature_c: Decimal | None
    stands: str
    who: str = ""
    is_critical: bool = False
    is_told: bool = False


@dataclass(frozen=True)
class RunRow:
    """A line of the run sheet; `until` is empty for what takes nobody's time.

    `temperature_of` says in words what has the temperature, if that is unclear; `lacks_heat` marks
    a load whose recipe does not say how hot the oven is, `is_ovens` a change of an oven's heat.
    `text` is what is shown or done, empty if the sheet says it elsewhere; `wait_for` is the sign to
    wait for before the next step, `wait_at` the line that has it. `dough_c` is what the mixed dough
    should measure, `oven_time` how long bread stays in the oven, `because` why critical work does
    not start earlier. `is_told` if an earlier row has its `cores`.
    """

    starts: int
    kind: ActivityKind
    clock: str
    until: str
    what: str
    hands: tuple[HandLine, ...] = ()
    recipe: str = ""
    text: str = ""
    temperature_c: Decimal | None = None
    temperature_of: str = ""
    lacks_heat: bool = False
    rests: tuple[Rest, ...] = ()
    aims: tuple[Aim, ...] = ()
    loads: tuple[LoadLine, ...] = ()
    oven_time: OvenTime | None = None
    cores: tuple[Core, ...] = ()
    wait_for: str = ""
    wait_at: str = ""
    dough_c: Decimal | None = None
    why: str = ""
    is_ahead: bool = False
    is_ovens: bool = False
    is_critical: bool = False
    because: str = ""
    is_mark: bool = False
    is_welcome: bool = False
    is_told: bool = False

    @property
    def is_instructors(self) -> bool:
        """Whether the instructor does it alone."""
        return [line.who for line in self.hands] == [INSTRUCTOR]

    @property
    def is_decision(self) -> bool:
        """Whether the dough, and not the clock, says when it begins."""
        return any(aim.sign for aim in self.aims)

    @property
    def is_watched(self) -> bool:
        """Whether the instructor shows it."""
        return self.kind is ActivityKind.WATCH

    @property
    def comes_out(self) -> bool:
        """Whether bread comes out of the oven."""
        return self.kind is ActivityKind.COOL and bool(self.loads)


@dataclass(frozen=True)
class ClassCourse:
    """A plan and what its rows need: `label` gives the clock at a minute of the class.

    `critical` is the chain that decides when the last bread is ready, `cores` the core
    temperatures by recipe key.
    """

    scheduled: Scheduled
    plan: Plan
    label: Callable[[int], str]
    critical: tuple[ChainLink, ...]
    cores: Mapping[str, Core]

    @cached_property
    def ahead(self) -> tuple[AheadTask, ...]:
        """Everything that is done ahead for the plan, sorted by start."""
        return ahead_of(self.scheduled, self.plan)

    @cached_property
    def recipes(self) -> Mapping[str, TimedRecipe]:
        """The recipes by key."""
        return {recipe.key: recipe for recipe in self.scheduled.work.recipes}

    def everybody(self, names: Iterable[str]) -> str:
        """Names as one phrase; "everybody" if all benches and the instructor are among them."""
        found = list(dict.fromkeys(names))
        everyone = {INSTRUCTOR, *self.scheduled.work.stations}
        return EVERYBODY if everyone <= set(found) else joined(found)

    def oven_times(self, load: Load) -> tuple[tuple[str, OvenTime], ...]:
        """The breads of a load by title, each with its time in the oven."""
        times = oven_times(self.scheduled)
        titles = {key: recipe.title for key, recipe in self.recipes.items()}
        found = {titles[self.scheduled.notes[key].recipe]: times[key] for key, _ in load.pieces}
        return tuple(found.items())

    def recipes_of(self, keys: Iterable[str]) -> list[TimedRecipe]:
        """The recipes of tasks and bakings."""
        found = dict.fromkeys(self.scheduled.notes[key].recipe for key in keys)
        return [self.recipes[key] for key in found if key in self.recipes]


class NoPlan(PaperError):
    """A paper by the clock was asked for, but the hours of the class have no plan."""


def course_of(
    hours: ClassHours, cores: Mapping[str, Core], critical: tuple[ChainLink, ...] = ()
) -> ClassCourse:
    """The plan as papers show it; `critical` is the chain that decides its end. Raises NoPlan."""
    if hours.solved is None:
        raise NoPlan
    day = hours.moment(0).date
    return ClassCourse(
        scheduled=hours.scheduled,
        plan=hours.solved.plan,
        label=lambda minute: hours.moment(minute).beside(day, short=True),
        critical=critical,
        cores=cores,
    )


def cores_of(plan: ClassPlan) -> dict[str, Core]:
    """By recipe key: the recipe's own core temperature, or the range of its kind of bread."""
    return {taught.key: taught.core for taught in plan.taught if taught.core is not None}
