"""One dough on its way through a class, and the problem of the class while it is being built."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from classes.core.hours.problem.keys import INSTRUCTOR, WELCOME, hands_key, key_of
from classes.core.hours.problem.notes import Note, Unclear, Wait
from classes.core.hours.problem.rising import RiseWindow, Window, rest_window
from classes.core.hours.problem.values import RISES, ClassWork, Group, TimedRecipe
from classes.core.hours.problem.work import Baking, Lag, Stay, Task, Use
from recipes.core.choices import StepKind
from recipes.core.written import WrittenStep


class ProblemDraft:
    """Tasks, bakings, stays and waits of a class, gathered in the order of the work."""

    def __init__(self, work: ClassWork) -> None:
        self.work = work
        self.tasks: list[Task] = []
        self.bakings: list[Baking] = []
        self.stays: list[Stay] = []
        self.notes: dict[str, Note] = {}
        self.waits: list[Wait] = []
        self.brought: dict[tuple[str, str], int] = {}
        self.unclear: dict[Unclear, None] = {}
        self.all_hands = (
            Use(INSTRUCTOR),
            *(Use(hands_key(station)) for station in work.stations),
        )

    def add(self, task: Task, note: Note) -> str:
        """Add a task with its note; returns its key."""
        self.tasks.append(task)
        self.notes[task.key] = note
        return task.key

    def add_baking(self, baking: Baking, note: Note) -> str:
        """Add a baking with its note; returns its key."""
        self.bakings.append(baking)
        self.notes[baking.key] = note
        return baking.key

    def bring(self, recipe: TimedRecipe, group: Group, minutes: int) -> None:
        """Note the minutes of the recipe that a brought dough has already had."""
        known = (recipe.key, group.station)
        self.brought[known] = self.brought.get(known, 0) + minutes

    def after_welcome(self) -> tuple[Lag, ...]:
        """The lags of a task that nothing precedes but the welcome."""
        return (Lag(WELCOME),) if self.work.hours.welcome_min else ()

    def weighed(self, recipe: TimedRecipe, group: Group) -> tuple[Lag, ...]:
        """The lags of a task after a station's weighing, if it weighs."""
        key = key_of("weigh", recipe, group)
        return (Lag(key),) if key in self.notes else ()


IDLE_MOST_MIN = 30
FOLD_GRACE_MIN = 15


@dataclass
class Chain:
    """The state of a dough between two tasks.

    `dough_c` is its temperature in class, and `own_c` what it would be by the recipe. `fold` is the
    last task if that was a fold, `extra` the lags that reach back beyond it; `cut` is set if from
    here on another dough is used, which the instructor brings.
    """

    recipe: TimedRecipe
    group: Group
    job: str
    is_lead: bool
    dough_c: Decimal
    own_c: Decimal
    last: str | None = None
    waiting: tuple[Window, ...] = ()
    rise: RiseWindow | None = None
    wait_title: str = ""
    wait_kind: StepKind | None = None
    wait_min: int = 0
    fold: str | None = None
    extra: tuple[Lag, ...] = ()
    cut: bool = False

    @property
    def who(self) -> str:
        """The station whose dough it is."""
        return self.group.station

    @property
    def places(self) -> int:
        """Oven and cabinet places that its pieces take."""
        return -(-self.group.pieces // self.recipe.pieces_a_place)

    @property
    def window(self) -> Window:
        """All the waiting since the last task."""
        return _sum(self.waiting)

    @property
    def least(self) -> int:
        """The least time since the last task; after a fold the whole rise decides."""
        return self.window.earliest if self.fold == self.last else self.window.target

    def wait(
        self, window: Window, step: WrittenStep, rise: RiseWindow | None = None, *, written_min: int
    ) -> None:
        """Let it wait longer, for minutes of the recipe; a rise gives the wait its name."""
        self.waiting += (window,)
        self.wait_min += written_min
        self.extra = tuple(_longer(lag, window) for lag in self.extra)
        if rise or step.kind in RISES or not self.wait_title:
            self.rise, self.wait_title, self.wait_kind = rise, step.kind.label, step.kind

    def cut_off(self) -> None:
        """Go on with another dough, for which this one's waiting does not matter."""
        self.waiting, self.wait_min, self.cut = (), 0, True

    def wait_until(self, key: str) -> Wait | None:
        """The waiting between the last task and the next, if there is any."""
        if not self.waiting or self.last is None:
            return None
        return Wait(
            self.wait_title,
            self.who,
            self.recipe.key,
            self.last,
            key,
            self.window,
            self.rise,
            self.wait_kind,
            self.wait_min,
        )

    def lags_over_fold(self, window: Window, most_min: int) -> tuple[Lag, ...]:
        """The lags that reach over a fold: the whole rise keeps its window.

        `most_min` is how long the rise may take with the fold in it.
        """
        carried = (_longer(lag, window) for lag in self.extra)
        if self.last is None:
            return tuple(carried)
        most = self.window.latest + most_min
        return (*carried, Lag(self.last, self.least + window.target, most))

    def take_lags(self) -> tuple[Lag, ...]:
        """The lags of the next task; the waiting is then reset."""
        if self.last is None:
            return ()
        if self.waiting:
            own = Lag(self.last, self.least, self.window.latest)
        else:
            own = Lag(self.last, 0, None if self.cut else IDLE_MOST_MIN)
        lags = (*self.extra, own)
        self.waiting, self.rise, self.wait_title, self.cut = (), None, "", False
        self.wait_min = 0
        self.extra, self.fold = (), None
        return lags


def _sum(windows: Sequence[Window]) -> Window:
    return Window(
        sum(window.earliest for window in windows),
        sum(window.target for window in windows),
        sum(window.latest for window in windows),
    )


def _longer(lag: Lag, window: Window) -> Lag:
    """A lag with a limit, extended by more waiting."""
    most = None if lag.most is None else lag.most + window.latest
    return Lag(lag.task, lag.least + window.target, most)


def halves(window: Window, hands_min: int) -> tuple[Window, Window]:
    """The waiting before and after a fold in the middle of a rise."""
    half = max(0, (window.target - hands_min) // 2)
    rest = max(0, window.target - half - hands_min)
    last = max(rest + window.latest - window.target, rest_window(0).latest)
    first = Window(half, half, half + FOLD_GRACE_MIN)
    return first, Window(max(0, rest - FOLD_GRACE_MIN), rest, last)
