"""What has to be done before it is needed, and who has hands for it.

A task is entered as late as its need allows and moved earlier until somebody is free: a person does
one thing at a time, and the instructor is also busy in class. On the day of the class an assistant
does it, if there is one. That assistants come two hours before a class is our own default.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from classes.core.hours.drawing.spans import INSTRUCTOR
from classes.core.hours.greedy.timelines import Timeline
from classes.core.hours.problem.keys import INSTRUCTOR as INSTRUCTOR_KEY
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.values import Room
from classes.core.hours.problem.work import Plan
from recipes.core.choices import TemperatureOf
from wording import durations
from wording.figures import NBSP

ASSISTANT = "Assistant"
ASSISTANT_FROM_MIN = 120
MOMENT_MIN = 1


class Chore(StrEnum):
    """What sort of work is done ahead."""

    MAKE = "Make"
    TAKE_OUT = "Take out"
    SWITCH_ON = "Switch on"
    TURN = "Turn"
    LABEL = "Label"
    WEIGH = "Weigh"


@dataclass(frozen=True, slots=True)
class AheadTask:
    """Something to do ahead; minutes count from the start of the class, negative before it.

    It takes hands for `hands_min` from `starts` on, and is done, ripe or hot at `ready_by`.
    `recipe` is a recipe's key or empty, `who` is `INSTRUCTOR` or `ASSISTANT`, and `temperature_c`
    is where it stands or what is set, in °C; `temperature_of` names what has it if that is unclear.
    `written_min` are the minutes of the recipe's own steps that it covers, `step` the index of the
    one that prepares something. It `feeds` a starter.
    """

    key: str
    title: str
    why: str
    recipe: str
    starts: int
    hands_min: int
    ready_by: int
    who: str = ""
    text: str = ""
    temperature_c: Decimal | None = None
    temperature_of: TemperatureOf | None = None
    written_min: int = 0
    feeds: bool = False
    chore: Chore = Chore.MAKE
    step: int | None = None


class Diary:
    """Who is busy when; time runs backward in its lines, so that the latest gap comes first."""

    def __init__(self, scheduled: Scheduled, plan: Plan) -> None:
        self._lines = {INSTRUCTOR: Timeline(1)}
        if scheduled.work.assistants:
            self._lines[ASSISTANT] = Timeline(scheduled.work.assistants)
        for start, end in _in_class(scheduled, plan):
            self._lines[INSTRUCTOR].add(-end, -start, 1)

    def enter(self, task: AheadTask, *, at_home: bool = False) -> AheadTask:
        """The task with its doer, as late as they are free and no later than it says."""
        who = self._who(task.starts, at_home)
        return self._entered(task, who, self._latest(who, task.starts, task.hands_min))

    def enter_between(self, task: AheadTask, latest: int) -> AheadTask:
        """The task as soon as somebody is free, from `starts` to `latest`.

        If nobody is, it is done in passing and takes nobody's time.
        """
        who, minutes = self._who(task.starts, at_home=False), task.hands_min
        for starts in range(task.starts, latest + 1):
            if self._latest(who, starts, minutes) == starts:
                return self._entered(task, who, starts)
        return replace(task, who=who, hands_min=0)

    def _who(self, starts: int, at_home: bool) -> str:
        is_there = ASSISTANT in self._lines and starts >= -ASSISTANT_FROM_MIN
        return ASSISTANT if is_there and not at_home else INSTRUCTOR

    def _latest(self, who: str, starts: int, minutes: int) -> int:
        return -self._lines[who].next_room(-starts - minutes, minutes, 1) - minutes

    def _entered(self, task: AheadTask, who: str, starts: int) -> AheadTask:
        self._lines[who].add(-starts - task.hands_min, -starts, 1)
        return replace(task, who=who, starts=starts)


def _in_class(scheduled: Scheduled, plan: Plan) -> Iterator[tuple[int, int]]:
    """From when to when the instructor has a part in the class."""
    for task in scheduled.problem.tasks:
        slot = plan.slots[task.key]
        way = task.ways[slot.way]
        if any(use.resource == INSTRUCTOR_KEY for use in way.uses):
            yield slot.start, slot.start + way.minutes
    for baking in scheduled.problem.bakings:
        if baking.hands == INSTRUCTOR_KEY:
            for load in plan.loads_of[baking.key]:
                yield load.start, load.start + baking.hands_min


def sentences(*parts: str) -> str:
    """Joins parts, adding a full stop to each that has no end mark."""
    said = [part.strip() for part in parts if part.strip()]
    return " ".join(part if part[-1] in ".!?:" else f"{part}." for part in said)


def spelled(minutes: int) -> str:
    """A duration with plain spaces, for calendars too: `12 h`, `16 h 7 min`, `40 min`."""
    return durations.minutes(minutes).replace(NBSP, " ")


def degrees(celsius: Decimal, room: Room) -> str:
    """A temperature as the kitchen writes it, with a plain space: `20 °C`, `25.5 °C`, `68 °F`."""
    return room.writing.one_scale(celsius).replace(NBSP, " ")
